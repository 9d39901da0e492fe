import { add, div, toNumber, type Interval, type Rational } from '../../number/index.ts';
import type { RouteAnalysis, SourceInput, ValueDomain } from '../../translate/index.ts';

/** What a source begins with: the middle of its range, or its first state. Null where it can have no value. */
export function firstInput(domain: ValueDomain | null): SourceInput | null {
  if (domain === null) return null;
  if (domain.kind === 'state') return domain.states[0] ? { kind: 'state', label: domain.states[0].label } : null;
  if (domain.kind !== 'number') return null;
  const { interval, coding } = domain;
  if (coding?.kind === 'integer' && coding.usable)
    return { kind: 'raw', raw: (coding.usable.lo + coding.usable.hi) / 2n };
  if (interval === null) return { kind: 'physical', value: { num: 0n, den: 1n } };
  return { kind: 'physical', value: div(add(interval.lo, interval.hi), { num: 2n, den: 1n }) };
}

export function firstInputs({ sources }: RouteAnalysis): readonly (SourceInput | null)[] {
  return sources.map(firstInput);
}

/** Where a value lies in a range, 0 at its low end to 1 at its high end; kept within. */
export function shareOf(value: Rational, { lo, hi }: Interval): number {
  const [low, high] = [toNumber(lo), toNumber(hi)];
  return high === low ? 0 : Math.min(1, Math.max(0, (toNumber(value) - low) / (high - low)));
}

const SLIDER_PARTS = 1000n;

/** The steps of a slider over a source: one for each usable raw value where they are few enough, else a thousand parts. */
export interface SliderScale {
  readonly count: number;
  readonly inputAt: (position: number) => SourceInput;
  readonly positionOf: (raw: bigint | number | null, value: Rational | null) => number;
}

const MOST_POSITIONS = 1n << 31n;

/** Null when the source has no range to slide over. */
export function sliderOf(domain: ValueDomain | null): SliderScale | null {
  if (domain?.kind !== 'number') return null;
  const { coding, interval } = domain;
  if (coding?.kind === 'integer' && coding.usable && coding.usable.hi - coding.usable.lo < MOST_POSITIONS) {
    const { lo, hi } = coding.usable;
    return {
      count: Number(hi - lo),
      inputAt: (position) => ({ kind: 'raw', raw: lo + BigInt(Math.round(position)) }),
      positionOf: (raw) => (typeof raw === 'bigint' ? Number((raw < lo ? lo : raw > hi ? hi : raw) - lo) : 0),
    };
  }
  if (interval === null) return null;
  const { lo, hi } = interval;
  return {
    count: Number(SLIDER_PARTS),
    inputAt: (position) => ({
      kind: 'physical',
      value: add(lo, {
        num: (hi.num * lo.den - lo.num * hi.den) * BigInt(Math.round(position)),
        den: hi.den * lo.den * SLIDER_PARTS,
      }),
    }),
    positionOf: (_raw, value) => (value === null ? 0 : Math.round(shareOf(value, interval) * Number(SLIDER_PARTS))),
  };
}
