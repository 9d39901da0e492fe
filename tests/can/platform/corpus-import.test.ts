import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { codecOf, contentOfDbc, dbcOfPlatform, mergeImport, readDbc, writeDbc } from '../../../src/can/index.ts';
import { readPlatform, sha256Hex, writePlatform, type Platform } from '../../../src/model/index.ts';
import { toNumber } from '../../../src/number/index.ts';

// The open DBC corpus beside the project (test data of a general-purpose CAN library, MIT licence), read in place.
const folder = resolve(import.meta.dirname, '../../../../shared/corpus/dbc');
const files = existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith('.dbc')) : [];

interface Expected {
  readonly messages?: readonly {
    readonly name: string;
    readonly id: number;
    readonly extended: boolean;
    readonly length: number;
    readonly signals: readonly { readonly name: string }[];
    readonly vectors: readonly {
      readonly data: string;
      readonly phys?: Readonly<Record<string, unknown>>;
      readonly error?: string;
    }[];
  }[];
}

const empty: Platform = {
  format: 'crossloom-platform',
  version: 1,
  id: 'corpus',
  title: 'Corpus',
  buses: [{ id: 'bus', kind: 'can', bitRate: 500000 }],
  modules: [],
  messages: [],
  wires: [],
  connectors: [],
  feeds: [],
  grounds: [],
};

function importOf(file: string, into = empty): { platform: Platform; changes: number } {
  const bytes = new Uint8Array(readFileSync(join(folder, file)));
  const { database } = readDbc(bytes);
  const record = { bus: 'bus', file, sha256: sha256Hex(bytes), on: '2026-01-31' };
  const { platform, changes } = mergeImport(into, contentOfDbc(database, 'bus'), { record, gone: 'keep' });
  return { platform, changes: changes.length };
}

function number(value: unknown): number {
  if (typeof value === 'number') return value;
  const { int, float } = value as { int?: string; float?: string };
  if (int !== undefined) return Number(int);
  return { nan: NaN, inf: Infinity, '-inf': -Infinity }[float!]!;
}

describe.skipIf(files.length === 0)('the corpus as platforms', () => {
  const expected =
    files.length > 0
      ? (JSON.parse(readFileSync(join(folder, 'expected.json'), 'utf8')) as Record<string, Expected>)
      : {};

  it('has 32 files', () => expect(files).toHaveLength(32));

  it.each(files)('%s becomes a valid platform, and again the same', (file) => {
    const { platform } = importOf(file);
    const text = writePlatform(platform);
    const read = readPlatform(text);
    expect(read.ok ? [] : read.faults).toEqual([]);
    const again = importOf(file, platform);
    expect(again.changes).toBe(0);
    expect(writePlatform(again.platform)).toBe(text);
  });

  it.each(files)('%s decodes to the expected physical values through the platform', (file) => {
    const { platform } = importOf(file);
    let compared = 0;
    for (const message of expected[file]?.messages ?? []) {
      const format = message.extended ? 'extended' : 'standard';
      const found = platform.messages.find(
        ({ frameId, idFormat }) => Number(frameId) === message.id && idFormat === format,
      );
      expect(found, message.name).toBeDefined();
      expect(found!.signals).toHaveLength(message.signals.length);
      const codec = codecOf(found!);
      for (const { data, phys, error } of message.vectors) {
        if (error !== undefined || phys === undefined) continue;
        const decoded = new Map(
          codec.decode(Uint8Array.from(Buffer.from(data, 'hex'))).map((signal) => [signal.name, signal.value]),
        );
        for (const [name, value] of Object.entries(phys)) {
          const id = name.replace(/[^A-Za-z0-9_+/-]/g, '_');
          const got = decoded.get(id);
          expect(got, `${message.name}.${name} in ${data}`).toBeDefined();
          const want = number(value);
          const have = typeof got === 'number' ? got : toNumber(got!);
          if (Number.isNaN(want)) expect(have).toBeNaN();
          else if (!Number.isFinite(want)) expect(have).toBe(want);
          // The expectation was computed in doubles: two roundings apart at the most.
          else expect(Math.abs(have - want)).toBeLessThanOrEqual(Math.abs(want) * 4e-16 + 1e-12);
          compared += 1;
        }
      }
    }
    const vectors = (expected[file]?.messages ?? []).some(
      ({ vectors: list, signals }) => signals.length > 0 && list.some(({ error }) => error === undefined),
    );
    if (vectors) expect(compared).toBeGreaterThan(0);
  });

  it.each(files)('%s survives platform → DBC → platform', (file) => {
    const { platform } = importOf(file);
    const { database, faults } = readDbc(writeDbc(dbcOfPlatform(platform, 'bus')));
    // Two files of the corpus hold fields that overlap or leave the frame: these faults stay, as they should.
    const own = ['signals-overlap', 'signal-outside-frame'];
    expect(faults.filter(({ severity, code }) => severity === 'error' && !own.includes(code))).toEqual([]);
    const back = contentOfDbc(database, 'bus').messages;
    const plain = (messages: readonly Platform['messages'][number][]): unknown =>
      messages.map(({ signals, ...message }) => ({
        ...message,
        comment: undefined,
        signals: signals.map((signal) => ({ ...signal, comment: undefined, unitAsWritten: undefined })),
      }));
    expect(JSON.parse(JSON.stringify(plain(back)))).toEqual(JSON.parse(JSON.stringify(plain(platform.messages))));
  });
});
