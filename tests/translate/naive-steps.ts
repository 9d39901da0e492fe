// The steps of a route done the plainest way, value by value, for tests to compare with. Not a test itself.
import { type Rational, add, compare, div, mul, sub, toRational } from '../../src/number/index.ts';
import type { Step } from '../../src/model/index.ts';

/** A physical value after steps that all work in one unit; null where there is none. */
export function naiveSteps(value: Rational, steps: readonly Step[]): Rational | null {
  let x = value;
  for (const step of steps) {
    const next = naiveStep(x, step);
    if (next === null) return null;
    x = next;
  }
  return x;
}

function naiveStep(x: Rational, step: Step): Rational | null {
  switch (step.do) {
    case 'linear':
      return add(mul(toRational(step.factor), x), toRational(step.offset));
    case 'limit': {
      if (step.min !== undefined && compare(x, toRational(step.min)) < 0) return toRational(step.min);
      if (step.max !== undefined && compare(x, toRational(step.max)) > 0) return toRational(step.max);
      return x;
    }
    case 'reciprocal':
      return x.num === 0n ? null : div(toRational(step.k), x);
    case 'curve': {
      const points = step.points.map(([a, b]) => [toRational(a), toRational(b)] as const);
      const first = points[0]!;
      const last = points.at(-1)!;
      if (compare(x, first[0]) < 0) return step.outside === 'clamp' ? first[1] : null;
      if (compare(x, last[0]) > 0) return step.outside === 'clamp' ? last[1] : null;
      for (let i = 1; i < points.length; i += 1) {
        const [x0, y0] = points[i - 1]!;
        const [x1, y1] = points[i]!;
        if (compare(x, x1) > 0) continue;
        return add(y0, div(mul(sub(y1, y0), sub(x, x0)), sub(x1, x0)));
      }
      return null;
    }
    default:
      throw new Error(`no naive form of ${step.do}`);
  }
}
