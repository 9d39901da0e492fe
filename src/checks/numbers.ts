import {
  formatDecimal,
  toExact,
  toNumber,
  toRational,
  type Affine,
  type ExactNumber,
  type Interval,
  type Rational,
} from '../number/index.ts';
import { named, type NamedValue } from './rule.ts';

/** A number for people: at most nine digits. */
export function text(value: Rational): string {
  return formatDecimal(value, { maxSignificant: 9 });
}

/** `0.25·x + 5`. */
export function affineText({ factor, offset }: Affine): string {
  const times = `${text(factor)}·x`;
  if (offset.num === 0n) return times;
  return offset.num < 0n ? `${times} − ${text({ num: -offset.num, den: offset.den })}` : `${times} + ${text(offset)}`;
}

export function intervalText({ lo, hi }: Interval, unit: string): string {
  return `${text(lo)} … ${text(hi)}${unit === '' ? '' : ` ${unit}`}`;
}

export function namedNumber(name: string, value: Rational, unit: string): NamedValue {
  return named(name, text(value), unit);
}

/** The scaling as a `linear` step of a document. */
export function linearStep(affine: Affine, unit: string) {
  return { do: 'linear', factor: toExact(affine.factor), offset: toExact(affine.offset), unit } as const;
}

/** The nearest double of a number as documents write it, fractions too. */
export function float(exact: ExactNumber): number {
  return toNumber(toRational(exact));
}
