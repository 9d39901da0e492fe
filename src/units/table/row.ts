import { type Rational, div, mul, toRational } from '../../number/index.ts';
import type { QuantityName } from '../quantity.ts';

/** One row of the unit table. `factor` and `offset` give the SI value: SI = factor · value + offset. */
export interface Row {
  readonly code: string;
  readonly title: string;
  readonly symbol: string;
  readonly quantity: QuantityName;
  readonly factor: Rational;
  readonly offset: Rational;
  readonly source: string;
}

/**
 * π as the fraction 245850922/78256779, a convergent of its continued fraction. It lies below π by 7.8e-17 (2.5e-17 relative),
 * less than half the last bit of a double, and keeps the integers of a compiled route short. It is the only figure of the table
 * that is not exact, and it cancels wherever both units are parts of a turn: deg ↔ {rev} is exact.
 */
export const PI = '245850922/78256779';

export const SI = 'SI Brochure, 9th ed. (2019)';
export const NIST_8 = 'NIST SP 811 (2008), B.8';
export const UCUM = 'UCUM, version 2.1';

/**
 * The exact value of a product or quotient of decimals, read left to right: exactly('0.45359237*9.80665/0.0254/0.0254').
 * It keeps the definition of a unit visible in its row. @throws RangeError when a part is not a number.
 */
export function exactly(expression: string): Rational {
  const parts = expression.split(/([*/])/);
  let value = toRational(parts[0] ?? '');
  for (let at = 1; at < parts.length; at += 2) {
    const part = toRational(parts[at + 1] ?? '');
    value = parts[at] === '*' ? mul(value, part) : div(value, part);
  }
  return value;
}

/** Rows of one quantity, each as [code, title, symbol, factor, source]. */
export function rowsOf(
  quantity: QuantityName,
  rows: readonly (readonly [code: string, title: string, symbol: string, factor: string, source: string])[],
): readonly Row[] {
  return rows.map(([code, title, symbol, factor, source]) => ({
    code,
    title,
    symbol,
    quantity,
    factor: exactly(factor),
    offset: toRational(0),
    source,
  }));
}

/** Rows of one quantity whose zero is not that of the SI unit: [code, title, symbol, factor, offset, source]. */
export function pointRowsOf(
  quantity: QuantityName,
  rows: readonly (readonly [
    code: string,
    title: string,
    symbol: string,
    factor: string,
    offset: string,
    source: string,
  ])[],
): readonly Row[] {
  return rows.map(([code, title, symbol, factor, offset, source]) => ({
    code,
    title,
    symbol,
    quantity,
    factor: exactly(factor),
    offset: exactly(offset),
    source,
  }));
}
