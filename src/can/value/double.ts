import { type Rational, rational } from '../../number/index.ts';

const words = new DataView(new ArrayBuffer(8));
const FRACTION_BITS = 52n;

/**
 * The exact value of a double: every finite double is an integer times a power of two (unlike `toRational`, which takes the
 * shortest decimal that was meant). Used for raw values of float fields, where the bits are the fact.
 * @throws RangeError for NaN and the infinities.
 */
export function rationalOfDouble(value: number): Rational {
  if (!Number.isFinite(value)) throw new RangeError(`${value} has no exact value`);
  if (Number.isSafeInteger(value)) return rational(BigInt(value));
  words.setFloat64(0, value);
  const bits = words.getBigUint64(0);
  const biased = (bits >> FRACTION_BITS) & 0x7ffn;
  const fraction = bits & ((1n << FRACTION_BITS) - 1n);
  // Subnormal numbers have no implied leading 1 and the exponent of the least normal one.
  const mantissa = biased === 0n ? fraction : fraction | (1n << FRACTION_BITS);
  const exponent = (biased === 0n ? 1n : biased) - 1075n;
  const signed = value < 0 ? -mantissa : mantissa;
  return exponent >= 0n ? rational(signed << exponent) : rational(signed, 1n << -exponent);
}
