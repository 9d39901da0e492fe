import { type Interval, type Rational, abs, equals, hull, mul } from '../../number/index.ts';
import type { NamedState, NumberDomain, SpecialRaw, StateDomain, ValueDomain } from '../domain/value-domain.ts';
import type { Unit } from '../../units/index.ts';
import { type PiecewiseFunction, chain, imageOf, sameOn, valueAt } from '../function/pieces.ts';
import { affineOf, isConstant } from '../function/fraction.ts';

/** One value of a source that has finitely many, and what it is by now. */
export interface Carried {
  readonly source: number;
  /** The source's state; null where the origin is a stretch of numbers or a combination. */
  readonly origin: string | null;
  readonly now: Now;
}

export type Now =
  | { readonly kind: 'state'; readonly label: string }
  | { readonly kind: 'number'; readonly value: Rational }
  /** Lost at a step, which had nothing for it. */
  | { readonly kind: 'lost'; readonly at: number };

/** A value on its way through a route. */
export interface Track {
  /** Null when faults leave open what it is. */
  readonly domain: ValueDomain | null;
  /** The source it comes from; null after a combining step over several. */
  readonly source: number | null;
  /** Source physical → here, on the source's interval; null unless a number all the way. */
  readonly reach: PiecewiseFunction | null;
  /** Every value it can have, where they can be listed. */
  readonly carried: readonly Carried[] | null;
}

export const LOST: Track = { domain: null, source: null, reach: null, carried: null };

/** A source as it enters the route. */
export function trackOfSource(domain: ValueDomain | null, source: number): Track {
  if (domain === null) return { ...LOST, source };
  switch (domain.kind) {
    case 'number':
      return { domain, source, reach: sameOn(domain.interval), carried: null };
    case 'state':
      return {
        domain,
        source,
        reach: null,
        carried: labelsOf(domain).map((label) => ({ source, origin: label, now: { kind: 'state', label } })),
      };
    case 'text':
    case 'frame':
      return { domain, source, reach: null, carried: null };
  }
}

/** The labels of a state domain, each once, in its order. */
export function labelsOf(domain: StateDomain): readonly string[] {
  return [...new Set(domain.states.map(({ label }) => label))];
}

/** A number between steps. */
export function numberDomain(
  unitText: string,
  unit: Unit | null,
  interval: Interval | null,
  resolution: Rational | null,
  specials: readonly SpecialRaw[],
): NumberDomain {
  return { kind: 'number', unitText, unit, interval, resolution, coding: null, specials };
}

/** A state between steps. */
export function stateDomain(labels: readonly string[], specials: readonly SpecialRaw[]): StateDomain {
  const states: readonly NamedState[] = [...new Set(labels)].map((label) => ({ label, raw: null }));
  return { kind: 'state', states, specials, unnamed: 0, lengthBits: null, field: null };
}

/** A number track after a function, in the unit given. */
export function throughFunction(
  track: Track,
  pieces: PiecewiseFunction,
  unitText: string,
  unit: Unit | null,
  at: number,
): Track {
  const domain = track.domain as NumberDomain;
  const reach = track.reach === null ? null : chain(track.reach, pieces);
  const carried = track.carried?.map((entry) => ({ ...entry, now: afterFunction(entry.now, pieces, at) })) ?? null;
  const interval =
    carried !== null
      ? intervalOfCarried(carried)
      : bounded(reach !== null ? reach : domain.interval === null ? null : chain(sameOn(domain.interval), pieces));
  const resolution = domain.resolution === null ? null : scaledResolution(domain.resolution, pieces);
  return { ...track, reach, carried, domain: numberDomain(unitText, unit, interval, resolution, domain.specials) };
}

function afterFunction(now: Now, pieces: PiecewiseFunction, at: number): Now {
  if (now.kind !== 'number') return now;
  const value = valueAt(pieces, now.value);
  return value === null ? { kind: 'lost', at } : { kind: 'number', value };
}

/** Least and greatest of the numbers among them; null when there is none. */
export function intervalOfCarried(carried: readonly Carried[]): Interval | null {
  let interval: Interval | null = null;
  for (const { now } of carried) {
    if (now.kind !== 'number') continue;
    const point = { lo: now.value, hi: now.value };
    interval = interval === null ? point : hull(interval, point);
  }
  return interval;
}

function bounded(pieces: PiecewiseFunction | null): Interval | null {
  const image = pieces === null ? null : imageOf(pieces);
  return image === null || image.lo === null || image.hi === null ? null : { lo: image.lo, hi: image.hi };
}

/** The step size after a function; null unless every stretch that is not flat stretches alike. */
function scaledResolution(resolution: Rational, pieces: PiecewiseFunction): Rational | null {
  let factor: Rational | null = null;
  for (const { fraction } of pieces) {
    if (isConstant(fraction)) continue;
    const affine = affineOf(fraction);
    if (affine === null) return null;
    const size = abs(affine.factor);
    if (factor !== null && !equals(factor, size)) return null;
    factor = size;
  }
  if (factor === null) return null;
  return mul(resolution, factor);
}
