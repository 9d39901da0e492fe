/** An exact fraction. Always in lowest terms with `den` > 0; zero is 0/1. Build one with `rational`, never by hand. */
export interface Rational {
  readonly num: bigint;
  readonly den: bigint;
}

export const ZERO: Rational = { num: 0n, den: 1n };
export const ONE: Rational = { num: 1n, den: 1n };

const SAFE = BigInt(Number.MAX_SAFE_INTEGER);

/** Greatest common divisor, never negative. Numbers below 2^53 take the machine's own remainder: several times quicker. */
export function gcd(a: bigint, b: bigint): bigint {
  let x = a < 0n ? -a : a;
  let y = b < 0n ? -b : b;
  while (y > SAFE || x > SAFE) {
    if (y === 0n) return x;
    const rest = x % y;
    x = y;
    y = rest;
  }
  let small = Number(x);
  let other = Number(y);
  while (other !== 0) {
    const rest = small % other;
    small = other;
    other = rest;
  }
  return BigInt(small);
}

/** Brings num/den to lowest terms with a positive denominator. `den` must not be 0; this is not tested here. */
export function lowestTerms(num: bigint, den: bigint): Rational {
  if (den === 1n) return num === 0n ? ZERO : { num, den };
  if (num === 0n) return ZERO;
  const common = gcd(num, den);
  const divisor = den < 0n ? -common : common;
  return divisor === 1n ? { num, den } : { num: num / divisor, den: den / divisor };
}

/**
 * The fraction num/den in lowest terms.
 * @throws RangeError when `den` is 0 or a `number` argument is not an integer (decimal input belongs to `toRational`).
 */
export function rational(num: bigint | number, den: bigint | number = 1n): Rational {
  const above = wholeNumber(num);
  const below = wholeNumber(den);
  if (below === 0n) throw new RangeError(`${above}/0 is not a number: the denominator is zero`);
  return lowestTerms(above, below);
}

function wholeNumber(x: bigint | number): bigint {
  if (typeof x === 'bigint') return x;
  if (!Number.isInteger(x)) throw new RangeError(`${x} is not an integer: give a fraction as two integers`);
  return BigInt(x);
}
