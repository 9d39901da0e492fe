import { type Rational, ZERO, lowestTerms } from './rational.ts';

/** a + b, exact. */
export function add(a: Rational, b: Rational): Rational {
  if (a.den === b.den) return lowestTerms(a.num + b.num, a.den);
  return lowestTerms(a.num * b.den + b.num * a.den, a.den * b.den);
}

/** a − b, exact. */
export function sub(a: Rational, b: Rational): Rational {
  if (a.den === b.den) return lowestTerms(a.num - b.num, a.den);
  return lowestTerms(a.num * b.den - b.num * a.den, a.den * b.den);
}

/** a · b, exact. */
export function mul(a: Rational, b: Rational): Rational {
  return lowestTerms(a.num * b.num, a.den * b.den);
}

/** a / b, exact. @throws RangeError when b is 0. */
export function div(a: Rational, b: Rational): Rational {
  if (b.num === 0n) throw new RangeError('division by zero');
  return lowestTerms(a.num * b.den, a.den * b.num);
}

/** −a. */
export function neg(a: Rational): Rational {
  return a.num === 0n ? ZERO : { num: -a.num, den: a.den };
}

/** |a|. */
export function abs(a: Rational): Rational {
  return a.num < 0n ? { num: -a.num, den: a.den } : a;
}

/** 1 / a. @throws RangeError when a is 0. */
export function inverse(a: Rational): Rational {
  if (a.num === 0n) throw new RangeError('division by zero');
  return a.num < 0n ? { num: -a.den, den: -a.num } : { num: a.den, den: a.num };
}

/** −1 when a < b, 0 when they are equal, 1 when a > b. */
export function compare(a: Rational, b: Rational): -1 | 0 | 1 {
  const left = a.den === b.den ? a.num : a.num * b.den;
  const right = a.den === b.den ? b.num : b.num * a.den;
  return left < right ? -1 : left > right ? 1 : 0;
}

/** Whether a and b are the same number. Lowest terms make this two comparisons. */
export function equals(a: Rational, b: Rational): boolean {
  return a.num === b.num && a.den === b.den;
}

/** −1, 0 or 1 as a is negative, zero or positive. */
export function sign(a: Rational): -1 | 0 | 1 {
  return a.num < 0n ? -1 : a.num > 0n ? 1 : 0;
}

/** Whether a is a whole number. */
export function isInteger(a: Rational): boolean {
  return a.den === 1n;
}

/** The least of one or more numbers. */
export function minOf(first: Rational, ...rest: readonly Rational[]): Rational {
  let least = first;
  for (const r of rest) if (compare(r, least) < 0) least = r;
  return least;
}

/** The greatest of one or more numbers. */
export function maxOf(first: Rational, ...rest: readonly Rational[]): Rational {
  let greatest = first;
  for (const r of rest) if (compare(r, greatest) > 0) greatest = r;
  return greatest;
}
