import { toNumber } from '../../number/index.ts';
import type { Segment } from '../program/types.ts';

const MOST = 2n ** 50n;

/**
 * factor and offset for which floor(factor·x + offset) in doubles is exactly (a·x + b) / d rounded half away from zero, for every
 * input of a segment with c = 0; null where that cannot be promised.
 *
 * Why it is exact: rounding up at halves is floor((a·x + b + ⌊d/2⌋) / d). The value under the floor is a multiple of 1/d, so half of
 * that, 1/(2d), may be added without reaching the next integer, and then every value lies at least 1/(2d) from any integer. The doubles
 * are off by less than 4·2^−53 of the greatest of |a·x|, |b + d| and their sum over d, which is below 1/(2d) while those stay below 2^50.
 * Rounding up and rounding away differ only for a negative value exactly half-way, which is possible only for even d.
 */
export function flooredLine({ lo, hi, a, b, c, d }: Segment): readonly [factor: number, offset: number] | null {
  if (c !== 0n) return null;
  const size = (n: bigint): bigint => (n < 0n ? -n : n);
  const shifted = b + (d >> 1n);
  for (const x of [lo, hi]) {
    if (size(a * x) >= MOST || size(a * x + shifted) >= MOST) return null;
    if (a * x + b < 0n && d % 2n === 0n) return null;
  }
  if (size(shifted) + d >= MOST) return null;
  return [toNumber({ num: a, den: d }), toNumber({ num: 2n * shifted + 1n, den: 2n * d })];
}
