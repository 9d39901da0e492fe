import { type Affine, applyAffine } from './affine.ts';
import { compare, maxOf, minOf, sub } from './arithmetic.ts';
import type { Rational } from './rational.ts';

/** All numbers from `lo` to `hi`, both ends included; lo ≤ hi. */
export interface Interval {
  readonly lo: Rational;
  readonly hi: Rational;
}

/** The closed interval with these two ends, given in either order. */
export function intervalOf(a: Rational, b: Rational): Interval {
  return compare(a, b) <= 0 ? { lo: a, hi: b } : { lo: b, hi: a };
}

/** What an interval becomes under y = factor · x + offset; a negative factor swaps the ends. */
export function mapAffine(interval: Interval, affine: Affine): Interval {
  const atLo = applyAffine(affine, interval.lo);
  const atHi = applyAffine(affine, interval.hi);
  return affine.factor.num < 0n ? { lo: atHi, hi: atLo } : { lo: atLo, hi: atHi };
}

/** What both intervals hold, or null when they share nothing; touching ends give an interval of width 0. */
export function intersect(a: Interval, b: Interval): Interval | null {
  const lo = maxOf(a.lo, b.lo);
  const hi = minOf(a.hi, b.hi);
  return compare(lo, hi) <= 0 ? { lo, hi } : null;
}

/** Whether a number, or the whole of another interval, lies within `outer`; its ends count as within. */
export function contains(outer: Interval, inner: Rational | Interval): boolean {
  const lo = 'lo' in inner ? inner.lo : inner;
  const hi = 'lo' in inner ? inner.hi : inner;
  return compare(outer.lo, lo) <= 0 && compare(hi, outer.hi) <= 0;
}

/** The least interval that holds both. */
export function hull(a: Interval, b: Interval): Interval {
  return { lo: minOf(a.lo, b.lo), hi: maxOf(a.hi, b.hi) };
}

/** hi − lo, never negative. */
export function width(interval: Interval): Rational {
  return sub(interval.hi, interval.lo);
}
