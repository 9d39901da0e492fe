import { add, div, inverse, mul, neg } from './arithmetic.ts';
import { ONE, type Rational, ZERO } from './rational.ts';

/** The mapping y = factor · x + offset. */
export interface Affine {
  readonly factor: Rational;
  readonly offset: Rational;
}

export const IDENTITY: Affine = { factor: ONE, offset: ZERO };

/** factor · x + offset, exact. */
export function applyAffine(affine: Affine, x: Rational): Rational {
  const product = mul(affine.factor, x);
  return affine.offset.num === 0n ? product : add(product, affine.offset);
}

/** The mapping that does `first`, then `then`: x → then(first(x)). */
export function composeAffine(first: Affine, then: Affine): Affine {
  return { factor: mul(then.factor, first.factor), offset: applyAffine(then, first.offset) };
}

/** The mapping that undoes `affine`. @throws RangeError when its factor is 0: every x gives the same y, so nothing can be undone. */
export function invertAffine(affine: Affine): Affine {
  if (affine.factor.num === 0n) throw new RangeError('a mapping with factor 0 cannot be inverted');
  return { factor: inverse(affine.factor), offset: neg(div(affine.offset, affine.factor)) };
}
