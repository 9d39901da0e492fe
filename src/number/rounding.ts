import type { Rational } from './rational.ts';

/** The greatest integer ≤ a. */
export function floor(a: Rational): bigint {
  if (a.den === 1n) return a.num;
  const towardsZero = a.num / a.den;
  return a.num < 0n ? towardsZero - 1n : towardsZero;
}

/** The least integer ≥ a. */
export function ceil(a: Rational): bigint {
  if (a.den === 1n) return a.num;
  const towardsZero = a.num / a.den;
  return a.num > 0n ? towardsZero + 1n : towardsZero;
}

/** The nearest integer; a value half-way goes away from zero: 2.5 → 3, −2.5 → −3. */
export function roundHalfAway(a: Rational): bigint {
  if (a.den === 1n) return a.num;
  const half = a.num < 0n ? -a.den : a.den;
  return (2n * a.num + half) / (2n * a.den);
}
