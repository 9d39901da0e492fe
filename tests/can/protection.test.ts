/** Checksums: coverage, data id, fields of a nibble; counters. Sums are common practice, worked by hand here. */
import { describe, expect, it } from 'vitest';
import {
  applyChecksum,
  type BitField,
  checksumOf,
  computeChecksum,
  counterFault,
  firstCount,
  judgeCount,
  nextCount,
  protectionFaults,
} from '../../src/can/index.ts';

const byte = (at: number): BitField => ({ start: at * 8, length: 8, order: 'little' });

describe('sums, by hand', () => {
  const bytes = [0x12, 0x34, 0xff];
  it.each([
    ['xor8', 0x12 ^ 0x34 ^ 0xff],
    ['sum8', 0x45], // 0x12 + 0x34 + 0xff = 0x145
    ['nibble-sum', 1 + 2 + 3 + 4 + 15 + 15],
  ] as const)('%s', (algorithm, sum) => {
    expect(checksumOf(bytes, algorithm)).toBe(sum);
  });
});

describe('coverage', () => {
  const bytes = Uint8Array.of(0x10, 0x20, 0x30, 0x99);

  it('takes all bytes but the checksum, or the ranges given in their order', () => {
    expect(computeChecksum(bytes, { algorithm: 'sum8' }, byte(3))).toBe(0x60n);
    expect(computeChecksum(bytes, { algorithm: 'sum8', covers: [[1, 2]] }, byte(3))).toBe(0x50n);
    const crc = (covers: readonly (readonly [number, number])[]): bigint =>
      computeChecksum(bytes, { algorithm: 'crc8-sae-j1850', covers }, byte(3));
    const swapped = [
      [2, 2],
      [0, 1],
    ] as const;
    expect(crc(swapped)).toBe(BigInt(checksumOf([0x30, 0x10, 0x20], 'crc8-sae-j1850')));
    expect(crc(swapped)).not.toBe(crc([[0, 2]]));
  });

  it('counts the bits of the checksum as 0 where its byte is covered', () => {
    const nibble: BitField = { start: 24, length: 4, order: 'little' };
    // 1 + 2 + 3 + 9: the upper half of the last byte belongs to another signal, the lower half is the checksum itself.
    expect(computeChecksum(bytes, { algorithm: 'nibble-sum' }, nibble)).toBe(15n);
    const kept = Uint8Array.from(bytes);
    applyChecksum(kept, { algorithm: 'nibble-sum' }, nibble);
    expect(kept).toEqual(Uint8Array.of(0x10, 0x20, 0x30, 0x9f));
    expect(computeChecksum(bytes, { algorithm: 'sum8', covers: [[0, 3]] }, byte(3))).toBe(0x60n);
  });

  it('adds the data id before or after, low byte first unless told otherwise', () => {
    const over = (input: number[]): bigint => BigInt(checksumOf(input, 'crc8-autosar-h2f'));
    const id = { algorithm: 'crc8-autosar-h2f', dataId: 0x1234 } as const;
    expect(computeChecksum(bytes, id, byte(3))).toBe(over([0x10, 0x20, 0x30, 0x34, 0x12]));
    expect(computeChecksum(bytes, { ...id, dataIdAt: 'before' }, byte(3))).toBe(over([0x34, 0x12, 0x10, 0x20, 0x30]));
    expect(computeChecksum(bytes, { ...id, dataIdBytes: 'high-low' }, byte(3))).toBe(
      over([0x10, 0x20, 0x30, 0x12, 0x34]),
    );
    expect(computeChecksum(bytes, { ...id, dataId: 0x34 }, byte(3))).toBe(over([0x10, 0x20, 0x30, 0x34]));
  });

  it('says what is wrong with a spec', () => {
    const faults = protectionFaults(
      {
        algorithm: 'crc16-ccitt-false',
        covers: [
          [2, 9],
          [3, 1],
        ],
        dataId: 70000,
        dataIdList: [],
      },
      byte(3),
      4,
    );
    expect(faults).toEqual([
      'crc16-ccitt-false gives 16 bits; its field has 8',
      'bytes 2–9 are not a range of a payload of 4 bytes',
      'bytes 3–1 are not a range of a payload of 4 bytes',
      'data id 70000 is not a whole number from 0 to 65535',
      'both a data id and a list of data ids are given',
      'the list of data ids is empty',
    ]);
    expect(protectionFaults({ algorithm: 'sum8' }, byte(7), 4)).toEqual([
      'the checksum field does not lie within 4 bytes',
    ]);
    expect(() => computeChecksum(bytes, { algorithm: 'crc32-autosar-p4' }, byte(3))).toThrow(/32 bits/);
  });
});

describe('counters', () => {
  // AUTOSAR end-to-end profile 1: 4 bits, 0–14, 15 never sent.
  const profile1 = { modulo: 16, skips: [15] };

  it('run round without the values they skip', () => {
    expect(nextCount(13, profile1)).toBe(14);
    expect(nextCount(14, profile1)).toBe(0);
    expect(nextCount(15, profile1)).toBe(0);
    expect(nextCount(15, { modulo: 16 })).toBe(0);
    expect(firstCount({ modulo: 16, skips: [0, 1] })).toBe(2);
  });

  it('tell a frozen sender from lost frames', () => {
    expect(judgeCount(14, 0, profile1)).toEqual({ kind: 'next' });
    expect(judgeCount(3, 3, profile1)).toEqual({ kind: 'repeated' });
    expect(judgeCount(13, 1, profile1)).toEqual({ kind: 'lost', frames: 2 });
    expect(judgeCount(3, 15, profile1)).toEqual({ kind: 'impossible' });
  });

  it('name what is wrong with a counter', () => {
    expect(counterFault(profile1)).toBeNull();
    expect(counterFault({ modulo: 1 })).toMatch(/modulo 1/);
    expect(counterFault({ modulo: 4, skips: [4] })).toMatch(/skipped value 4/);
    expect(counterFault({ modulo: 4, skips: [0, 1, 2] })).toMatch(/at least two values/);
  });
});
