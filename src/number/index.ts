/** Exact rational numbers, affine mappings and closed intervals. The lowest layer: it imports nothing. */
export { type Rational, rational, ZERO, ONE } from './rational.ts';
export { add, sub, mul, div, neg, abs, inverse, compare, equals, sign, isInteger, minOf, maxOf } from './arithmetic.ts';
export { floor, ceil, roundHalfAway } from './rounding.ts';
export { toNumber } from './to-number.ts';
export { type ExactNumber, parseExact, toRational, toExact, decimalPlaces } from './exact.ts';
export { type DecimalLimits, formatDecimal } from './format-decimal.ts';
export { type Affine, IDENTITY, applyAffine, composeAffine, invertAffine } from './affine.ts';
export { type Interval, intervalOf, mapAffine, intersect, contains, hull, width } from './interval.ts';
