import { decodeDbcBytes } from '../encodings.ts';
import type { DbcEncoding } from '../encodings.ts';
import { lineCounter, locateFaults } from '../faults.ts';
import type { DbcFault } from '../faults.ts';
import { INDEPENDENT_SIGNALS_ID } from '../keywords.ts';
import { createDatabase } from '../create.ts';
import type { DbcDatabase, DbcKeptStatement, DbcMessage, DbcSignal } from '../model.ts';
import { checkDatabase } from './checks.ts';
import { readStatements } from './reader.ts';
import { createReading, report } from './reading.ts';
import type { Reading } from './reading.ts';

export interface ReadDbcOptions {
  /** Longest file that is read at all; default 256 MiB (characters, when given as text). */
  readonly maxBytes?: number;
  /** Faults that are listed; the others are only counted. Default 1000. */
  readonly maxFaults?: number;
  /** Nodes, messages, signals, states, attribute values and so on that are held at most; default 4 million. */
  readonly maxParts?: number;
  /** Takes the bytes as this encoding instead of finding out. */
  readonly encoding?: DbcEncoding;
  /** Called now and then with the part of the file that is read, 0 to 1. */
  readonly onProgress?: (fraction: number) => void;
  /** Asked now and then; reading ends early, with a fault, once it answers true. */
  readonly isCancelled?: () => boolean;
}

export interface DbcPlace {
  /** 1-based. */
  readonly line: number;
  /** 1-based, in UTF-16 code units. */
  readonly column: number;
}

export interface ReadDbcResult {
  readonly database: DbcDatabase;
  /** In the order of the file. */
  readonly faults: readonly DbcFault[];
  /** Faults that were found but are not listed. */
  readonly moreFaults: number;
  /** Encoding of the bytes; `null` when text was given. */
  readonly encoding: DbcEncoding | null;
  /** The line end that the file uses (the first one in it). */
  readonly lineEnd: '\n' | '\r\n';
  /** Where the name of a message, or of a signal of it, stands in the file; `null` when they are not from this result. */
  readonly placeOf: (message: DbcMessage, signal?: DbcSignal) => DbcPlace | null;
}

const DEFAULT_MAX_BYTES = 256 * 1024 * 1024;
const DEFAULT_MAX_FAULTS = 1000;
const DEFAULT_MAX_PARTS = 4_000_000;

/**
 * Reads a DBC file. Never throws for what the file holds: each statement that can be read is read, every other is kept and reported with
 * its place. Takes time in proportion to the length of the file, whatever is in it.
 */
export function readDbc(input: string | Uint8Array, options: ReadDbcOptions = {}): ReadDbcResult {
  const maxBytes = options.maxBytes ?? DEFAULT_MAX_BYTES;
  if (input.length > maxBytes) return refused(input.length, maxBytes);
  const decoded = typeof input === 'string' ? null : decodeDbcBytes(input, options.encoding);
  const text = decoded === null ? (input as string) : decoded.text;
  const r = createReading(text, {
    maxFaults: options.maxFaults ?? DEFAULT_MAX_FAULTS,
    maxParts: options.maxParts ?? DEFAULT_MAX_PARTS,
  });
  if (decoded?.broken === true) report(r, 'encoding-broken', 0, decoded.encoding);
  readStatements(r, options);
  checkDatabase(r, isIndependent);
  options.onProgress?.(1);
  return {
    database: databaseOf(r),
    faults: locateFaults(text, withRemainder(r)),
    moreFaults: r.faultCount - r.faults.length,
    encoding: decoded?.encoding ?? null,
    lineEnd: lineEndOf(text),
    placeOf: placeFinder(r),
  };
}

function refused(length: number, maxBytes: number): ReadDbcResult {
  const faults = locateFaults('', [{ code: 'too-large', offset: 0, details: [String(length), String(maxBytes)] }]);
  return { database: createDatabase(), faults, moreFaults: 0, encoding: null, lineEnd: '\n', placeOf: () => null };
}

/** The pseudo message that holds the signals of no message. */
function isIndependent(message: DbcMessage): boolean {
  return message.id === INDEPENDENT_SIGNALS_ID;
}

function databaseOf(r: Reading): DbcDatabase {
  const messages: DbcMessage[] = [];
  const independentSignals: DbcMessage[] = [];
  for (const { message } of r.entries) (isIndependent(message) ? independentSignals : messages).push(message);
  // Sorted, so that the order does not depend on which statement overrode which first.
  const superseded = r.superseded.sort().map((text): DbcKeptStatement => ({ reason: 'superseded', text }));
  return {
    version: r.version ?? '',
    newSymbols: r.newSymbols,
    bitTiming: r.bitTiming ?? '',
    nodes: r.nodes,
    valueTables: r.valueTables,
    messages,
    independentSignals,
    environmentVariables: r.environmentVariables,
    comment: r.comment,
    attributes: r.attributes,
    attributeDefinitions: [...r.definitions.values()],
    relationAttributes: r.relationAttributes,
    kept: [...superseded, ...r.kept],
    remarks: r.remarks,
    unread: r.unread,
  };
}

function withRemainder(r: Reading): Reading['faults'] {
  const more = r.faultCount - r.faults.length;
  if (more === 0) return r.faults;
  const last = r.faults.reduce((offset, fault) => Math.max(offset, fault.offset), 0);
  return [...r.faults, { code: 'more-faults', offset: last, details: [String(more)] }];
}

function lineEndOf(text: string): '\n' | '\r\n' {
  const at = text.indexOf('\n');
  return at > 0 && text.charCodeAt(at - 1) === 0x0d ? '\r\n' : '\n';
}

function placeFinder(r: Reading): ReadDbcResult['placeOf'] {
  let places: Map<DbcMessage, { readonly entry: Reading['entries'][number] }> | null = null;
  let lineStarts: number[] | null = null;
  return (message, signal) => {
    places ??= new Map(r.entries.map((entry) => [entry.message, { entry }]));
    const entry = places.get(message)?.entry;
    if (entry === undefined) return null;
    const index = signal === undefined ? -1 : message.signals.indexOf(signal);
    if (signal !== undefined && index < 0) return null;
    const offset = index < 0 ? entry.offset : (entry.signalOffsets[index] as number);
    lineStarts ??= partOffsets(r);
    return placeAt(r, lineStarts, offset);
  };
}

/** Offsets of all messages and signals, rising, each followed by its line and column: one pass over the text for all. */
function partOffsets(r: Reading): number[] {
  const offsets = r.entries.flatMap((entry) => [entry.offset, ...entry.signalOffsets]).sort((a, b) => a - b);
  const locate = lineCounter(r.text);
  return offsets.flatMap((offset) => {
    const { line, column } = locate(offset);
    return [offset, line, column];
  });
}

function placeAt(r: Reading, table: readonly number[], offset: number): DbcPlace | null {
  let low = 0;
  let high = table.length / 3;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((table[3 * middle] as number) < offset) low = middle + 1;
    else high = middle;
  }
  if (table[3 * low] !== offset || r.end < offset) return null;
  return { line: table[3 * low + 1] as number, column: table[3 * low + 2] as number };
}
