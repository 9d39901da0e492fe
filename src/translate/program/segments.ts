import { ceil, floor } from '../../number/index.ts';
import { type Fraction, isConstant } from '../function/fraction.ts';
import type { PiecewiseFunction } from '../function/pieces.ts';
import type { RawSpan } from '../domain/value-domain.ts';
import type { Segment } from './types.ts';

/**
 * A function of whole numbers as segments of integer arithmetic, on a span of inputs. Neighbouring pieces agree at a shared end, so
 * either may take it. A whole number at an open end, and one in no piece, is in no segment.
 */
export function segmentsOf(pieces: PiecewiseFunction, span: RawSpan): readonly Segment[] {
  const segments: Segment[] = [];
  let next = span.lo;
  for (const { lo, hi, openLo, openHi, fraction } of pieces) {
    let first = lo === null ? span.lo : openLo ? floor(lo) + 1n : ceil(lo);
    let last = hi === null ? span.hi : openHi ? ceil(hi) - 1n : floor(hi);
    if (first < next) first = next;
    if (last > span.hi) last = span.hi;
    if (first > last) continue;
    next = last + 1n;
    const segment = { lo: first, hi: last, ...withPositiveDivisor(fraction, first) };
    const before = segments.at(-1);
    if (before !== undefined && before.hi + 1n === first && sameFormula(before, segment)) {
      segments[segments.length - 1] = { ...before, hi: last };
    } else segments.push(segment);
  }
  return segments;
}

function sameFormula(x: Segment, y: Segment): boolean {
  return x.a === y.a && x.b === y.b && x.c === y.c && x.d === y.d;
}

/** The divisor keeps one sign between poles; this makes it the positive one. */
function withPositiveDivisor(fraction: Fraction, at: bigint): Fraction {
  const { a, b, c, d } = fraction;
  if (isConstant(fraction) || c === 0n) return d < 0n ? { a: -a, b: -b, c: 0n, d: -d } : fraction;
  return c * at + d < 0n ? { a: -a, b: -b, c: -c, d: -d } : fraction;
}

/** Nearest integer to n / d, d > 0, halves away from zero. */
export function divideHalfAway(n: bigint, d: bigint): bigint {
  const half = d >> 1n;
  return n >= 0n ? (n + half) / d : -((half - n) / d);
}

/** What a segment gives for an input. */
export function segmentValue({ a, b, c, d }: Segment, x: bigint): bigint {
  return divideHalfAway(a * x + b, c * x + d);
}

/** The segment that holds an input, or null. */
export function segmentAt(segments: readonly Segment[], x: bigint): Segment | null {
  let low = 0;
  let high = segments.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const segment = segments[middle]!;
    if (x < segment.lo) high = middle - 1;
    else if (x > segment.hi) low = middle + 1;
    else return segment;
  }
  return null;
}

/** Least and greatest output over all segments: each is monotone, so the ends tell. Null when there is none. */
export function outputSpan(segments: readonly Segment[]): RawSpan | null {
  let lo: bigint | null = null;
  let hi: bigint | null = null;
  for (const segment of segments) {
    for (const y of [segmentValue(segment, segment.lo), segmentValue(segment, segment.hi)]) {
      if (lo === null || y < lo) lo = y;
      if (hi === null || y > hi) hi = y;
    }
  }
  return lo === null || hi === null ? null : { lo, hi };
}

/** The greatest size of any number that occurs while a segment is worked out: products, sums, and the half added for rounding. */
export function greatestIntermediate(segments: readonly Segment[]): bigint {
  let most = 0n;
  const take = (n: bigint): void => {
    const size = n < 0n ? -n : n;
    if (size > most) most = size;
  };
  for (const { lo, hi, a, b, c, d } of segments) {
    take(d);
    take(b);
    take(a);
    take(c);
    for (const x of [lo, hi]) {
      const n = a * x + b;
      const divisor = c * x + d;
      const size = n < 0n ? -n : n;
      take(x);
      take(a * x);
      take(c * x);
      take(divisor);
      take(size + (divisor >> 1n));
    }
  }
  return most;
}
