import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lastAtOrBefore } from '../../../src/workbench/places/bench/recording/change-trace.ts';
import { POINTS_PER_COLUMN, reduceBands, reduceLine } from '../../../src/workbench/places/bench/recording/columns.ts';
import { createEnvelope } from '../../../src/workbench/places/bench/recording/envelope.ts';

const value = fc.oneof({ weight: 8, arbitrary: fc.integer({ min: -1000, max: 1000 }) }, fc.constant(Number.NaN));
/** Long enough for several levels of the envelope. */
const values = fc
  .tuple(
    fc.array(value, { minLength: 1, maxLength: 60 }),
    fc.integer({ min: 1, max: 90 }),
    fc.integer({ min: 1, max: 997 }),
  )
  .map(([list, times, stride]) =>
    Float64Array.from({ length: list.length * times }, (_, at) => list[(at * stride) % list.length]!),
  );

function extremesOf(list: readonly number[]): readonly [number, number] {
  const there = list.filter((each) => !Number.isNaN(each));
  return there.length === 0 ? [Number.NaN, Number.NaN] : [Math.min(...there), Math.max(...there)];
}

describe('the envelope of values', () => {
  it('gives the least and greatest of any stretch, as looking at every value does', () => {
    fc.assert(
      fc.property(values, fc.nat(), fc.nat(), (list, a, b) => {
        const [from, to] = [a % (list.length + 1), b % (list.length + 1)].sort((x, y) => x - y) as [number, number];
        const envelope = createEnvelope(list);
        envelope.look(from, to);
        expect([envelope.low, envelope.high]).toEqual(extremesOf([...list.subarray(from, to)]));
      }),
      { numRuns: 400 },
    );
  });

  it('needs few looks for a million values', () => {
    const list = Float64Array.from({ length: 1_000_000 }, (_, at) => Math.sin(at));
    const envelope = createEnvelope(list);
    envelope.look(7, 999_993);
    let [low, high] = [Infinity, -Infinity];
    for (let at = 7; at < 999_993; at += 1) {
      low = Math.min(low, list[at]!);
      high = Math.max(high, list[at]!);
    }
    expect([envelope.low, envelope.high]).toEqual([low, high]);
  });
});

/** Times that rise, now and then several at one moment, with a value for each. */
const line = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 40 }), value), { minLength: 1, maxLength: 300 })
  .map((steps) => {
    let timeUs = 0;
    const times = Float64Array.from(steps, ([step]) => (timeUs += step));
    const y = Float64Array.from(steps, ([, each]) => each);
    return { times, y, envelope: createEnvelope(y), endUs: timeUs + 10 };
  });
const span = fc
  .tuple(fc.integer({ min: -50, max: 6000 }), fc.integer({ min: 1, max: 6000 }), fc.integer({ min: 1, max: 40 }))
  .map(([fromUs, width, columns]) => ({ fromUs, toUs: fromUs + width, columns }));

describe('a line reduced to columns', () => {
  it('keeps every extreme that holds at some moment of a column, and what holds at its ends', () => {
    fc.assert(
      fc.property(line, span, (made, view) => {
        const { times, y, endUs } = made;
        const points = reduceLine(made, view, endUs);
        const width = (view.toUs - view.fromUs) / view.columns;
        for (let column = 0; column < view.columns; column += 1) {
          const from = view.fromUs + column * width;
          const to = column + 1 === view.columns ? view.toUs : view.fromUs + (column + 1) * width;
          const [first, low, high, last] = points.subarray(
            column * POINTS_PER_COLUMN,
            (column + 1) * POINTS_PER_COLUMN,
          );
          if (from > endUs) {
            expect([first, low, high, last]).toEqual([Number.NaN, Number.NaN, Number.NaN, Number.NaN]);
            continue;
          }
          // Naively: each entry holds from its time until the next one's.
          const held = [...y].filter((_, at) => times[at]! <= to && (at + 1 === times.length || times[at + 1]! > from));
          expect(extremesOf([low!, high!])).toEqual(extremesOf(held));
          const at = (moment: number): number => {
            const index = lastAtOrBefore(times, moment);
            return index < 0 ? Number.NaN : y[index]!;
          };
          expect([first, last]).toEqual([at(from), at(to)]);
        }
      }),
      { numRuns: 400 },
    );
  });
});

describe('stretches reduced to what is seen', () => {
  const kinds = fc
    .array(fc.tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 0, max: 2 })), { minLength: 1, maxLength: 200 })
    .map((steps) => {
      let timeUs = 0;
      return {
        times: Float64Array.from(steps, ([step]) => (timeUs += step)),
        kinds: Float64Array.from(steps, ([, kind]) => kind),
        endUs: timeUs + 30,
      };
    });

  it('lose no moment of a stretch, and add less than a pixel', () => {
    fc.assert(
      fc.property(kinds, span, ({ times, kinds: list, endUs }, view) => {
        const bands = reduceBands(times, list, view, endUs);
        const pixel = (view.toUs - view.fromUs) / view.columns;
        const covering = (moment: number) => bands.filter(({ fromUs, toUs }) => fromUs <= moment && moment <= toUs);
        times.forEach((startsUs, at) => {
          const endsUs = at + 1 < times.length ? times[at + 1]! : endUs;
          for (const moment of [startsUs, (startsUs + endsUs) / 2, endsUs - 1e-6]) {
            if (moment < view.fromUs || moment > view.toUs || moment > endUs) continue;
            if (list[at] !== 0) expect(covering(moment).length).toBeGreaterThan(0);
            // A stretch of 0 longer than a pixel stays open in its middle.
            else if (endsUs - startsUs > pixel && moment !== startsUs && startsUs >= view.fromUs && endsUs <= view.toUs)
              if (moment < endsUs - 1e-6) expect(covering(moment)).toEqual([]);
          }
        });
        for (const { fromUs, toUs } of bands) {
          expect(fromUs).toBeGreaterThanOrEqual(view.fromUs);
          expect(toUs).toBeLessThanOrEqual(view.toUs);
        }
        expect(bands.length).toBeLessThanOrEqual(2 * view.columns + 2);
      }),
      { numRuns: 400 },
    );
  });
});
