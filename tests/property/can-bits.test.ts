/** Bit fields: encode∘decode for lengths 1–64, both orders, signed and not; the compiled path equals the reference path. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BitField,
  type IntegerKind,
  compileField,
  extractRaw,
  fieldFromLeastSignificantBit,
  fitsIn,
  fromSequential,
  insertRaw,
  leastSignificantBit,
  mostSignificantBit,
  neededBytes,
  occupiedBits,
  overlap,
  overlappingPairs,
  rawRange,
  toSequential,
  toSigned,
} from '../../src/can/index.ts';

/**
 * The bits of a field, most significant first, as DBC bit numbers, walked one at a time: down the sawtooth for `big`, up for
 * `little`. Written apart from the code under test, from the definition in the reference page on DBC files.
 */
function walk({ start, length, order }: BitField): number[] {
  const bits: number[] = [];
  let bit = start;
  for (let i = 0; i < length; i += 1) {
    bits.push(bit);
    if (order === 'little') bit += 1;
    else bit = bit % 8 === 0 ? bit + 15 : bit - 1;
  }
  return order === 'little' ? bits.reverse() : bits;
}

function readByWalking(bytes: Uint8Array, field: BitField): bigint {
  let raw = 0n;
  for (const bit of walk(field)) raw = (raw << 1n) | BigInt((bytes[bit >> 3]! >> (bit & 7)) & 1);
  return raw;
}

const order = fc.constantFrom('little' as const, 'big' as const);
const kind = fc.constantFrom<IntegerKind>('unsigned', 'signed');

/** A field that lies within 64 bytes, and a payload long enough for it. */
const placed = fc
  .record({ start: fc.integer({ min: 0, max: 511 }), length: fc.integer({ min: 1, max: 64 }), order })
  .filter((field) => fitsIn(field, 64))
  .chain((field) =>
    fc.record({
      field: fc.constant<BitField>(field),
      bytes: fc.uint8Array({ minLength: neededBytes(field), maxLength: 64 }),
    }),
  );

/** Bit patterns where carries and signs go wrong, beside random ones. */
function rawOfLength(length: number): fc.Arbitrary<bigint> {
  const span = 1n << BigInt(length);
  return fc.oneof(
    fc.bigInt({ min: 0n, max: span - 1n }),
    fc.constantFrom(0n, 1n, span - 1n, span >> 1n, (span >> 1n) - (span > 1n ? 1n : 0n)),
  );
}

describe('bit fields', () => {
  it('read what a walk over the single bits reads', () => {
    fc.assert(
      fc.property(placed, ({ field, bytes }) => {
        expect(extractRaw(bytes, field)).toBe(readByWalking(bytes, field));
      }),
      { numRuns: 2000 },
    );
  });

  it('occupy the bits of that walk, and need the bytes it touches', () => {
    fc.assert(
      fc.property(placed, ({ field }) => {
        const bits = walk(field);
        let mask = 0n;
        for (const bit of bits) mask |= 1n << BigInt(bit);
        expect(occupiedBits(field)).toBe(mask);
        expect(neededBytes(field)).toBe(Math.max(...bits.map((bit) => bit >> 3)) + 1);
        expect(mostSignificantBit(field)).toBe(bits[0]);
        expect(leastSignificantBit(field)).toBe(bits.at(-1));
        expect(fieldFromLeastSignificantBit(bits.at(-1)!, field.length, field.order)).toEqual(field);
      }),
    );
  });

  it('every length 1–64, order and sign: what is written is read back, and no other bit changes', () => {
    for (let length = 1; length <= 64; length += 1) {
      for (const byteOrder of ['little', 'big'] as const) {
        for (const sign of ['unsigned', 'signed'] as const) {
          const at = fc.record({ start: fc.integer({ min: 0, max: 127 }), raw: rawOfLength(length) });
          fc.assert(
            fc.property(at, fc.uint8Array({ minLength: 32, maxLength: 32 }), ({ start, raw }, before) => {
              const field: BitField = { start, length, order: byteOrder };
              const value = sign === 'signed' ? toSigned(raw, length) : raw;
              const reference = Uint8Array.from(before);
              insertRaw(reference, field, value);
              expect(extractRaw(reference, field)).toBe(raw);
              const others = new Set(walk(field));
              const bitAt = (bytes: Uint8Array, bit: number): number => (bytes[bit >> 3]! >> (bit & 7)) & 1;
              const changed = Array.from({ length: 256 }, (_, bit) => bit).filter(
                (bit) => !others.has(bit) && bitAt(reference, bit) !== bitAt(before, bit),
              );
              expect(changed).toEqual([]);
              const compiled = compileField(field, sign);
              const fast = Uint8Array.from(before);
              compiled.write(fast, compiled.carries === 'bigint' ? value : Number(value));
              expect(fast).toEqual(reference);
              expect(BigInt(compiled.read(fast))).toBe(value);
              expect(compiled.carries).toBe(length <= 53 ? 'number' : 'bigint');
            }),
            { numRuns: 6 },
          );
        }
      }
    }
  });

  it('compiled reading = reference reading, signed and unsigned', () => {
    fc.assert(
      fc.property(placed, kind, ({ field, bytes }, sign) => {
        const bits = extractRaw(bytes, field);
        const expected = sign === 'signed' ? toSigned(bits, field.length) : bits;
        const read = compileField(field, sign).read(bytes);
        expect(typeof read).toBe(field.length <= 53 ? 'number' : 'bigint');
        expect(BigInt(read)).toBe(expected);
        const range = rawRange(sign, field.length);
        expect(expected >= range.lo && expected <= range.hi).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });

  it('compiled writing takes any integer modulo 2^length', () => {
    const value = fc.oneof(fc.maxSafeInteger(), fc.bigInt({ min: -(2n ** 70n), max: 2n ** 70n }));
    fc.assert(
      fc.property(placed, value, kind, ({ field, bytes }, written, sign) => {
        compileField(field, sign).write(bytes, written);
        expect(readByWalking(bytes, field)).toBe(BigInt.asUintN(field.length, BigInt(written)));
      }),
      { numRuns: 2000 },
    );
  });

  it('floats keep every finite number, at any bit position', () => {
    const place = fc.record({ start: fc.integer({ min: 0, max: 60 }), order });
    fc.assert(
      fc.property(place, fc.float({ noNaN: true }), fc.double({ noNaN: true }), (at, single, double) => {
        const bytes = new Uint8Array(32);
        const narrow = compileField({ ...at, length: 32 }, 'float32');
        narrow.write(bytes, single);
        expect(narrow.read(bytes)).toBe(single);
        const wide = compileField({ ...at, length: 64 }, 'float64');
        wide.write(bytes, double);
        expect(wide.read(bytes)).toBe(double);
        const view = new DataView(new ArrayBuffer(8));
        view.setFloat64(0, double);
        expect(extractRaw(bytes, { ...at, length: 64 })).toBe(view.getBigUint64(0));
      }),
    );
  });

  it('overlap is sharing a bit; the list of pairs is the list of all pairs that do', () => {
    const field = fc.record({ start: fc.integer({ min: 0, max: 63 }), length: fc.integer({ min: 1, max: 16 }), order });
    fc.assert(
      fc.property(fc.array(field, { maxLength: 12 }), (fields) => {
        const expected: [number, number][] = [];
        fields.forEach((a, i) =>
          fields.forEach((b, j) => {
            const shared = walk(a).filter((bit) => walk(b).includes(bit)).length;
            if (i < j) {
              expect(overlap(a, b)).toBe(shared > 0);
              if (shared > 0) expected.push([i, j]);
            }
          }),
        );
        expect(overlappingPairs(fields).map(({ first, second }) => [first, second])).toEqual(expected);
      }),
    );
  });

  it('sequential numbering is its own inverse and makes big-endian fields plain runs', () => {
    fc.assert(
      fc.property(placed, ({ field }) => {
        const big: BitField = { ...field, order: 'big' };
        const run = walk(big).map(toSequential);
        run.forEach((bit, index) => expect(bit).toBe(run[0]! + index));
        for (const bit of walk(big)) expect(fromSequential(toSequential(bit))).toBe(bit);
      }),
    );
  });
});
