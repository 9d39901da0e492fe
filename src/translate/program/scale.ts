import { type Affine, type Rational, compare, rational } from '../../number/index.ts';
import { affineOf, isConstant } from '../function/fraction.ts';
import { gcdOf } from '../function/gcd.ts';
import { type PiecewiseFunction, valueAt } from '../function/pieces.ts';
import { segmentsOf } from './segments.ts';
import type { RawSpan } from '../domain/value-domain.ts';

/** Counts that a working integer may reach: exact scales up to 2^50 (a double and an int64 hold them with room), chosen ones 2^30. */
const MOST_EXACT = 2n ** 50n;
const MOST_CHOSEN = 2n ** 30n;

/** factor and offset when a function is one straight line that is not flat over all of the span; else null. */
export function straightLine(pieces: PiecewiseFunction, span: RawSpan): Affine | null {
  const piece = pieces.find(({ lo, hi }) => covers(lo, hi, span));
  if (piece === undefined || isConstant(piece.fraction)) return null;
  return affineOf(piece.fraction);
}

function covers(lo: Rational | null, hi: Rational | null, span: RawSpan): boolean {
  return (lo === null || lo.num <= span.lo * lo.den) && (hi === null || span.hi * hi.den <= hi.num);
}

/** The greatest rational of which both are whole multiples; 0 only for two zeros. */
export function commonMeasure(a: Rational, b: Rational): Rational {
  return rational(gcdOf(a.num * b.den, b.num * a.den), a.den * b.den);
}

/** Everything that must be expressed in one scale: functions of integers, and single values. */
export interface ScaleNeeds {
  readonly functions: readonly { readonly pieces: PiecewiseFunction; readonly span: RawSpan }[];
  readonly values: readonly Rational[];
}

export interface Scale {
  /** Size of one count, in the unit of the values. */
  readonly count: Rational;
  /** Every value is a whole number of counts. */
  readonly exact: boolean;
}

/**
 * A scale for several values together: exact where all of them are straight lines and the counts stay below 2^50; else a power of
 * two (or one over it) with which the greatest value has at most 2^30 counts. `most` lowers both bounds.
 */
export function scaleFor(needs: ScaleNeeds, most: bigint = MOST_EXACT): Scale {
  let greatest: Rational = { num: 0n, den: 1n };
  const take = (value: Rational): void => {
    const size = value.num < 0n ? { num: -value.num, den: value.den } : value;
    if (compare(size, greatest) > 0) greatest = size;
  };
  let measure: Rational | null = { num: 0n, den: 1n };
  for (const { pieces, span } of needs.functions) {
    for (const { lo, hi } of segmentsOf(pieces, span)) {
      for (const x of [lo, hi]) {
        const y = valueAt(pieces, { num: x, den: 1n });
        if (y !== null) take(y);
      }
    }
    const line = straightLine(pieces, span);
    if (line === null || measure === null) measure = null;
    else measure = commonMeasure(commonMeasure(measure, line.factor), line.offset);
  }
  for (const value of needs.values) {
    take(value);
    if (measure !== null) measure = commonMeasure(measure, value);
  }
  if (measure !== null && measure.num !== 0n) {
    const counts = rational(greatest.num * measure.den, greatest.den * measure.num);
    if (compare(counts, { num: most, den: 1n }) <= 0) return { count: measure, exact: true };
  }
  return { count: powerOfTwoFor(greatest, most < MOST_CHOSEN ? most : MOST_CHOSEN), exact: false };
}

/** The least power of two with which a size has at most so many counts. */
export function powerOfTwoFor(size: Rational, most: bigint): Rational {
  if (size.num === 0n) return { num: 1n, den: 1n };
  let count: Rational = { num: 1n, den: 1n };
  const fits = (c: Rational): boolean => size.num * c.den <= most * c.num * size.den;
  while (!fits(count)) count = rational(count.num * 2n, count.den);
  for (let finer = rational(count.num, count.den * 2n); fits(finer); finer = rational(count.num, count.den * 2n))
    count = finer;
  return count;
}
