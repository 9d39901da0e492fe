import { decimalPlaces } from './exact.ts';
import type { Rational } from './rational.ts';
import { roundHalfAway } from './rounding.ts';
import { lowestTerms } from './rational.ts';

export interface DecimalLimits {
  /** Most digits kept, counted from the first that is not zero. Default: no limit for a decimal that ends, else 15. */
  readonly maxSignificant?: number;
  /** Most digits kept after the decimal point. Default: no limit of its own. */
  readonly maxFraction?: number;
}

const DEFAULT_SIGNIFICANT = 15;
/** Plain digits from 1e-7 up to 1e21, powers of ten outside: where JavaScript itself changes over. */
const LEAST_PLAIN = -7;
const GREATEST_PLAIN = 21;

/**
 * r as decimal text: exact where it fits the limits, else rounded half away from zero; no trailing zeros, no thousands
 * separators, "." as the point. 1/8 → "0.125"; 2/3 with maxFraction 2 → "0.67"; −0.004 with maxFraction 2 → "0".
 * Integer digits beyond `maxSignificant` become zeros: 123456 with 3 → "123000".
 */
export function formatDecimal(r: Rational, limits: DecimalLimits = {}): string {
  if (r.num === 0n) return '0';
  const size = r.num < 0n ? { num: -r.num, den: r.den } : r;
  const ends = decimalPlaces(r);
  const significant = limits.maxSignificant ?? (ends === null ? DEFAULT_SIGNIFICANT : Infinity);
  const first = leadingPower(size);
  const wanted = Math.min(
    ends ?? Infinity,
    limits.maxFraction ?? Infinity,
    Number.isFinite(significant) ? significant - 1 - first : Infinity,
  );
  const digits = roundHalfAway(scaled(size, wanted));
  if (digits === 0n) return '0';
  const text = place(digits, wanted);
  return r.num < 0n ? `-${text}` : text;
}

/** r · 10^places. */
function scaled(r: Rational, places: number): Rational {
  return places >= 0
    ? lowestTerms(r.num * 10n ** BigInt(places), r.den)
    : lowestTerms(r.num, r.den * 10n ** BigInt(-places));
}

/** The power of ten of the first significant digit: 0.05 → −2, 5 → 0, 500 → 2. */
function leadingPower(r: Rational): number {
  let power = r.num.toString().length - r.den.toString().length;
  const atLeast = power >= 0 ? r.num >= r.den * 10n ** BigInt(power) : r.num * 10n ** BigInt(-power) >= r.den;
  if (!atLeast) power -= 1;
  return power;
}

function place(digits: bigint, places: number): string {
  const bare = digits.toString().replace(/0+$/, '');
  const dropped = digits.toString().length - bare.length;
  const power = bare.length - 1 + dropped - places;
  if (power < LEAST_PLAIN || power >= GREATEST_PLAIN) {
    const tail = bare.slice(1);
    return `${bare[0]}${tail === '' ? '' : `.${tail}`}e${power < 0 ? '' : '+'}${power}`;
  }
  if (power < 0) return `0.${'0'.repeat(-power - 1)}${bare}`;
  if (bare.length <= power + 1) return bare + '0'.repeat(power + 1 - bare.length);
  return `${bare.slice(0, power + 1)}.${bare.slice(power + 1)}`;
}
