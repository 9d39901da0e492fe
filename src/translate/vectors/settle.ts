import { toNumber, width } from '../../number/index.ts';
import type { PlannedRoute } from '../plan/types.ts';
import { steepest, targetStep } from './working-error.ts';

/** Time constants after which a filter has come so close that bands behind it decide as they do in the end. */
const SMOOTH_DECIDES = 20;

/**
 * How long the steps of a route may take until what they give is steady, in µs; null when that is not known (a limit on the rate of a value
 * without ends). `quick`: only what must have passed for a new value to count from a known state, not what merely comes near it.
 */
export function settleUs(planned: PlannedRoute, periodUs: number, quick: boolean): number | null {
  const { stages } = planned.compiled.analysis;
  let total = 0;
  const decides = stages.findLastIndex(({ effects }) => effects.some((effect) => effect?.kind === 'bands'));
  for (const [at, { effects, input }] of stages.entries()) {
    let most = 0;
    for (const [index, effect] of effects.entries()) {
      const decided = at < decides;
      switch (effect?.kind) {
        case 'debounce':
          most = Math.max(most, effect.forMs * 1000 + 2 * periodUs);
          break;
        case 'delay':
          most = Math.max(most, effect.byMs * 1000 + 2 * periodUs);
          break;
        case 'bands':
          most = Math.max(most, effect.dwellMs === 0 ? 0 : effect.dwellMs * 1000 + 2 * periodUs);
          break;
        case 'smooth':
          if (quick && !decided) break;
          most = Math.max(
            most,
            effect.timeConstantMs * 1000 * (decided ? SMOOTH_DECIDES : constantsFor(planned, at, index)) + 2 * periodUs,
          );
          break;
        case 'rate-limit': {
          if (quick && !decided) break;
          const domain = input[index];
          const interval = domain?.kind === 'number' ? domain.interval : null;
          const rates = [effect.risePerS, effect.fallPerS].flatMap((rate) => (rate === null ? [] : [toNumber(rate)]));
          if (rates.length === 0) break;
          if (interval === null || Math.min(...rates) === 0) return null;
          most = Math.max(most, (toNumber(width(interval)) / Math.min(...rates)) * 1e6 + 2 * periodUs);
          break;
        }
        default:
          break;
      }
    }
    total += most;
  }
  return Math.ceil(total);
}

/** Time constants after which what a filter still lacks of the widest step is less than half a step of the target. */
function constantsFor(planned: PlannedRoute, at: number, index: number): number {
  const { stages, target } = planned.compiled.analysis;
  const domain = stages[at]!.input[index];
  if (domain?.kind !== 'number' || domain.interval === null) return SMOOTH_DECIDES;
  if (target?.kind === 'number' && target.coding?.kind === 'float') return SMOOTH_DECIDES;
  const span = toNumber(width(domain.interval)) * steepest(stages, at + 1);
  const constants = Math.log((2 * span) / targetStep(planned));
  return Number.isFinite(constants) ? Math.min(SMOOTH_DECIDES, Math.max(1, constants)) : SMOOTH_DECIDES;
}
