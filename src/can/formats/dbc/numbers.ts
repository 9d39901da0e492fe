import type { DbcNumber } from './model.ts';

/** An exact decimal: `mantissa` · 10^`exponent`. */
export interface ExactDecimal {
  readonly mantissa: bigint;
  readonly exponent: number;
}

/** Numbers longer than this, or with an exponent beyond it, are not taken apart exactly: a hostile file could cost hours. */
export const MAX_EXACT_DIGITS = 400;

/** A number from its decimal text (kept exactly) or from a double (its shortest decimal). */
export function dbcNumber(of: number | bigint | string): DbcNumber {
  if (typeof of !== 'string') return { text: String(of), value: Number(of) };
  return { text: of, value: numberOf(of) };
}

function numberOf(text: string): number {
  const exact = exactDecimal(text);
  if (exact === null) return Number(text);
  return Number(/^[+-]?0[xX]/.test(text) ? exact.mantissa : text);
}

const NUMBER = /^([+-]?)(?:0[xX]([0-9a-fA-F]+)|(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d+))?)$/;

/** True when `text` is a number as the reader takes it: sign, digits, point, exponent; or 0x and hexadecimal digits. */
export function isNumberText(text: string): boolean {
  const match = NUMBER.exec(text);
  return match !== null && (match[2] !== undefined || (match[3] ?? '') !== '' || (match[4] ?? '') !== '');
}

/** `text` as an exact decimal; `null` when it is no number or beyond {@link MAX_EXACT_DIGITS}. */
export function exactDecimal(text: string): ExactDecimal | null {
  if (text.length > MAX_EXACT_DIGITS) return null;
  const match = NUMBER.exec(text);
  if (match === null) return null;
  const [, sign, hex, whole = '', fraction = '', exponentText = '0'] = match;
  const digits = hex === undefined ? whole + fraction : '';
  if (hex === undefined && digits === '') return null;
  const magnitude = hex === undefined ? BigInt(digits) : BigInt(`0x${hex}`);
  const exponent = (hex === undefined ? Number(exponentText) : 0) - fraction.length;
  if (Math.abs(exponent) > MAX_EXACT_DIGITS) return null;
  return { mantissa: sign === '-' ? -magnitude : magnitude, exponent };
}

/** 10^n for n ≥ 0. */
export function powerOfTen(n: number): bigint {
  return 10n ** BigInt(n);
}

/** 10^0 … 10^22: the powers of ten that a double holds exactly. */
export const EXACT_POWERS_OF_TEN: readonly number[] = Array.from({ length: 23 }, (_, n) => Number(`1e${n}`));

/** Plain decimal text of `mantissa` · 10^`exponent`: no exponent, no trailing zeros, `0` for zero. */
export function decimalText({ mantissa, exponent }: ExactDecimal): string {
  if (mantissa === 0n) return '0';
  const sign = mantissa < 0n ? '-' : '';
  let digits = (mantissa < 0n ? -mantissa : mantissa).toString();
  if (exponent >= 0) return sign + digits + '0'.repeat(exponent);
  const places = -exponent;
  if (digits.length <= places) digits = '0'.repeat(places - digits.length + 1) + digits;
  const whole = digits.slice(0, digits.length - places);
  let end = digits.length;
  while (end > digits.length - places && digits.charCodeAt(end - 1) === 0x30) end--;
  const fraction = digits.slice(digits.length - places, end);
  return sign + whole + (fraction === '' ? '' : `.${fraction}`);
}

/** `numerator / denominator` rounded to a whole number, half away from zero. `denominator` is not 0. */
export function divideRounded(numerator: bigint, denominator: bigint): bigint {
  const negative = numerator < 0n !== denominator < 0n;
  const n = numerator < 0n ? -numerator : numerator;
  const d = denominator < 0n ? -denominator : denominator;
  const quotient = (2n * n + d) / (2n * d);
  return negative ? -quotient : quotient;
}
