import {
  type Affine,
  type Rational,
  IDENTITY,
  applyAffine,
  composeAffine,
  div,
  inverse,
  invertAffine,
  mul,
} from '../number/index.ts';
import { dimensionText, sameDimension } from './dimension.ts';
import { QUANTITIES, RECIPROCAL_QUANTITIES } from './quantity.ts';
import type { Unit } from './table/index.ts';

export type NoConversion =
  | { readonly kind: 'none'; readonly why: 'dimension'; readonly message: string }
  | { readonly kind: 'none'; readonly why: 'point-against-difference'; readonly message: string }
  | {
      readonly kind: 'none';
      readonly why: 'gauge-against-absolute';
      readonly message: string;
      /** The mapping with the standard atmosphere as offset, for a person who declares it. */
      readonly declared: Affine;
    };

export type Conversion =
  | { readonly kind: 'affine'; readonly affine: Affine }
  /** y = k / x: fuel consumption against fuel economy, period against frequency. */
  | { readonly kind: 'reciprocal'; readonly k: Rational }
  | NoConversion;

/**
 * How a value in `from` becomes a value in `to`, exactly (angles: within the π of table/row.ts, which cancels between parts of a
 * turn).
 *
 * Rotation, frequency and angle: {rev}/min, deg/s and rad/s are one quantity, rotation, and convert into each other
 * (1 {rev}/min = 6 deg/s). Hz is a frequency of events: it becomes rev/min only by a number of pulses per revolution, which a
 * `pulses` step states, so there is no conversion between them here. A torque N.m is no energy J for the same reason.
 */
export function conversionBetween(from: Unit, to: Unit): Conversion {
  if (from === to) return { kind: 'affine', affine: IDENTITY };
  if (from.quantity === to.quantity) {
    return { kind: 'affine', affine: composeAffine(from.toSi, invertAffine(to.toSi)) };
  }
  if (RECIPROCAL_QUANTITIES.some(([a, b]) => isPair(from, to, a, b))) {
    return { kind: 'reciprocal', k: inverse(mul(from.toSi.factor, to.toSi.factor)) };
  }
  return none(from, to);
}

function isPair(from: Unit, to: Unit, a: string, b: string): boolean {
  return (from.quantity === a && to.quantity === b) || (from.quantity === b && to.quantity === a);
}

function none(from: Unit, to: Unit): NoConversion {
  if (isPair(from, to, 'temperature', 'temperature-difference')) {
    const [point, difference] = from.point ? [from, to] : [to, from];
    return {
      kind: 'none',
      why: 'point-against-difference',
      message: `${point.code} is a temperature and ${difference.code} is a difference of temperatures: one does not become the other by a unit conversion`,
    };
  }
  if (isPair(from, to, 'pressure', 'gauge-pressure')) {
    return {
      kind: 'none',
      why: 'gauge-against-absolute',
      message: `${from.code} and ${to.code} are ${quantityTitle(from)} and ${quantityTitle(to)}: they differ by the atmosphere, 101.325 kPa if the standard one is declared, which is never assumed`,
      declared: composeAffine(from.toSi, invertAffine(to.toSi)),
    };
  }
  return { kind: 'none', why: 'dimension', message: differs(from, to) };
}

function quantityTitle(unit: Unit): string {
  return unit.quantity === 'pressure' ? 'absolute pressure' : QUANTITIES[unit.quantity].title;
}

function differs(from: Unit, to: Unit): string {
  const quantities = `${from.code} is a ${QUANTITIES[from.quantity].title}, ${to.code} is a ${QUANTITIES[to.quantity].title}`;
  if (isPair(from, to, 'rotation', 'frequency')) {
    return `${quantities}: state the pulses per revolution with a pulses step`;
  }
  return sameDimension(from.dimension, to.dimension)
    ? `${quantities}: the same dimension, but not the same quantity`
    : `${quantities}: the dimensions differ (${dimensionText(from.dimension)} against ${dimensionText(to.dimension)})`;
}

/**
 * A value in another unit, exactly, or why there is none.
 * @throws RangeError for 0 of a unit that converts by y = k / x: 0 L/(100.km) has no km/L.
 */
export function convertExact(value: Rational, from: Unit, to: Unit): Rational | NoConversion {
  const conversion = conversionBetween(from, to);
  switch (conversion.kind) {
    case 'affine':
      return applyAffine(conversion.affine, value);
    case 'reciprocal':
      if (value.num === 0n)
        throw new RangeError(`0 ${from.code} has no value in ${to.code}: it would be ${to.code} without end`);
      return div(conversion.k, value);
    case 'none':
      return conversion;
  }
}
