import type { z } from 'zod';
import { CrossloomMap, MAP_FORMAT, MAP_VERSION } from './document/map.ts';
import { PLATFORM_FORMAT, PLATFORM_VERSION, Platform } from './document/platform.ts';
import { checkMapIntegrity, checkPlatformIntegrity, type IntegrityFault } from './integrity.ts';
import { locatePaths, syntaxFaults, keysInText, repeatedKeys, type Place } from './locate.ts';
import { keysIfSurelyFits } from './fast-check.ts';
import { MAX_FAULTS, type DocumentFault, type DocumentPath } from './document-fault.ts';
import { faultsOfIssues } from './schema-faults.ts';

/** Documents above this many characters are refused before they are parsed. */
export const MAX_DOCUMENT_CHARACTERS = 256 * 1024 * 1024;
export type ReadResult<T> =
  | { readonly ok: true; readonly document: T; readonly notes: readonly string[] }
  | { readonly ok: false; readonly faults: readonly DocumentFault[] };

interface Kind<T> {
  readonly format: string;
  readonly version: number;
  readonly word: string;
  readonly schema: z.ZodType<T>;
  readonly integrity: (document: T) => readonly IntegrityFault[];
}

const platformKind: Kind<Platform> = {
  format: PLATFORM_FORMAT,
  version: PLATFORM_VERSION,
  word: 'platform',
  schema: Platform,
  integrity: checkPlatformIntegrity,
};

const mapKind: Kind<CrossloomMap> = {
  format: MAP_FORMAT,
  version: MAP_VERSION,
  word: 'map',
  schema: CrossloomMap,
  integrity: checkMapIntegrity,
};

/** Reads a platform document; every fault with its place, never only the first. */
export function readPlatform(text: string): ReadResult<Platform> {
  return read(text, platformKind);
}

/** Reads a map document; every fault with its place, never only the first. */
export function readMap(text: string): ReadResult<CrossloomMap> {
  return read(text, mapKind);
}

function read<T>(text: string, kind: Kind<T>): ReadResult<T> {
  if (text.length > MAX_DOCUMENT_CHARACTERS) {
    return refused(
      `the file has ${text.length} characters; at most ${MAX_DOCUMENT_CHARACTERS} are read`,
      'check that it is a Crossloom document',
    );
  }
  const body = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  let value: unknown;
  try {
    value = JSON.parse(body);
  } catch {
    return { ok: false, faults: syntaxFaults(body, MAX_FAULTS) };
  }
  const wrong = wrongKind(value, kind);
  if (wrong) return located(body, [wrong]);
  const keys = keysIfSurelyFits(kind.schema, value);
  if (keys === null) {
    const parsed = kind.schema.safeParse(value);
    const faults = parsed.success ? prototypeKeys(value, []) : faultsOfIssues(parsed.error.issues, value);
    if (faults.length > 0) return located(body, faults);
  }
  const document = value as T;
  const faults = kind.integrity(document);
  if (faults.length > 0) return located(body, faults);
  if (keys === null || keys !== keysInText(body)) {
    const repeated = repeatedKeys(body, MAX_FAULTS);
    if (repeated.length > 0) return { ok: false, faults: repeated };
  }
  return { ok: true, document, notes: [] };
}

/** zod passes over `__proto__` in a record without a word; nothing may be lost, so it is a fault. */
function prototypeKeys(value: unknown, path: readonly (string | number)[]): IntegrityFault[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.keys(value).flatMap((key) => {
    const here = [...path, Array.isArray(value) ? Number(key) : key];
    if (key === '__proto__') {
      return [{ path: here, atKey: true, message: 'the key "__proto__" is reserved', mend: 'rename the key' }];
    }
    return prototypeKeys((value as Record<string, unknown>)[key], here);
  });
}

function refused(message: string, mend: string): { ok: false; faults: DocumentFault[] } {
  return { ok: false, faults: [{ line: 1, column: 1, path: [], message, mend }] };
}

function wrongKind<T>(value: unknown, kind: Kind<T>): IntegrityFault | null {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    return {
      path: [],
      message: `this is not a ${kind.word}: the document must be an object`,
      mend: `begin with { "format": "${kind.format}", "version": ${kind.version}, … }`,
    };
  }
  const { format, version } = value as { format?: unknown; version?: unknown };
  if (format !== kind.format) {
    const named = typeof format === 'string' ? `its format is "${format.slice(0, 60)}"` : 'it names no format';
    return {
      path: typeof format === 'string' ? ['format'] : [],
      message: `this is not a ${kind.word}: ${named}, expected "${kind.format}"`,
      mend: `open a ${kind.word} document, or set "format": "${kind.format}"`,
    };
  }
  if (typeof version === 'number' && version > kind.version) {
    return {
      path: ['version'],
      message: `this ${kind.word} has format version ${version}; this program reads up to version ${kind.version}`,
      mend: 'open it with a newer Crossloom; nothing was changed',
    };
  }
  return null;
}

function located(text: string, faults: readonly IntegrityFault[]): { ok: false; faults: DocumentFault[] } {
  const shown = faults.slice(0, MAX_FAULTS);
  const places: readonly Place[] = locatePaths(
    text,
    shown.map(({ path }) => path),
    shown.map(({ atKey }) => atKey === true),
  );
  const located: DocumentFault[] = shown.map((fault, index) => ({
    ...places[index]!,
    path: fault.path,
    message: fault.message,
    mend: fault.mend,
  }));
  located.sort((a, b) => a.line - b.line || a.column - b.column);
  if (faults.length > shown.length) {
    located.push({
      line: 1,
      column: 1,
      path: [],
      message: `and ${faults.length - shown.length} more faults`,
      mend: 'mend these first',
    });
  }
  return { ok: false, faults: located };
}

/** `buses[0].bitRate` for people. */
export function pathText(path: DocumentPath): string {
  return path.map((part, index) => (typeof part === 'number' ? `[${part}]` : index === 0 ? part : `.${part}`)).join('');
}
