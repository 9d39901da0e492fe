import { type Rational, ZERO, lowestTerms } from './rational.ts';
import { toNumber } from './to-number.ts';

/**
 * A number as documents write it: a JSON number, taken as its shortest decimal (0.1 is 1/10, not the double next to it), or a
 * string where a JSON number would lose something: "1/3", "0.1", "1e-5", "18446744073709551615".
 */
export type ExactNumber = number | string;

/** Longest text read and largest power of ten: both hold every double, and keep hostile input such as 1e999999999 cheap. */
const MAX_LENGTH = 1024;
const MAX_EXPONENT = 400;

const FORM = /^([+-]?)(\d+)(?:\.(\d*))?(?:[eE]([+-]?\d{1,4}))?$|^([+-]?)\.(\d+)(?:[eE]([+-]?\d{1,4}))?$/;
const FRACTION = /^([+-]?\d+)\s*\/\s*(\d+)$/;

const TENS: readonly bigint[] = Array.from({ length: 40 }, (_, power) => 10n ** BigInt(power));

function tenTo(power: number): bigint {
  return TENS[power] ?? 10n ** BigInt(power);
}

/**
 * Reads the document form of a number, exactly.
 * Null when it is not a finite number, has a zero denominator, is longer than 1,024 characters or has a power of ten outside ±400.
 */
export function parseExact(x: ExactNumber): Rational | null {
  if (typeof x === 'number') {
    if (Number.isSafeInteger(x)) return x === 0 ? ZERO : { num: BigInt(x), den: 1n };
    return Number.isFinite(x) ? parseDecimal(String(x)) : null;
  }
  if (typeof x !== 'string' || x.length > MAX_LENGTH) return null;
  const text = x.trim();
  return text.includes('/') ? parseFraction(text) : parseDecimal(text);
}

/** As `parseExact`, for input that has been checked already. @throws RangeError naming the input when it is not a number. */
export function toRational(x: ExactNumber): Rational {
  const read = parseExact(x);
  if (read === null) {
    const shown = String(x).length > 60 ? `${String(x).slice(0, 60)}…` : String(x);
    throw new RangeError(`"${shown}" is not an exact number: write a decimal such as 0.25, or a fraction such as 1/3`);
  }
  return read;
}

function parseFraction(text: string): Rational | null {
  const match = FRACTION.exec(text);
  if (match === null) return null;
  const den = BigInt(match[2] ?? '0');
  return den === 0n ? null : lowestTerms(BigInt((match[1] ?? '').replace('+', '')), den);
}

function parseDecimal(text: string): Rational | null {
  const match = FORM.exec(text);
  if (match === null) return null;
  const negative = (match[1] ?? match[5]) === '-';
  const whole = match[2] ?? '';
  const fraction = match[3] ?? match[6] ?? '';
  const exponent = Number(match[4] ?? match[7] ?? 0);
  if (Math.abs(exponent) > MAX_EXPONENT) return null;
  const digits = BigInt(whole + fraction);
  const num = negative ? -digits : digits;
  const scale = exponent - fraction.length;
  return scale >= 0 ? lowestTerms(num * tenTo(scale), 1n) : lowestTerms(num, tenTo(-scale));
}

/**
 * The shortest document form that reads back to exactly r: a JSON number when the shortest decimal of the nearest double is r,
 * else a decimal string when the decimal ends, else "n/d". `toRational(toExact(r))` equals r for every r within the bounds of
 * `parseExact`.
 */
export function toExact(r: Rational): ExactNumber {
  const near = toNumber(r);
  if (Number.isFinite(near)) {
    const back = parseExact(near);
    if (back !== null && back.num === r.num && back.den === r.den) return near;
  }
  if (r.den === 1n) return r.num.toString();
  return terminatingDecimal(r) ?? `${r.num}/${r.den}`;
}

/** How many decimal places r needs, or null when its decimal never ends. 1/8 → 3, 1/3 → null, 5 → 0. */
export function decimalPlaces(r: Rational): number | null {
  let rest = r.den;
  if (rest === 1n) return 0;
  let twos = 0;
  let fives = 0;
  while ((rest & 1n) === 0n) {
    rest >>= 1n;
    twos += 1;
  }
  while (rest % 5n === 0n) {
    rest /= 5n;
    fives += 1;
  }
  return rest === 1n ? Math.max(twos, fives) : null;
}

function terminatingDecimal(r: Rational): string | null {
  const places = decimalPlaces(r);
  if (places === null || places > MAX_EXPONENT) return null;
  const scaled = (r.num < 0n ? -r.num : r.num) * (tenTo(places) / r.den);
  const digits = scaled.toString().padStart(places + 1, '0');
  const text = `${digits.slice(0, digits.length - places)}.${digits.slice(digits.length - places)}`;
  return r.num < 0n ? `-${text}` : text;
}
