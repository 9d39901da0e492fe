import { type Interval, compare } from '../../number/index.ts';
import type { NumberDomain } from '../domain/value-domain.ts';
import { type PiecewiseFunction, chain, imageOf, sameOn } from '../function/pieces.ts';
import type { Saturation, Stage } from './route-analysis.ts';

/** The stages that cut a part of the range off, each with whether the target could have shown some of that part. */
export function saturationsOf(stages: readonly Stage[], target: NumberDomain): readonly Saturation[] {
  if (stages.every(({ cutLow, cutHigh }) => cutLow === null && cutHigh === null)) return [];
  return stages.flatMap((stage): Saturation[] => {
    if (stage.cutLow === null && stage.cutHigh === null) return [];
    const input = stage.input.find((domain) => domain?.kind === 'number');
    const rest = restAfter(stages, stage.index);
    const visible = (cut: Interval | null): boolean =>
      cut !== null && rest !== null && reaches(cut, rest, target.interval);
    return [
      {
        index: stage.index,
        below: stage.cutLow,
        above: stage.cutHigh,
        unit: input?.kind === 'number' ? input.unitText : '',
        // Beyond the ends of a curve nothing is known, so nothing is withheld there.
        couldBeShown: stage.step.do === 'limit' && (visible(stage.cutLow) || visible(stage.cutHigh)),
      },
    ];
  });
}

/** All later stages as one function; null when one of them is no function of one value. */
function restAfter(stages: readonly Stage[], index: number): PiecewiseFunction | null {
  let rest: PiecewiseFunction = sameOn(null);
  for (const { effects } of stages.slice(index + 1)) {
    const effect = effects.length === 1 ? effects[0] : null;
    if (!effect) return null;
    switch (effect.kind) {
      case 'function':
        rest = chain(rest, effect.pieces);
        break;
      case 'rate-limit':
      case 'smooth':
      case 'debounce':
      case 'delay':
        break;
      default:
        return null;
    }
  }
  return rest;
}

/** Whether a part of the cut, of more than one value, would arrive within what the target shows. */
function reaches(cut: Interval, rest: PiecewiseFunction, shown: Interval | null): boolean {
  const image = imageOf(chain(sameOn(cut), rest));
  if (image === null || shown === null) return image !== null;
  return (
    (image.lo === null || compare(image.lo, shown.hi) < 0) && (image.hi === null || compare(shown.lo, image.hi) < 0)
  );
}
