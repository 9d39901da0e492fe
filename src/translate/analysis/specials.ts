import { compare } from '../../number/index.ts';
import type { NumberDomain, SpecialRaw, ValueDomain } from '../domain/value-domain.ts';
import { physicalOfRaw } from '../domain/signal-domain.ts';
import type { Arrival } from './arrival.ts';
import type { SpecialOutcome, Stage } from './route-analysis.ts';

/** What each not-available and error raw value of each source becomes. */
export function specialOutcomes({ route, sources, stages, target }: Arrival): readonly SpecialOutcome[] {
  if (!sources.some((source) => specialsOf(source).length > 0)) return [];
  return sources.flatMap((domain, source) =>
    specialsOf(domain).map((special): SpecialOutcome => {
      const { raw, means, label } = special;
      const base = { source, raw, means, label };
      if (standsIn(stages, source, sources.length)) return { ...base, becomes: { kind: 'other-source' } };
      const image = specialFor(target, means);
      if (image !== null) return { ...base, becomes: { kind: 'special', raw: image.raw, means: image.means } };
      return { ...base, becomes: { kind: route.onLoss === undefined ? 'held' : 'loss-behaviour' } };
    }),
  );
}

function specialsOf(domain: ValueDomain | null): readonly SpecialRaw[] {
  return domain !== null && 'specials' in domain ? domain.specials : [];
}

/** The target's raw value that says the same, or at least that there is no value; the first of each that the platform lists. */
export function specialFor(target: ValueDomain | null, means: SpecialRaw['means']): SpecialRaw | null {
  const specials = specialsOf(target);
  return specials.find((special) => special.means === means) ?? specials[0] ?? null;
}

/** Whether another source can stand in where this one has no value. */
function standsIn(stages: readonly Stage[], source: number, count: number): boolean {
  if (count < 2) return false;
  return stages.some(({ effects }) => {
    const effect = effects[0];
    switch (effect?.kind) {
      case 'first-valid':
      case 'any-of':
      case 'all-of':
        return true;
      case 'choose-by':
        return effect.selector !== source;
      default:
        return false;
    }
  });
}

/** Special raw values of the target inside its usable range which an ordinary value can round to. */
export function landingOnSpecial(delivered: NumberDomain, target: NumberDomain): readonly SpecialRaw[] {
  const { coding, specials } = target;
  if (specials.length === 0 || coding?.kind !== 'integer' || coding.usable === null) return [];
  const { usable, scaling } = coding;
  return specials.filter(({ raw: text }) => {
    const raw = BigInt(text);
    if (raw <= usable.lo || raw >= usable.hi) return false;
    const value = physicalOfRaw(raw, scaling);
    const { interval } = delivered;
    return interval === null || (compare(interval.lo, value) <= 0 && compare(value, interval.hi) <= 0);
  });
}
