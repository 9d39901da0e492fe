/**
 * The codec against an independent open-source CAN library: the payloads, raw and physical values and re-encoded bytes which cantools gives for
 * the 32 files of its own test data. The signals are taken from the same expectations, so that this tests the codec and no parser.
 * Read in place: set CROSSLOOM_CORPUS to the corpus folder, or keep it beside the project as ../shared/corpus; else skipped, and counted.
 */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import {
  compileMessage,
  type FrameSignal,
  type NumberKind,
  overlappingPairs,
  type SignalValue,
} from '../../src/can/index.ts';
import { toNumber, toRational } from '../../src/number/index.ts';
import { bytesOf } from './timing-reference.ts';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const corpus = process.env['CROSSLOOM_CORPUS'] ?? join(root, '..', 'shared', 'corpus');
const file = join(corpus, 'dbc', 'expected.json');

type Written = number | { readonly int: string } | { readonly float: string };
interface ExpectedSignal {
  readonly name: string;
  readonly start: number;
  readonly length: number;
  readonly byte_order: 'little_endian' | 'big_endian';
  readonly signed: boolean;
  readonly is_float: boolean;
  readonly scale: number;
  readonly offset: number;
  readonly multiplexer_ids: readonly number[] | null;
  readonly multiplexer_signal: string | null;
}
interface ExpectedMessage {
  readonly name: string;
  readonly length: number;
  readonly signals: readonly ExpectedSignal[];
  readonly vectors: readonly {
    readonly data: string;
    readonly phys?: Readonly<Record<string, Written>>;
    readonly raw?: Readonly<Record<string, Written>>;
    readonly encoded?: string;
    readonly error?: string;
  }[];
}

function signalOf(one: ExpectedSignal): FrameSignal {
  let number: NumberKind = one.signed ? 'signed' : 'unsigned';
  if (one.is_float) number = one.length === 32 ? 'float32' : 'float64';
  const order = one.byte_order === 'little_endian' ? 'little' : 'big';
  return {
    name: one.name,
    field: { start: one.start, length: one.length, order },
    number,
    scaling: { factor: toRational(one.scale), offset: toRational(one.offset) },
    unit: '',
    multiplexed:
      one.multiplexer_signal === null
        ? undefined
        : {
            by: one.multiplexer_signal,
            on: (one.multiplexer_ids ?? []).map((id): readonly [bigint, bigint] => [BigInt(id), BigInt(id)]),
          },
  };
}

function numberOf(written: Written): number {
  if (typeof written === 'number') return written;
  if ('int' in written) return Number(written.int);
  return written.float === 'nan' ? NaN : written.float === 'inf' ? Infinity : -Infinity;
}

function rawOf(written: Written): bigint | number {
  if (typeof written === 'object' && 'int' in written) return BigInt(written.int);
  return numberOf(written);
}

describe.skipIf(!existsSync(file))('codec against cantools on its corpus', () => {
  const files = existsSync(file)
    ? (Object.entries(JSON.parse(readFileSync(file, 'utf8')) as Record<string, unknown>) as [
        string,
        { messages?: ExpectedMessage[]; strict_ok?: boolean },
      ][])
    : [];
  const messages = files.flatMap(([name, read]) => (read.messages ?? []).map((message) => ({ name, message })));

  it('raw values exactly, physical values to the last bit or two of a double, bytes exactly', () => {
    let decodedFrames = 0;
    let values = 0;
    let reEncoded = 0;
    let refused = 0;
    for (const { name, message } of messages) {
      const compiled = compileMessage(message.signals.map(signalOf));
      const places = new Set(message.signals.map((one) => one.name));
      for (const vector of message.vectors) {
        const bytes = bytesOf(vector.data);
        const decoded = compiled.decode(bytes);
        const where = `${name} ${message.name} ${vector.data}`;
        if (vector.raw === undefined || vector.phys === undefined) {
          // cantools refuses the whole frame. With an unknown selector, the signals that are not multiplexed remain here; with a
          // field outside the frame, those inside it; fields that overlap are all read.
          const outside = new Set(compiled.outsideOf(bytes.length));
          const overlaps = overlappingPairs(message.signals.map((one) => signalOf(one).field)).length;
          const misplaced =
            outside.size > 0 || (overlaps > 0 && compiled.signals.every((one) => one.multiplexed === undefined));
          expect(vector.error, where).toMatch(misplaced ? /unpacking failed/ : /multiplexer id/);
          for (const one of message.signals) {
            if (one.multiplexer_signal !== null) continue;
            const there = decoded.some((signal) => signal.name === one.name);
            expect(there, `${where} ${one.name}`).toBe(!outside.has(one.name));
          }
          refused += 1;
          continue;
        }
        decodedFrames += 1;
        expect(places.size).toBe(message.signals.length);
        expect(new Set(decoded.map((signal) => signal.name)), where).toEqual(new Set(Object.keys(vector.raw)));
        for (const signal of decoded) {
          const raw = rawOf(vector.raw[signal.name]!);
          // "=" between bigint and number is by value; NaN equals NaN.
          expect(String(signal.raw), `${where} ${signal.name}`).toBe(String(Object.is(raw, -0) ? 0 : raw));
          const physical = numberOf(vector.phys[signal.name]!);
          const ours = typeof signal.value === 'number' ? signal.value : toNumber(signal.value);
          // cantools multiplies and adds in doubles: two roundings, relative to the larger term. Ours is exact and rounded once.
          if (Number.isFinite(physical)) {
            const scale = Math.max(Math.abs(physical), Math.abs(Number(raw)) * 2 ** -1);
            expect(Math.abs(ours - physical), `${where} ${signal.name}`).toBeLessThanOrEqual(4 * 2 ** -52 * scale);
          } else expect(Object.is(ours, physical), `${where} ${signal.name}`).toBe(true);
          values += 1;
        }
        const back = new Map<string, SignalValue>(
          decoded.map((signal): [string, SignalValue] => {
            if (typeof signal.value !== 'number') return [signal.name, { kind: 'physical', value: signal.value }];
            return [signal.name, { kind: 'raw', raw: signal.raw }];
          }),
        );
        const encoded = compiled.encode(back, new Uint8Array(bytes.length));
        expect(encoded.faults, where).toEqual([]);
        expect(Buffer.from(encoded.bytes).toString('hex'), where).toBe(vector.encoded);
        reEncoded += 1;
      }
    }
    expect({ decodedFrames, reEncoded, refused }).toEqual({
      decodedFrames: 6074,
      reEncoded: 6074,
      refused: 86,
    });
    expect(values).toBeGreaterThan(10_000);
  });
});
