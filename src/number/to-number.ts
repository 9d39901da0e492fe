import type { Rational } from './rational.ts';

const SAFE = BigInt(Number.MAX_SAFE_INTEGER);
const MANTISSA_BITS = 53;
const LEAST_EXPONENT = -1074;

/**
 * The nearest IEEE 754 double, ties to even, as `Number('…')` would give for the same value. Beyond the largest double it is
 * ±Infinity, below half the smallest it is 0 (never −0).
 * Source: IEEE 754-2019 §4.3.1 roundTiesToEven.
 */
export function toNumber(a: Rational): number {
  // Both parts exact as doubles: one division, correctly rounded by IEEE 754.
  if (a.num <= SAFE && a.num >= -SAFE && a.den <= SAFE) return Number(a.num) / Number(a.den);
  if (a.den === 1n) return Number(a.num);
  const size = nearestDouble(a.num < 0n ? -a.num : a.num, a.den);
  return a.num < 0n && size !== 0 ? -size : size;
}

function nearestDouble(num: bigint, den: bigint): number {
  // num/den lies in (2^(d−1), 2^(d+1)) where d is the difference of bit lengths; one compare settles which half.
  let exponent = bitLength(num) - bitLength(den);
  if (scaledCompare(num, den, exponent) < 0) exponent -= 1;
  // 2^exponent ≤ num/den < 2^(exponent+1): the last bit kept is worth 2^unit.
  const unit = Math.max(exponent - MANTISSA_BITS + 1, LEAST_EXPONENT);
  if (exponent > 1023) return Infinity;
  const above = unit < 0 ? num << BigInt(-unit) : num;
  const below = unit > 0 ? den << BigInt(unit) : den;
  let mantissa = above / below;
  const rest = 2n * (above % below);
  if (rest > below || (rest === below && (mantissa & 1n) === 1n)) mantissa += 1n;
  // mantissa ≤ 2^53 is exact; the scaling below is exact too, in two steps because 2^−1074 alone may be the unit.
  const first = Math.max(unit, -1022);
  return Number(mantissa) * 2 ** first * 2 ** (unit - first);
}

function scaledCompare(num: bigint, den: bigint, exponent: number): number {
  const left = exponent < 0 ? num << BigInt(-exponent) : num;
  const right = exponent > 0 ? den << BigInt(exponent) : den;
  return left < right ? -1 : left > right ? 1 : 0;
}

function bitLength(n: bigint): number {
  const hex = n.toString(16);
  const top = Number.parseInt(hex[0] ?? '0', 16);
  return (hex.length - 1) * 4 + (32 - Math.clz32(top));
}
