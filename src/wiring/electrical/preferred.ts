import { E24, E6, E96 } from '../tables/preferred-values.ts';

export type Series = 'E6' | 'E24' | 'E96';

const values: Readonly<Record<Series, readonly number[]>> = { E6, E24, E96 };

/** Values of a series around `value`, ascending, over the decade below, its own and the one above. */
function around(series: Series, value: number): readonly number[] {
  const decade = Math.floor(Math.log10(value));
  return [decade - 1, decade, decade + 1].flatMap((exponent) =>
    values[series].map((base) => Number((base * 10 ** exponent).toPrecision(3))),
  );
}

/** Smallest preferred value at or above `value` (> 0), in its unit. */
export function preferredAtLeast(series: Series, value: number): number {
  return around(series, value).find((one) => one >= value * (1 - 1e-9))!;
}

/** Largest preferred value at or below `value` (> 0). */
export function preferredAtMost(series: Series, value: number): number {
  return around(series, value).findLast((one) => one <= value * (1 + 1e-9))!;
}

/** Preferred value nearest in proportion to `value` (> 0). */
export function preferredNearest(series: Series, value: number): number {
  return around(series, value).reduce((best, one) =>
    Math.abs(Math.log(one / value)) < Math.abs(Math.log(best / value)) ? one : best,
  );
}
