import { type Affine, type Rational, abs, floor, mul, rational } from '../../number/index.ts';
import type { NumberDomain, ValueDomain } from '../domain/value-domain.ts';
import type { WorstError } from './route-analysis.ts';

const HALF: Rational = { num: 1n, den: 2n };

/**
 * The most that rounding into the target's steps can change a value. From one integer field through an affine chain this is the
 * worst that occurs, exactly (a source has only so many values); else it is half a step.
 */
export function worstErrorOf(
  rawChain: Affine | null,
  source: ValueDomain | null,
  target: NumberDomain,
): WorstError | null {
  if (target.resolution === null) return null;
  const targetSteps = (rawChain === null ? null : exactSteps(rawChain, source)) ?? HALF;
  return { physical: mul(targetSteps, target.resolution), unit: target.unitText, targetSteps };
}

/**
 * rawOut = (p·raw + r)/q in lowest terms of p/q: over q neighbouring raw values p·raw runs through every remainder of q, so the
 * distances from a whole number are those of (j + r)/q for every j. Null when the source has fewer than q values.
 */
function exactSteps({ factor, offset }: Affine, source: ValueDomain | null): Rational | null {
  if (source?.kind !== 'number' || source.coding?.kind !== 'integer' || source.coding.usable === null) return null;
  const { lo, hi } = source.coding.usable;
  const q = factor.den;
  if (hi - lo + 1n < q) return null;
  const r = mul(offset, rational(q));
  const fraction = rational(r.num - floor(r) * r.den, r.den);
  // The distance grows up to the middle between two whole numbers; the two nearest to the middle decide.
  let worst: Rational = { num: 0n, den: 1n };
  const middle = q / 2n;
  for (let j = middle - 1n; j <= middle + 1n; j += 1n) {
    const x = rational((j * fraction.den + fraction.num) % (q * fraction.den), q * fraction.den);
    const distance = distanceToWhole(x);
    if (distance.num * worst.den > worst.num * distance.den) worst = distance;
  }
  return worst;
}

function distanceToWhole(x: Rational): Rational {
  const part = rational(x.num - floor(x) * x.den, x.den);
  return part.num * 2n > part.den ? abs(rational(part.num - part.den, part.den)) : part;
}
