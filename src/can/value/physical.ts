import { type Affine, type Rational, add, applyAffine, rational } from '../../number/index.ts';
import { rationalOfDouble } from './double.ts';

/**
 * Raw → physical, exact: factor · raw + offset, in the signal's unit. A `number` is the value of a float field and is taken
 * at its exact binary value; integers come as `bigint` (or as a safe integer, which is the same thing).
 * @throws RangeError for NaN and the infinities, which have no physical value.
 */
export function physicalOf(raw: bigint | number, scaling: Affine): Rational {
  if (typeof raw === 'number') return applyAffine(scaling, rationalOfDouble(raw));
  const { factor, offset } = scaling;
  const scaled = factor.den === 1n ? rational(raw * factor.num) : rational(raw * factor.num, factor.den);
  return offset.num === 0n ? scaled : add(scaled, offset);
}
