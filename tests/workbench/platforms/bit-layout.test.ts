import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitsIn, occupiedBits } from '../../../src/can/index.ts';
import type { Bits, Message } from '../../../src/model/index.ts';
import {
  dragDistance,
  layBits,
  moveField,
  pagesOf,
  resizeField,
} from '../../../src/workbench/places/platforms/bit-layout.ts';

const bits: fc.Arbitrary<Bits> = fc
  .record({
    start: fc.integer({ min: 0, max: 63 }),
    length: fc.integer({ min: 1, max: 64 }),
    order: fc.constantFrom('little' as const, 'big' as const),
  })
  .filter((field) => fitsIn(field, 8));

const message = (fields: readonly Bits[]): Message => ({
  id: 'M',
  bus: 'b',
  frameId: '0x1',
  idFormat: 'standard',
  length: 8,
  sender: null,
  signals: fields.map((field, at) => ({
    id: `S${at}`,
    bits: field,
    number: 'unsigned',
    factor: 1,
    offset: 0,
    unit: '',
  })),
});

describe('the bit layout', () => {
  // The sawtooth numbering of the DBC format: a big-endian field with start bit 7 and length 12 is byte 0 and the high half of byte 1.
  it('draws a big-endian field where the format puts it', () => {
    const rows = layBits(message([{ start: 7, length: 12, order: 'big' }]));
    const held = rows.map((cells) => cells.map(({ signals }) => (signals.length > 0 ? '1' : '0')).join(''));
    expect(held.slice(0, 3)).toEqual(['11111111', '11110000', '00000000']);
    expect(rows[1]!.map(({ bit }) => bit)).toEqual([15, 14, 13, 12, 11, 10, 9, 8]);
  });

  it('moves a field without changing its length or order, there and back', () => {
    fc.assert(
      fc.property(bits, fc.integer({ min: -63, max: 63 }), (field, by) => {
        const moved = moveField(field, by, 8);
        if (!moved) return;
        expect(moved).toMatchObject({ length: field.length, order: field.order });
        expect(fitsIn(moved, 8)).toBe(true);
        expect(moveField(moved, -by, 8)).toEqual(field);
        expect(dragDistance(field.start, moved.start, field.order)).toBe(by);
      }),
    );
  });

  it('never lets a field leave the frame', () => {
    fc.assert(
      fc.property(bits, fc.integer({ min: -64, max: 64 }), (field, by) => {
        const resized = resizeField(field, by, 8);
        if (resized) expect(occupiedBits(resized) >> 64n).toBe(0n);
        const moved = moveField(field, by, 8);
        if (moved) expect(occupiedBits(moved) >> 64n).toBe(0n);
      }),
    );
  });

  it('shows both holders of a bit held twice, and pages of a multiplexer apart', () => {
    const overlapping = message([
      { start: 0, length: 8, order: 'little' },
      { start: 4, length: 8, order: 'little' },
    ]);
    expect(layBits(overlapping)[0]!.find(({ bit }) => bit === 5)!.signals).toEqual([0, 1]);
    const paged: Message = {
      ...overlapping,
      signals: overlapping.signals.map((signal, at) => ({
        ...signal,
        multiplexed: { by: 'S9', on: at === 0 ? [1] : [[2, 5]] },
      })),
    };
    expect(pagesOf(paged)).toEqual([{ by: 'S9', values: ['1', '2'] }]);
    expect(layBits(paged, new Map([['S9', '4']]))[0]!.find(({ bit }) => bit === 5)!.signals).toEqual([1]);
  });
});
