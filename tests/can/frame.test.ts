/** Frames on the wire: CAN FD with its two phases, and the bounds of every length. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dlcOf,
  exactFrameBits,
  FD_LENGTHS,
  type FrameContent,
  frameLengthFor,
  frameTimeNs,
  lengthOfDlc,
  MAX_FRAME_ID,
  plainFrameBits,
  worstCaseFrameBits,
} from '../../src/can/index.ts';

const content: fc.Arbitrary<FrameContent> = fc
  .record({
    idFormat: fc.constantFrom('standard' as const, 'extended' as const),
    frameFormat: fc.constantFrom('classic' as const, 'fd' as const),
    bitRateSwitch: fc.boolean(),
    dlc: fc.integer({ min: 0, max: 15 }),
    runs: fc.boolean(),
  })
  .chain(({ idFormat, frameFormat, bitRateSwitch, dlc, runs }) => {
    const length = lengthOfDlc(dlc, frameFormat)!;
    // Bytes that make long runs of equal bits provoke stuffing.
    const byte = runs
      ? fc.constantFrom(0x00, 0xff, 0x1f, 0xe0, 0x07, 0xc1, 0x3c, 0xf8)
      : fc.integer({ min: 0, max: 255 });
    return fc.record({
      frameId: fc.integer({ min: 0, max: MAX_FRAME_ID[idFormat] }),
      idFormat: fc.constant(idFormat),
      frameFormat: fc.constant(frameFormat),
      bitRateSwitch: fc.constant(bitRateSwitch),
      bytes: fc.array(byte, { minLength: length, maxLength: length }).map((list) => Uint8Array.from(list)),
    });
  });

describe('exact length', () => {
  it('lies between the plain length and the worst case, in bits and in time', () => {
    const rates = { bitRate: 500_000, dataBitRate: 2_000_000 };
    fc.assert(
      fc.property(content, (frame) => {
        const shape = { ...frame, lengthBytes: frame.bytes.length };
        const exact = exactFrameBits(frame);
        const plain = plainFrameBits(shape);
        const worst = worstCaseFrameBits(shape);
        const bits = exact.nominalBits + exact.dataBits;
        expect(bits).toBe(plain.nominalBits + plain.dataBits + exact.stuffBits);
        expect(bits).toBeLessThanOrEqual(worst.nominalBits + worst.dataBits);
        expect(frameTimeNs(exact, rates)).toBeLessThanOrEqual(frameTimeNs(worst, rates));
        if (frame.frameFormat === 'classic' || !frame.bitRateSwitch) expect(exact.dataBits).toBe(0);
      }),
      { numRuns: 2000 },
    );
  });

  it('of a CAN FD frame without stuff bits, counted field by field', () => {
    // 0x555, 1 byte 0x55: 0 10101010101 0 0 1 0 1 | 0 0001 01010101: no five equal bits in a row.
    const frame = { frameId: 0x555, idFormat: 'standard', frameFormat: 'fd', bytes: Uint8Array.of(0x55) } as const;
    // Nominal: SOF 1, id 11, RRS, IDE, FDF, res, BRS, then CRC delimiter 1, ACK 2, EOF 7, intermission 3.
    // Data: ESI 1, DLC 4, 8 bits, stuff count 4, CRC 17, fixed stuff bits 6. ISO 11898-1:2015.
    expect(exactFrameBits(frame)).toMatchObject({
      nominalBits: 17 + 13,
      dataBits: 1 + 4 + 8 + 4 + 17 + 6,
      stuffBits: 0,
    });
    expect(exactFrameBits({ ...frame, bitRateSwitch: false })).toMatchObject({ dataBits: 0 });
  });

  it('of a CAN FD frame whose data end in five equal bits: the fixed stuff bit stands in for the stuff bit', () => {
    // 0x555, 1 byte 0x5F: the five ones at its end get no stuff bit of their own.
    const frame = { frameId: 0x555, idFormat: 'standard', frameFormat: 'fd', bytes: Uint8Array.of(0x5f) } as const;
    expect(exactFrameBits(frame).stuffBits).toBe(0);
    // The same five ones one bit earlier do.
    expect(exactFrameBits({ ...frame, bytes: Uint8Array.of(0xbe) }).stuffBits).toBe(1);
  });

  it('of a remote frame: no bytes, the length code of what it asks for', () => {
    const remote: FrameContent = {
      ...{ frameId: 0x555, idFormat: 'standard', frameFormat: 'classic', bytes: new Uint8Array(0) },
      remote: { requestedBytes: 8 },
    };
    const { nominalBits, stuffBits } = exactFrameBits(remote);
    expect(nominalBits - stuffBits).toBe(47);
    expect(() => exactFrameBits({ ...remote, frameFormat: 'fd' })).toThrow(/remote frame/);
  });

  it('refuses ids and lengths that no frame has', () => {
    const frame = { frameId: 0x800, idFormat: 'standard', frameFormat: 'classic', bytes: new Uint8Array(0) } as const;
    expect(() => exactFrameBits(frame)).toThrow(/0x800 does not fit an id of 11 bits/);
    expect(() => exactFrameBits({ ...frame, frameId: 1, frameFormat: 'fd', bytes: new Uint8Array(9) })).toThrow(
      /9 bytes/,
    );
    expect(() => worstCaseFrameBits({ idFormat: 'standard', frameFormat: 'classic', lengthBytes: 12 })).toThrow(
      /12 bytes/,
    );
    expect(() => frameTimeNs({ nominalBits: 1, dataBits: 0 }, { bitRate: 0 })).toThrow(/not positive/);
  });
});

describe('length codes', () => {
  it('go both ways', () => {
    for (let dlc = 0; dlc <= 15; dlc += 1) {
      expect(dlcOf(lengthOfDlc(dlc, 'fd')!, 'fd')).toBe(dlc);
      expect(lengthOfDlc(dlc, 'classic')).toBe(Math.min(dlc, 8));
    }
    expect(lengthOfDlc(16, 'fd')).toBeNull();
    expect(dlcOf(9, 'fd')).toBeNull();
    expect(dlcOf(12, 'classic')).toBeNull();
  });

  it('a payload goes into the shortest frame that holds it', () => {
    for (let bytes = 0; bytes <= 64; bytes += 1) {
      const length = frameLengthFor(bytes, 'fd')!;
      expect(FD_LENGTHS).toContain(length);
      expect(length).toBeGreaterThanOrEqual(bytes);
      expect(FD_LENGTHS.filter((other) => other >= bytes && other < length)).toEqual([]);
    }
    expect(frameLengthFor(65, 'fd')).toBeNull();
    expect(frameLengthFor(9, 'classic')).toBeNull();
  });
});
