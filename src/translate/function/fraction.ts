import { type Affine, type Rational, rational } from '../../number/index.ts';
import { gcdOf } from './gcd.ts';

/**
 * The mapping y = (a·x + b) / (c·x + d) in whole numbers. Every step that has no memory is one of these on each stretch of its
 * input: conversion and `linear` (c = 0), a piece of a curve (c = 0), a limit (a = c = 0), `reciprocal` (a = d = 0). They are
 * closed under composition and inversion, so a whole chain is one, exactly.
 * Shape: no common divisor; a·d − b·c ≠ 0 unless constant; d > 0 where c = 0.
 */
export interface Fraction {
  readonly a: bigint;
  readonly b: bigint;
  readonly c: bigint;
  readonly d: bigint;
}

export const SAME: Fraction = { a: 1n, b: 0n, c: 0n, d: 1n };

function reduced(a: bigint, b: bigint, c: bigint, d: bigint): Fraction {
  const common = gcdOf(gcdOf(a, b), gcdOf(c, d));
  const turned = c === 0n ? d < 0n : c < 0n;
  const divisor = turned ? -common : common;
  return divisor === 1n ? { a, b, c, d } : { a: a / divisor, b: b / divisor, c: c / divisor, d: d / divisor };
}

/** y = factor · x + offset. */
export function affineFraction({ factor, offset }: Affine): Fraction {
  if (factor.den === offset.den) return reduced(factor.num, offset.num, 0n, factor.den);
  return reduced(factor.num * offset.den, offset.num * factor.den, 0n, factor.den * offset.den);
}

/** y = value, whatever x is. */
export function constantFraction(value: Rational): Fraction {
  return { a: 0n, b: value.num, c: 0n, d: value.den };
}

/** y = k / x. */
export function reciprocalFraction(k: Rational): Fraction {
  return k.num === 0n ? constantFraction(k) : reduced(0n, k.num, k.den, 0n);
}

/** First `first`, then `then`. */
export function compose(first: Fraction, then: Fraction): Fraction {
  if (first === SAME) return then;
  if (then === SAME) return first;
  if (first.c === 0n && then.c === 0n) {
    return reduced(then.a * first.a, then.a * first.b + then.b * first.d, 0n, then.d * first.d);
  }
  const a = then.a * first.a + then.b * first.c;
  const b = then.a * first.b + then.b * first.d;
  const c = then.c * first.a + then.d * first.c;
  const d = then.c * first.b + then.d * first.d;
  // A constant fed into a fraction stays a constant, but comes out as (s·x + t)/(u·x + v) with proportional rows.
  if (a * d === b * c) return c === 0n ? reduced(0n, b, 0n, d) : reduced(0n, a, 0n, c);
  return reduced(a, b, c, d);
}

/** Whether every x gives the same y. */
export function isConstant(fraction: Fraction): boolean {
  return fraction.a === 0n && fraction.c === 0n;
}

/** The mapping that undoes this one. @throws RangeError for a constant. */
export function invert(fraction: Fraction): Fraction {
  if (isConstant(fraction)) throw new RangeError('a constant cannot be undone');
  return reduced(fraction.d, -fraction.b, -fraction.c, fraction.a);
}

/** y for x, exact; null where the denominator is 0. */
export function apply({ a, b, c, d }: Fraction, x: Rational): Rational | null {
  const below = c === 0n ? d * x.den : c * x.num + d * x.den;
  if (below === 0n) return null;
  return rational(a * x.num + b * x.den, below);
}

/** 1 where y rises with x, −1 where it falls, 0 for a constant. The same on either side of a pole. */
export function slopeSign({ a, b, c, d }: Fraction): -1 | 0 | 1 {
  const determinant = a * d - b * c;
  return determinant > 0n ? 1 : determinant < 0n ? -1 : 0;
}

/** Where the denominator is 0; null when it never is. */
export function poleOf({ c, d }: Fraction): Rational | null {
  return c === 0n ? null : rational(-d, c);
}

/** The same mapping as factor and offset; null unless it is one. */
export function affineOf({ a, b, c, d }: Fraction): Affine | null {
  return c === 0n ? { factor: rational(a, d), offset: rational(b, d) } : null;
}
