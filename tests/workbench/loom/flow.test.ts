import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { flowOf, visibleRows, zoomToFit } from '../../../src/workbench/places/loom/flow.ts';
import { actionOfKey } from '../../../src/workbench/places/loom/keys.ts';
import { loomOf, samplePairing } from './sample.ts';

const groups = loomOf(samplePairing());
const ids = groups.map(({ id }) => id);
const folds = fc.subarray(ids).map((list) => new Set(list));
const zooms = fc.double({ min: 0.1, max: 1.6, noNaN: true });

describe('the flow of rows', () => {
  test('follows without overlap, with gaps only between groups', () => {
    fc.assert(
      fc.property(folds, zooms, (folded, zoom) => {
        const { rows, height } = flowOf(groups, folded, zoom);
        rows.forEach((row, at) => {
          expect(row.height).toBeGreaterThan(0);
          const before = rows[at - 1];
          if (!before) return expect(row.y).toBe(0);
          const gap = row.y - (before.y + before.height);
          return row.kind === 'group' ? expect(gap).toBeCloseTo(10 * zoom, 6) : expect(gap).toBeCloseTo(0, 6);
        });
        const last = rows.at(-1)!;
        expect(height).toBeCloseTo(last.y + last.height + 10 * zoom, 6);
      }),
    );
  });

  test('has every row of an open group once, and of a folded group its ribbon alone', () => {
    fc.assert(
      fc.property(folds, (folded) => {
        const { rows, indexOf } = flowOf(groups, folded);
        const wanted = groups.flatMap((group) => [
          `group:${group.id}`,
          ...(folded.has(group.id) ? [] : group.rows.map(({ id }) => id)),
        ]);
        expect(rows.map(({ id }) => id)).toEqual(wanted);
        wanted.forEach((id, at) => expect(indexOf.get(id)).toBe(at));
      }),
    );
  });

  test('finds the rows in view as looking at each one does', () => {
    fc.assert(
      fc.property(
        folds,
        zooms,
        fc.double({ min: -200, max: 6000, noNaN: true }),
        fc.double({ min: 0, max: 2000, noNaN: true }),
        (folded, zoom, top, tall) => {
          const flow = flowOf(groups, folded, zoom);
          const [first, end] = visibleRows(flow, top, top + tall);
          const seen = flow.rows.flatMap(({ y, height }, at) => (y + height > top && y < top + tall ? [at] : []));
          expect(Array.from({ length: Math.max(0, end - first) }, (_, at) => first + at)).toEqual(seen);
        },
      ),
    );
  });

  test('puts a tab beside the first row of each run of a module', () => {
    const { rows } = flowOf(groups, new Set());
    let before: string | null = null;
    for (const row of rows) {
      if (row.kind === 'group') before = null;
      else if (row.row.kind === 'strand') {
        const own = row.row.left[0]?.module ?? '';
        expect(row.tabLeft).toBe(own !== '' && own !== before);
        before = own;
      }
    }
  });

  test('fits the whole cloth into a view', () => {
    const zoom = zoomToFit(groups, new Set(), 800, [0.1, 1.6]);
    expect(flowOf(groups, new Set(), zoom).height).toBeLessThanOrEqual(800);
    expect(flowOf(groups, new Set(), zoom * 1.1).height).toBeGreaterThan(800);
  });
});

describe('keys on the cloth', () => {
  const open = flowOf(groups, new Set());
  const first = groups[0]!;

  test('arrows walk the rows, Home and End go to the ends', () => {
    expect(actionOfKey('ArrowDown', open, null)).toEqual({ kind: 'cursor', id: `group:${first.id}` });
    expect(actionOfKey('ArrowDown', open, `group:${first.id}`)).toEqual({ kind: 'cursor', id: first.rows[0]!.id });
    expect(actionOfKey('ArrowUp', open, first.rows[0]!.id)).toEqual({ kind: 'cursor', id: `group:${first.id}` });
    expect(actionOfKey('End', open, null)).toEqual({ kind: 'cursor', id: open.rows.at(-1)!.id });
    expect(actionOfKey('Home', open, open.rows.at(-1)!.id)).toEqual({ kind: 'cursor', id: open.rows[0]!.id });
  });

  test('left goes to the group and folds it, right unfolds it and goes in', () => {
    expect(actionOfKey('ArrowLeft', open, first.rows[2]!.id)).toEqual({ kind: 'cursor', id: `group:${first.id}` });
    expect(actionOfKey('ArrowLeft', open, `group:${first.id}`)).toEqual({ kind: 'fold', group: first.id });
    const folded = flowOf(groups, new Set([first.id]));
    expect(actionOfKey('ArrowRight', folded, `group:${first.id}`)).toEqual({ kind: 'unfold', group: first.id });
    expect(actionOfKey('ArrowRight', open, `group:${first.id}`)).toEqual({ kind: 'cursor', id: first.rows[0]!.id });
    expect(actionOfKey('x', open, null)).toBeNull();
  });
});
