import type { Table } from './table.ts';

const MOST_DECIMALS = 6;

/** Digits after the point in the shortest decimal form of a finite number: 0.125 → 3, 1e-7 → 7, 40 → 0. */
export function decimalsOf(value: number): number {
  const [mantissa = '', exponent = '0'] = String(value).toLowerCase().split('e');
  const point = mantissa.indexOf('.');
  const digits = point < 0 ? 0 : mantissa.length - point - 1;
  return Math.max(0, digits - Number(exponent));
}

/**
 * Precision of each column, in digits after the decimal point: as declared, else the most that any number of the
 * column needs, at most 6, so that the numbers of a column stand under one another.
 */
export function columnDecimals(table: Table): readonly number[] {
  return table.columns.map((column, at) => {
    if (column.decimals !== undefined) return column.decimals;
    let most = 0;
    for (const row of table.rows) {
      const cell = row.cells[at];
      if (typeof cell === 'number') most = Math.max(most, Math.min(MOST_DECIMALS, decimalsOf(cell)));
    }
    return most;
  });
}

/**
 * A finite number with a fixed count of decimals, decimal point, no grouping: the same in every locale.
 * A number too small to show a digit, or of 1e15 and above, keeps its shortest form rather than losing it.
 */
export function formatNumber(value: number, decimals: number): string {
  const size = Math.abs(value);
  if (size >= 1e15) return String(value);
  const text = value.toFixed(decimals);
  if (size > 0 && Number(text) === 0) return String(value);
  return Number(text) === 0 ? text.replace('-', '') : text;
}
