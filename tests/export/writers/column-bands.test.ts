import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Table } from '../../../src/export/index.ts';
import { layBands, type ColumnNeed } from '../../../src/export/writers/column-bands.ts';

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

function tableOf(groups: readonly (string | undefined)[], keys: number): Table {
  return {
    kind: 'table',
    id: 't',
    title: 'T',
    rows: [],
    columns: groups.map((group, at) => ({
      key: `c${at}`,
      title: `C${at}`,
      kind: 'text',
      weight: 8,
      ...(at < keys ? { role: 'key' as const } : {}),
      ...(group === undefined ? {} : { group }),
    })),
  };
}

const need = fc
  .record({
    least: fc.integer({ min: 10, max: 60 }),
    more: fc.integer({ min: 0, max: 150 }),
    most: fc.integer({ min: 0, max: 400 }),
  })
  .map(({ least, more, most }): ColumnNeed => ({ least, wanted: least + more, natural: least + more + most }));

describe('layBands', () => {
  it('leaves no column out, puts none twice, keeps their order and never exceeds the room', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(need, fc.constantFrom(undefined, 'A', 'B', 'C')), { minLength: 1, maxLength: 50 }),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 300, max: 1200 }),
        (columns, keyCount, room) => {
          const keys = Math.min(keyCount, columns.length);
          const table = tableOf(
            columns.map(([, group]) => group),
            keys,
          );
          const laid = layBands(
            table,
            columns.map(([one]) => one),
            room,
          );
          expect(laid.keys.at).toEqual(Array.from({ length: keys }, (_, at) => at));
          expect(laid.bands.flatMap((band) => band.at)).toEqual(
            Array.from({ length: columns.length - keys }, (_, at) => at + keys),
          );
          for (const band of laid.bands.length === 0 ? [{ at: [], widths: [] }] : laid.bands) {
            expect(sum(laid.keys.widths) + sum(band.widths)).toBeLessThanOrEqual(room + 1e-6);
            expect(band.widths).toHaveLength(band.at.length);
          }
          for (const width of [...laid.keys.widths, ...laid.bands.flatMap((band) => band.widths)])
            expect(width).toBeGreaterThan(0);
        },
      ),
      { numRuns: 500 },
    );
  });

  const wide = (count: number, width: number): ColumnNeed[] =>
    Array.from({ length: count }, () => ({ least: width / 2, wanted: width, natural: width }));

  it('takes one band when the columns fit, and gives columns that wrap the room to spare', () => {
    const laid = layBands(
      tableOf([undefined, undefined, undefined], 1),
      [
        { least: 20, wanted: 50, natural: 50 },
        { least: 20, wanted: 100, natural: 140 },
        { least: 20, wanted: 100, natural: 5000 },
      ],
      1000,
    );
    expect(laid.bands).toHaveLength(1);
    expect(laid.bands[0]?.widths[0]).toBeGreaterThanOrEqual(140);
    expect(sum(laid.keys.widths) + sum(laid.bands[0]?.widths ?? [])).toBeCloseTo(1000, 6);
  });

  it('splits between groups, evenly', () => {
    const groups = [undefined, ...'AAAAABBBBBCCCCCDDDDD'.split('')];
    const laid = layBands(tableOf(groups, 1), wide(21, 50), 600);
    expect(laid.bands.map((band) => band.at)).toEqual([
      [1, 2, 3, 4, 5, 6, 7, 8, 9, 10],
      [11, 12, 13, 14, 15, 16, 17, 18, 19, 20],
    ]);
  });
});
