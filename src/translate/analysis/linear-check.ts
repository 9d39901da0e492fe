import { type Affine, IDENTITY, abs, compare, div, inverse, mul, sub, toRational } from '../../number/index.ts';
import { likelySlip } from '../../units/index.ts';
import type { UnitFault } from './faults.ts';
import { type UnitText, bytesChangedPlaces, conversionOf, nearlyEqual, noneFault } from './meet.ts';

/**
 * What is wrong with a hand-written scaling between two known units, or null. It must be the exact conversion within 0.1 % when
 * both measure one quantity. In one and the same unit any scaling is a correction of its own (tyre size, sign convention), unless
 * the factor is a known ratio between units. Between quantities nothing can be said.
 */
export function checkLinear(explicit: Affine, from: UnitText, to: UnitText, at: number): UnitFault | null {
  if (from.unit === null || to.unit === null) return null;
  const contradiction = (exact: Affine, slip: string | null): UnitFault => ({
    kind: 'factor-contradicts',
    at,
    from: from.unit!,
    to: to.unit!,
    explicit,
    exact,
    slip,
    message: `this scaling from ${from.text} to ${to.text} is not the conversion between them${slip === null ? '' : `: ${slip}`}`,
  });
  if (from.unit === to.unit) {
    const slip = slipInOneUnit(explicit);
    return slip === null ? null : contradiction(IDENTITY, slip);
  }
  const conversion = conversionOf(from.unit, to.unit);
  switch (conversion.kind) {
    case 'affine': {
      const slip = slipOf(explicit, conversion.affine);
      if (slip === null && agrees(explicit, conversion.affine)) return null;
      return contradiction(conversion.affine, slip);
    }
    case 'reciprocal':
      return {
        kind: 'dimension',
        at,
        from: from.text,
        to: to.text,
        message: `${to.text} is one over ${from.text}: a factor and an offset cannot convert between them; use convert or reciprocal`,
      };
    case 'none':
      switch (conversion.why) {
        case 'dimension':
          return null;
        case 'point-against-difference':
          // With an offset the reference point is stated, and a difference from it is what comes out.
          return explicit.offset.num === 0n ? noneFault(conversion, { at, from: from.text, to: to.text }) : null;
        case 'gauge-against-absolute':
          return statesAtmosphere(explicit, conversion.declared)
            ? null
            : noneFault(conversion, { at, from: from.text, to: to.text });
      }
  }
}

/** A person may declare another atmosphere than the standard one, within what occurs on roads: 30 % of it. */
function statesAtmosphere(explicit: Affine, declared: Affine): boolean {
  if (!nearlyEqual(explicit.factor, declared.factor)) return false;
  const off = abs(sub(explicit.offset, declared.offset));
  return compare(off, mul(abs(declared.offset), toRational('0.3'))) <= 0;
}

function slipOf(explicit: Affine, exact: Affine): string | null {
  return likelySlip(explicit, exact)?.message ?? byteSlip(explicit, exact);
}

function byteSlip(explicit: Affine, exact: Affine): string | null {
  if (exact.factor.num === 0n || explicit.factor.num === 0n) return null;
  const ratio = div(explicit.factor, exact.factor);
  return bytesChangedPlaces(abs(ratio))
    ? `the factor is off by a power of 256: this looks like a field read in the other byte order`
    : null;
}

/** Ratios of small whole numbers are ordinary corrections in one unit, and so is all that tyres and axles do (common practice). */
const SMALL = 16n;
const MOST_CORRECTION = toRational('1.5');

function slipInOneUnit(explicit: Affine): string | null {
  if (explicit.factor.num === 0n) return null;
  const size = abs(explicit.factor);
  if (explicit.offset.num === 0n && size.num <= SMALL && size.den <= SMALL) return null;
  if (compare(size, MOST_CORRECTION) < 0 && compare(inverse(size), MOST_CORRECTION) < 0) return null;
  return slipOf({ factor: size, offset: explicit.offset }, IDENTITY);
}

/** Factor within 0.1 %, offset within 0.1 % of itself. */
function agrees(explicit: Affine, exact: Affine): boolean {
  if (!nearlyEqual(explicit.factor, exact.factor)) return false;
  return exact.offset.num === 0n ? explicit.offset.num === 0n : nearlyEqual(explicit.offset, exact.offset);
}
