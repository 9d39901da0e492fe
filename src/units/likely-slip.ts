import {
  type Affine,
  type Rational,
  ONE,
  abs,
  compare,
  div,
  formatDecimal,
  inverse,
  invertAffine,
  mul,
  neg,
  sub,
  toRational,
} from '../number/index.ts';
import { OFFSET_SLIPS, UNIT_SLIPS } from './slips.ts';

/** Two figures within 0.1 % of each other count as the same: people write 1.61 for 1.609344 and 101.3 for 101.325. */
const NEAR = toRational(0.001);
/** Two rounded offsets (17.8 for 17.778) may differ a little more. */
const NEAR_OFFSET = toRational(0.002);

function near(a: Rational, b: Rational, tolerance: Rational): boolean {
  return compare(abs(sub(a, b)), mul(abs(b), tolerance)) <= 0;
}

/**
 * Names the mistake by which an explicit scaling differs from the exact conversion between its units, or null when the two agree
 * within 0.1 % or no known mistake explains the difference.
 * Covered: direction reversed, applied twice, sign, one unit read as another ("1.609344: this looks like mph read as km/h"),
 * offset left out, of the wrong sign, on the wrong side of the factor, or off by a known figure (32, 273.15, 101.325 …).
 * Which slips are likely is common practice; the message states the ratio, so that a person can judge.
 */
export function likelySlip(explicit: Affine, exact: Affine): { readonly message: string } | null {
  if (exact.factor.num === 0n) return null;
  if (explicit.factor.num === 0n) return { message: 'factor 0: every value becomes the offset' };
  const ratio = div(explicit.factor, exact.factor);
  if (near(ratio, ONE, NEAR)) return offsetSlip(explicit.offset, exact);
  if (ratio.num < 0n) {
    const turned: Affine = { factor: neg(explicit.factor), offset: explicit.offset };
    const size = neg(ratio);
    if (near(size, ONE, NEAR)) return { message: 'the factor has the wrong sign' };
    const rest = factorSlip(size, turned, exact);
    return rest === null ? null : { message: `the factor has the wrong sign, and ${rest}` };
  }
  const message = factorSlip(ratio, explicit, exact);
  return message === null ? null : { message };
}

function factorSlip(ratio: Rational, explicit: Affine, exact: Affine): string | null {
  if (!near(abs(exact.factor), ONE, NEAR)) {
    if (near(mul(explicit.factor, exact.factor), ONE, NEAR)) return reversed(explicit, exact);
    if (near(ratio, exact.factor, NEAR)) {
      return `${figure(exact.factor)}: this looks like the conversion applied twice`;
    }
  }
  for (const { ratio: text, large, small } of UNIT_SLIPS) {
    const known = toRational(text);
    const tooSmall = near(ratio, inverse(known), NEAR);
    if (!tooSmall && !near(ratio, known, NEAR)) continue;
    const read = tooSmall ? `${large} read as ${small}` : `${small} read as ${large}`;
    return `${text}: this looks like ${read}${offsetLeftOut(explicit, exact)}; the factor is ${text} times too ${tooSmall ? 'small' : 'large'}`;
  }
  return null;
}

/** With the factor wrong too, only a missing offset says anything: "°C read as °F, with the offset 32 left out as well". */
function offsetLeftOut(explicit: Affine, exact: Affine): string {
  if (explicit.offset.num !== 0n || exact.offset.num === 0n) return '';
  return `, with the offset ${figure(exact.offset)} left out as well`;
}

function reversed(explicit: Affine, exact: Affine): string {
  const back = invertAffine(exact);
  const whole = explicit.offset.num === back.offset.num || near(explicit.offset, back.offset, NEAR_OFFSET);
  return whole
    ? `${figure(explicit.factor)}: this is the conversion the wrong way round, from the target unit to the source unit`
    : `${figure(explicit.factor)}: the factor is the wrong way up, it divides where it should multiply`;
}

function offsetSlip(offset: Rational, exact: Affine): { readonly message: string } | null {
  const due = exact.offset;
  const difference = sub(offset, due);
  if (difference.num === 0n) return null;
  if (due.num !== 0n) {
    if (near(offset, due, NEAR)) return null;
    if (offset.num === 0n) return { message: `the offset ${figure(due)} is left out${known(due)}` };
    if (near(offset, neg(due), NEAR_OFFSET)) return { message: `the offset has the wrong sign: ${figure(due)} is due` };
    if (!near(exact.factor, ONE, NEAR)) {
      if (near(offset, mul(due, exact.factor), NEAR_OFFSET)) {
        return { message: `the offset ${figure(due)} was added before the factor instead of after it` };
      }
      if (near(offset, div(due, exact.factor), NEAR_OFFSET)) {
        return { message: `the offset ${figure(offset)} belongs before the factor; after it, ${figure(due)} is due` };
      }
    }
  }
  const slip = known(difference);
  return slip === '' ? null : { message: `the offset is off by ${figure(difference)}${slip}` };
}

function known(difference: Rational): string {
  const size = abs(difference);
  const slip = OFFSET_SLIPS.find(({ offset }) => near(size, toRational(offset), NEAR_OFFSET));
  return slip === undefined ? '' : `: this looks like ${slip.says}`;
}

function figure(r: Rational): string {
  return formatDecimal(r, { maxSignificant: 7 });
}
