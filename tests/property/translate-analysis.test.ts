import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Rational, abs, compare, div, roundHalfAway, sub, toRational } from '../../src/number/index.ts';
import { analyseRoute } from '../../src/translate/index.ts';
import { anySignal, anySteps, physicalOf, rawsOf } from '../translate/arbitrary.ts';
import { routeBetween } from '../translate/bench-pairing.ts';
import { naiveSteps } from '../translate/naive-steps.ts';

const small = fc.integer({ min: -40, max: 40 });
const decimal = small.map((n) => n / 8);
const nonZero = decimal.filter((n) => n !== 0);

describe('static analysis against running every raw value through the steps', () => {
  it('clips exactly what the target cannot show, and bounds what is delivered', () => {
    fc.assert(
      fc.property(anySignal('S'), anySignal('T'), anySteps, (source, target, steps) => {
        const { pairing, route } = routeBetween([source], target, steps);
        const { clips, delivered, target: end } = analyseRoute(pairing, route);
        if (delivered?.kind !== 'number' || end?.kind !== 'number') throw new Error('numbers were routed');
        const shown = end.interval!;
        for (const raw of rawsOf(source)) {
          const from = physicalOf(raw, source);
          const to = naiveSteps(from, steps);
          if (to === null) continue;
          const { interval } = delivered;
          if (interval) expect(compare(interval.lo, to) <= 0 && compare(to, interval.hi) <= 0).toBe(true);
          // No bounded interval means that the values grow without end near a division by zero: nothing is claimed then.
          if (!interval) continue;
          const beyond = compare(to, shown.lo) < 0 || compare(shown.hi, to) < 0;
          const within = clips.filter((clip) => compare(clip.from, from) <= 0 && compare(from, clip.to) <= 0);
          if (beyond) expect(within.length).toBeGreaterThan(0);
          // The end of a clip that touches the shown part is itself shown.
          else for (const clip of within) expect(compare(to, clip.targetEnd)).toBe(0);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('states the worst rounding of an affine chain exactly', () => {
    fc.assert(
      fc.property(anySignal('S'), anySignal('T'), nonZero, decimal, (source, target, factor, offset) => {
        const { pairing, route } = routeBetween([source], target, [{ do: 'linear', factor, offset, unit: 'V' }]);
        const { worstError } = analyseRoute(pairing, route);
        let worst: Rational = toRational(0);
        for (const raw of rawsOf(source)) {
          const value = naiveSteps(physicalOf(raw, source), route.steps!)!;
          const steps = div(sub(value, toRational(target.offset)), toRational(target.factor));
          const off = abs(sub(steps, { num: roundHalfAway(steps), den: 1n }));
          if (compare(off, worst) > 0) worst = off;
        }
        const claimed = worstError!.targetSteps;
        // Half a step is claimed where the source has too few values for all remainders to occur.
        expect(compare(worst, claimed)).toBeLessThanOrEqual(0);
        if (compare(claimed, toRational('1/2')) < 0) expect(worst).toEqual(claimed);
      }),
      { numRuns: 400 },
    );
  });
});
