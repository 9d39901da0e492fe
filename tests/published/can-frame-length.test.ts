/**
 * Frame lengths on the wire.
 * Worst case: Davis, Burns, Bril, Lukkien, Real-Time Systems 35 (2007), equations 1–3, as quoted in can-utils' canframelen.h;
 * Linux kernel include/linux/can/length.h (maximum frame lengths, with and without stuffing).
 * CRC: two frames captured on a vehicle's bus and acknowledged there (dominic-meads/CAN_2.0).
 */
import { describe, expect, it } from 'vitest';
import {
  CRC15,
  CRC17,
  CRC21,
  exactFrameBits,
  FD_LENGTHS,
  frameCrcOf,
  type FrameShape,
  frameTimeNs,
  type IdFormat,
  plainFrameBits,
  worstCaseFrameBits,
} from '../../src/can/index.ts';
import { bytesOf, hasTimingReference, timingEntries } from './timing-reference.ts';

const total = ({ nominalBits, dataBits }: { nominalBits: number; dataBits: number }): number => nominalBits + dataBits;
const shape = (idFormat: IdFormat, frameFormat: 'classic' | 'fd', lengthBytes: number): FrameShape => ({
  idFormat,
  frameFormat,
  lengthBytes,
});

describe('Davis et al. 2007, equations 1–3', () => {
  it.each(
    [0, 1, 2, 3, 4, 5, 6, 7, 8].flatMap((s) => [
      { idFormat: 'standard' as const, s, bits: 55 + 10 * s },
      { idFormat: 'extended' as const, s, bits: 80 + 10 * s },
    ]),
  )('$idFormat id, $s bytes: $bits bits at most', ({ idFormat, s, bits }) => {
    expect(worstCaseFrameBits(shape(idFormat, 'classic', s))).toEqual({ nominalBits: bits, dataBits: 0 });
  });

  it.each([
    [125_000, 1080],
    [250_000, 540],
    [500_000, 270],
    [1_000_000, 135],
  ])('8 bytes, 11-bit id at %i bit/s take %i µs', (bitRate, us) => {
    expect(frameTimeNs(worstCaseFrameBits(shape('standard', 'classic', 8)), { bitRate })).toBe(us * 1000);
  });
});

describe('Linux kernel, include/linux/can/length.h: longest frames', () => {
  it.each([
    ['classic', 'standard', 8, 111, 135],
    ['classic', 'extended', 8, 131, 160],
    ['fd', 'standard', 64, 579, 712],
    ['fd', 'extended', 64, 598, 736],
  ] as const)('%s, %s id, %i bytes: %i bits plain, %i stuffed', (format, id, bytes, plain, stuffed) => {
    expect(total(plainFrameBits(shape(id, format, bytes)))).toBe(plain);
    expect(total(worstCaseFrameBits(shape(id, format, bytes)))).toBe(stuffed);
  });
});

describe('frames captured on a vehicle (dominic-meads/CAN_2.0)', () => {
  it.each([
    [0x0c1, '4001087500000000', 0x5b40, 10, 121],
    [0x0c5, '1000000010000000', 0x3711, 12, 123],
  ])('id %i, %s: CRC as acknowledged on the bus', (frameId, data, crc, stuffBits, bits) => {
    const exact = exactFrameBits({ frameId, idFormat: 'standard', frameFormat: 'classic', bytes: bytesOf(data) });
    expect(exact.crc).toBe(crc);
    // Stuff bits and length: recomputed by can-utils' canframelen.c and kentindell/canhack canframe.py.
    expect(exact).toMatchObject({ stuffBits, nominalBits: bits, dataBits: 0 });
  });
});

describe('frame CRCs over the catalogue test string "123456789"', () => {
  const bits = [...'123456789'].flatMap((char) =>
    [7, 6, 5, 4, 3, 2, 1, 0].map((bit) => (char.charCodeAt(0) >> bit) & 1),
  );
  it.each([
    ['CRC-15/CAN', CRC15, 0x059e],
    ['CRC-17/CAN-FD', CRC17, 0x04f03],
    ['CRC-21/CAN-FD', CRC21, 0x0ed841],
  ])('%s', (_, code, check) => {
    // The catalogue lists the FD codes with a start of 0 (Bosch 2012); ISO frames start with the top bit set.
    expect(frameCrcOf(bits, code, 0)).toBe(check);
  });
});

describe.skipIf(!hasTimingReference)('every row of the reference table', () => {
  it('worst case of classical frames, in bits and microseconds', () => {
    const rows = timingEntries('1_frame_length', 'classical_worst_case');
    expect(rows.length).toBe(2);
    for (const row of rows) {
      const id = row['ext'] === true ? 'extended' : 'standard';
      (row['bits_by_len'] as number[]).forEach((bits, length) => {
        expect(total(worstCaseFrameBits(shape(id, 'classic', length)))).toBe(bits);
      });
      for (const [kbit, times] of Object.entries(row['us_by_len'] as Record<string, number[]>)) {
        times.forEach((us, length) => {
          const bits = worstCaseFrameBits(shape(id, 'classic', length));
          expect(frameTimeNs(bits, { bitRate: Number(kbit) * 1000 })).toBe(us * 1000);
        });
      }
    }
  });

  it('exact lengths, confirmed by two open implementations', () => {
    const [entry] = timingEntries('1_frame_length', 'exact_vectors');
    const rows = entry!['rows'] as {
      can_id: string;
      ext: boolean;
      data: string;
      crc15: string;
      stuff_bits: number;
      bits: number;
    }[];
    expect(rows.length).toBe(14);
    for (const row of rows) {
      const exact = exactFrameBits({
        frameId: Number.parseInt(row.can_id, 16),
        idFormat: row.ext ? 'extended' : 'standard',
        frameFormat: 'classic',
        bytes: bytesOf(row.data),
      });
      expect(exact).toEqual({
        nominalBits: row.bits,
        dataBits: 0,
        stuffBits: row.stuff_bits,
        crc: Number.parseInt(row.crc15, 16),
      });
    }
  });

  it('CAN FD worst case in both phases, every length', () => {
    const rows = timingEntries('1_frame_length', 'fd_worst_case');
    expect(rows.length).toBe(2);
    for (const row of rows) {
      const id = row['ext'] === true ? 'extended' : 'standard';
      const lengths = row['rows'] as Record<
        'len' | 'total_bits' | 'nominal_bits' | 'data_bits' | 'plain_bits',
        number
      >[];
      expect(lengths.map(({ len }) => len)).toEqual(FD_LENGTHS);
      for (const one of lengths) {
        const worst = worstCaseFrameBits(shape(id, 'fd', one.len));
        expect(worst).toEqual({ nominalBits: one.nominal_bits, dataBits: one.data_bits });
        expect(total(worst)).toBe(one.total_bits);
        expect(total(plainFrameBits(shape(id, 'fd', one.len)))).toBe(one.plain_bits);
      }
    }
  });

  it('no content exceeds the true maximum of stuff bits found by exhaustive search', () => {
    const [entry] = timingEntries('1_frame_length', 'exact_max');
    const most = new Map(
      (entry!['rows'] as { ext: boolean; len: number; max_stuff_bits: number }[]).map((row) => [
        `${row.ext ? 'extended' : 'standard'} ${row.len}`,
        row.max_stuff_bits,
      ]),
    );
    // 11-bit ids, no data and one byte: all of them, so the maximum itself must occur.
    for (const length of [0, 1]) {
      let reached = 0;
      for (let frameId = 0; frameId < 0x800; frameId += 1) {
        for (let byte = 0; byte < (length === 0 ? 1 : 256); byte += 1) {
          const bytes = Uint8Array.of(byte).subarray(0, length);
          const { stuffBits } = exactFrameBits({ frameId, idFormat: 'standard', frameFormat: 'classic', bytes });
          if (stuffBits > reached) reached = stuffBits;
        }
      }
      expect(reached).toBe(most.get(`standard ${length}`));
    }
    // The rest on patterns that provoke stuffing.
    for (const idFormat of ['standard', 'extended'] as const) {
      for (let length = 2; length <= 8; length += 1) {
        for (let seed = 0; seed < 256; seed += 1) {
          const bytes = Uint8Array.from({ length }, (_, i) => (i % 2 === 0 ? seed : ~seed) & 0xff);
          const frameId = idFormat === 'standard' ? 0x7c1 : 0x1f07c1f0;
          const { stuffBits } = exactFrameBits({ frameId, idFormat, frameFormat: 'classic', bytes });
          expect(stuffBits).toBeLessThanOrEqual(most.get(`${idFormat} ${length}`)!);
        }
      }
    }
  });
});
