import { type Rational, abs, compare, div, parseExact, sub, toNumber } from '../../number/index.ts';
import type { RouteAnalysis, Stage } from '../analysis/route-analysis.ts';
import { isCombination } from '../analysis/effect.ts';
import type { PlannedRoute } from '../plan/types.ts';

/** By how much the stages from `from` on can enlarge a small difference; Infinity where one divides by the value. */
export function steepest(stages: readonly Stage[], from: number): number {
  let most = 1;
  for (const { effects } of stages.slice(from)) {
    let slope = 0;
    for (const effect of effects) {
      if (effect?.kind !== 'function') slope = Math.max(slope, 1);
      else
        for (const { fraction } of effect.pieces)
          slope = Math.max(slope, fraction.c === 0n ? Math.abs(Number(fraction.a) / Number(fraction.d)) : Infinity);
    }
    most *= slope;
  }
  return most;
}

/** What the working of a route may add to the rounding into its target, in the unit of what it delivers. */
export function workingError({ compiled: { program, analysis } }: PlannedRoute): number {
  const counts = program.working.flatMap(({ count, exact }) => {
    const size = exact ? null : parseExact(count);
    return size === null ? [] : [Math.abs(toNumber(size))];
  });
  if (counts.length === 0) return 0;
  return counts.reduce((sum, count) => sum + count, 0) * steepest(analysis.stages, firstKept(analysis));
}

/** The first stage at which a value is kept to a working resolution: it has memory, or makes one value of several. */
function firstKept({ stages }: RouteAnalysis): number {
  const at = stages.findIndex(({ effects }) => effects.some((effect) => effect !== null && effect.kind !== 'function'));
  const combines = stages.findIndex(({ effects }) => effects[0] && isCombination(effects[0]));
  return Math.max(0, Math.min(at < 0 ? 0 : at, combines < 0 ? at : combines));
}

/** Size of the smallest step that a target shows, in its unit (a wire: what a thousandth of its quantity means); 1 where it has none. */
export function targetStep({ compiled: { analysis } }: PlannedRoute): number {
  const { target } = analysis;
  const coding = target?.kind === 'number' ? target.coding : null;
  switch (coding?.kind) {
    case 'integer':
    case 'float':
      return Math.abs(toNumber(coding.scaling.factor)) || 1;
    case 'wire-scale':
      return Math.abs(toNumber(coding.scaling.factor)) / 1000 || 1;
    case 'wire-curve': {
      let flattest: Rational | null = null;
      for (let at = 1; at < coding.points.length; at += 1) {
        const [x0, y0] = coding.points[at - 1]!;
        const [x1, y1] = coding.points[at]!;
        if (compare(y0, y1) === 0 || compare(x0, x1) === 0) continue;
        const slope = abs(div(sub(y1, y0), sub(x1, x0)));
        if (flattest === null || compare(slope, flattest) < 0) flattest = slope;
      }
      return flattest === null ? 1 : toNumber(flattest) / 1000;
    }
    case undefined:
      return 1;
  }
}

/** Working coarser than this part of what the target spans makes no vector worth playing. */
const MOST_PART = 0.02;

/** Whether the working leaves so much room that no value of the target could be called wrong. */
export function tooCoarse(planned: PlannedRoute): boolean {
  const error = workingError(planned);
  if (error === 0) return false;
  const { target } = planned.compiled.analysis;
  if (target?.kind !== 'number') return !Number.isFinite(error);
  const span = target.interval === null ? null : toNumber(target.interval.hi) - toNumber(target.interval.lo);
  const step = targetStep(planned);
  return !(error <= step / 2 || (span !== null && error <= span * MOST_PART));
}
