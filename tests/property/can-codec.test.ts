/** Raw ↔ physical ↔ bytes, candump logs and checksums: what is written is read back. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Affine, abs, compare, mul, rational, sub, toNumber } from '../../src/number/index.ts';
import { parseCarefully } from '../../src/can/formats/candump/parse.ts';
import { quickLine } from '../../src/can/formats/candump/quick.ts';
import {
  CHECKSUM_ALGORITHMS,
  type CandumpFrame,
  FD_LENGTHS,
  applyChecksum,
  candumpReader,
  checksumWidth,
  compileMessage,
  type FrameSignal,
  floatRawOf,
  formatCandumpFrame,
  parseCandumpLine,
  physicalOf,
  rationalOfDouble,
  rawOf,
  rawRange,
  verifyChecksum,
} from '../../src/can/index.ts';

const fraction = fc
  .record({ num: fc.bigInt({ min: -(10n ** 9n), max: 10n ** 9n }), den: fc.bigInt({ min: 1n, max: 10n ** 6n }) })
  .map(({ num, den }) => rational(num, den));
const scaling = fc
  .record({ factor: fraction, offset: fraction })
  .filter(({ factor }) => factor.num !== 0n) as fc.Arbitrary<Affine>;
const kind = fc.constantFrom('unsigned' as const, 'signed' as const);

describe('raw ↔ physical', () => {
  it('every raw value comes back from its physical value, exactly, up to 64 bits', () => {
    const any = fc.record({ sign: kind, length: fc.integer({ min: 1, max: 64 }), affine: scaling }).chain((one) => {
      const { lo, hi } = rawRange(one.sign, one.length);
      return fc.record({ one: fc.constant(one), raw: fc.bigInt({ min: lo, max: hi }) });
    });
    fc.assert(
      fc.property(any, ({ one, raw }) => {
        const back = rawOf(physicalOf(raw, one.affine), one.affine, one.sign, one.length);
        expect(back.raw).toBe(raw);
        expect(back.clipped).toBe('none');
        expect(back.error.num).toBe(0n);
      }),
      { numRuns: 1000 },
    );
  });

  it('the error is at most half a step, and exactly what it says; beyond the ends the end is taken', () => {
    fc.assert(
      fc.property(fraction, scaling, kind, fc.integer({ min: 1, max: 64 }), (wanted, affine, sign, length) => {
        const result = rawOf(wanted, affine, sign, length);
        const { lo, hi } = rawRange(sign, length);
        expect(sub(physicalOf(result.raw, affine), wanted)).toEqual(result.error);
        expect(result.raw >= lo && result.raw <= hi).toBe(true);
        if (result.clipped === 'none') {
          expect(compare(abs(result.error), mul(abs(affine.factor), rational(1, 2)))).toBeLessThanOrEqual(0);
        } else expect(result.raw).toBe(result.clipped === 'low' ? lo : hi);
      }),
      { numRuns: 1000 },
    );
  });

  it('a 32-bit float is the nearest one: neither neighbour is nearer', () => {
    const bits = new DataView(new ArrayBuffer(4));
    const step = (value: number, by: number): number => {
      bits.setFloat32(0, value);
      bits.setInt32(0, bits.getInt32(0) + by);
      return bits.getFloat32(0);
    };
    const one: Affine = { factor: rational(1), offset: rational(0) };
    // Half-way between two floats, moved by far less than a double can tell: where rounding twice goes wrong.
    const tiny = rational(1n, 10n ** 40n);
    const halfWay = fc
      .float({ min: Math.fround(0.1), max: 1000, noNaN: true })
      .chain((value) => fc.constantFrom(-1n, 0n, 1n).map((side) => ({ value, side })))
      .map(({ value, side }) => {
        const middle = mul(
          rational(1, 2),
          sub(rationalOfDouble(value), mul(rational(-1), rationalOfDouble(step(value, 1)))),
        );
        return sub(middle, mul(rational(side), tiny));
      });
    fc.assert(
      fc.property(fc.oneof(fraction, halfWay), (wanted) => {
        const { raw } = floatRawOf(wanted, one, 'float32');
        expect(Math.fround(raw)).toBe(raw);
        if (raw === 0) return;
        const off = abs(sub(rationalOfDouble(raw), wanted));
        for (const by of [-1, 1]) {
          expect(compare(off, abs(sub(rationalOfDouble(step(raw, by)), wanted)))).toBeLessThanOrEqual(0);
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('the exact value of a double rounds back to it', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(toNumber(rationalOfDouble(value))).toBe(value === 0 ? 0 : value);
      }),
    );
  });
});

describe('messages', () => {
  it('decode∘encode is the identity on raw values of fields side by side', () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 64 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(lengths, kind, fc.uint8Array({ minLength: 64, maxLength: 64 }), (sizes, sign, bytes) => {
        let start = 0;
        const signals = sizes.map((length, index): FrameSignal => {
          const field = { start, length, order: 'little' as const };
          start += length;
          const affine = { factor: rational(1, 4), offset: rational(-40) };
          return { name: `s${index}`, field, number: sign, scaling: affine, unit: '1' };
        });
        const message = compileMessage(signals);
        const decoded = message.decode(bytes);
        expect(decoded.length).toBe(sizes.length);
        const asRaw = new Map(decoded.map(({ name, raw }) => [name, { kind: 'raw' as const, raw }]));
        const fromRaw = message.encode(asRaw, new Uint8Array(64));
        expect(fromRaw.faults).toEqual([]);
        expect(message.decode(fromRaw.bytes)).toEqual(decoded);
        const asPhysical = new Map(
          decoded.map(({ name, value }) => {
            if (typeof value === 'number') throw new Error('integer signals decode to rationals');
            return [name, { kind: 'physical' as const, value }];
          }),
        );
        expect(message.encode(asPhysical, new Uint8Array(64)).bytes).toEqual(fromRaw.bytes);
      }),
    );
  });
});

const seen = {
  timeUs: fc.oneof(fc.constant(null), fc.integer({ min: 0, max: 2 ** 52 })),
  interfaceName: fc.constantFrom('can0', 'vcan1', 'slcan12', 'a-b.c'),
  direction: fc.constantFrom('received' as const, 'sent' as const, null),
};
const id = fc.oneof(
  fc.integer({ min: 0, max: 0x7ff }).map((frameId) => ({ frameId, idFormat: 'standard' as const })),
  fc.integer({ min: 0, max: 0x1fffffff }).map((frameId) => ({ frameId, idFormat: 'extended' as const })),
);
const classicBytes = fc.uint8Array({ maxLength: 8 });
const fdBytes = fc
  .constantFrom(...FD_LENGTHS)
  .chain((length) => fc.uint8Array({ minLength: length, maxLength: length }));
const frame: fc.Arbitrary<CandumpFrame> = fc
  .record({ ...seen, rest: fc.integer({ min: 0, max: 999 }) })
  .chain(({ rest, ...head }) => {
    const at = { ...head, restNs: head.timeUs === null ? 0 : rest };
    return fc.oneof(
      fc
        .record({ id, bytes: classicBytes, dlc: fc.integer({ min: 8, max: 15 }) })
        .map(({ id: { frameId, idFormat }, bytes, dlc }): CandumpFrame => ({
          ...{ kind: 'data', ...at, frameId, idFormat, frameFormat: 'classic', flags: 0, bytes },
          ...{ rawDlc: bytes.length === 8 && dlc > 8 ? dlc : null },
        })),
      fc
        .record({ id, bytes: fdBytes, flags: fc.integer({ min: 0, max: 15 }) })
        .map(({ id: { frameId, idFormat }, bytes, flags }): CandumpFrame => ({
          ...{ kind: 'data', ...at, frameId, idFormat, frameFormat: 'fd', flags, bytes, rawDlc: null },
        })),
      fc
        .record({ id, requestedBytes: fc.integer({ min: 0, max: 8 }) })
        .map(({ id: { frameId, idFormat }, requestedBytes }): CandumpFrame => ({
          ...{ kind: 'remote', ...at, frameId, idFormat, requestedBytes },
        })),
      fc
        .record({ errorClass: fc.integer({ min: 0, max: 0x1fffffff }), bytes: classicBytes })
        .map(({ errorClass, bytes }): CandumpFrame => ({ kind: 'error', ...at, errorClass, bytes })),
    );
  });

describe('candump logs', () => {
  it('every frame written is read back as it was', () => {
    fc.assert(
      fc.property(frame, (one) => {
        expect(parseCandumpLine(formatCandumpFrame(one), 1)).toEqual(one);
      }),
      { numRuns: 2000 },
    );
  });

  it('the plain layout keeps time, interface, id and bytes', () => {
    fc.assert(
      fc.property(frame, (one) => {
        const back = parseCandumpLine(formatCandumpFrame(one, 'plain'), 1);
        const kept = { ...one, direction: null, ...(one.kind === 'data' ? { flags: 0, rawDlc: null } : {}) };
        expect(back).toEqual(kept);
      }),
    );
  });

  it('a log reads the same however it is cut into pieces', () => {
    fc.assert(
      fc.property(fc.array(frame, { maxLength: 12 }), fc.array(fc.nat(60)), fc.boolean(), (frames, cuts, crlf) => {
        const text = frames.map((one) => formatCandumpFrame(one) + (crlf ? '\r\n' : '\n')).join('');
        const bytes = new TextEncoder().encode(text);
        const reader = candumpReader();
        const read: CandumpFrame[] = [];
        let from = 0;
        for (const cut of cuts) {
          read.push(...reader.push(bytes.subarray(from, from + cut)).frames);
          from += cut;
        }
        read.push(...reader.push(bytes.subarray(from)).frames, ...reader.end().frames);
        expect(read).toEqual(frames);
      }),
    );
  });

  it('the quick way for the commonest line gives what the careful one gives, or leaves it to that', () => {
    const edit = fc.tuple(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.constantFrom('', '0', 'F', 'g', '#', '.', ' ', '\r', ')', '(', '-', '１'),
    );
    let quick = 0;
    fc.assert(
      fc.property(frame, fc.array(edit, { maxLength: 2 }), (one, edits) => {
        let line = formatCandumpFrame({ ...one, restNs: 0, direction: null });
        for (const [at, put] of edits) {
          const place = Math.floor(at * line.length);
          line = line.slice(0, place) + put + line.slice(place + (put === '' ? 1 : 0));
        }
        const read = quickLine(line);
        if (read === null) return;
        quick += 1;
        expect(read).toEqual(parseCarefully(line, 1));
      }),
      { numRuns: 5000 },
    );
    expect(quick).toBeGreaterThan(100);
  });

  it('no text makes the parser throw or loop; a fault lies on its line', () => {
    const noise = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom(...'(1.)can0 #R_[]F') }));
    fc.assert(
      fc.property(noise, (line) => {
        const read = parseCandumpLine(line, 7);
        if (read?.kind === 'fault') {
          expect(read.line).toBe(7);
          expect(read.column).toBeGreaterThanOrEqual(1);
          expect(read.column).toBeLessThanOrEqual(line.length + 1);
        }
      }),
      { numRuns: 3000 },
    );
  });
});

describe('checksums', () => {
  it('every single-bit change of a protected frame is noticed', () => {
    const any = fc.record({
      algorithm: fc.constantFrom(...CHECKSUM_ALGORITHMS),
      bytes: fc.uint8Array({ minLength: 8, maxLength: 16 }),
      dataId: fc.option(fc.integer({ min: 0, max: 0xffff }), { nil: undefined }),
      flip: fc.nat(),
    });
    fc.assert(
      fc.property(any, ({ algorithm, bytes, dataId, flip }) => {
        const field = { start: 0, length: checksumWidth(algorithm), order: 'little' as const };
        const spec = { algorithm, dataId };
        applyChecksum(bytes, spec, field);
        expect(verifyChecksum(bytes, spec, field)).toBe(true);
        const bit = flip % (bytes.length * 8);
        bytes[bit >> 3] = bytes[bit >> 3]! ^ (1 << (bit & 7));
        expect(verifyChecksum(bytes, spec, field)).toBe(false);
      }),
      { numRuns: 1000 },
    );
  });
});
