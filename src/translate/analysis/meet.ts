import { type Affine, type Rational, IDENTITY, ONE, equals } from '../../number/index.ts';
import { type Conversion, type Unit, ambiguousUnit, conversionBetween } from '../../units/index.ts';
import type { UnitFault } from './faults.ts';

/** A unit as a document has it: its text, and what the text names. */
export interface UnitText {
  readonly text: string;
  readonly unit: Unit | null;
}

const conversions = new WeakMap<Unit, Map<Unit, Conversion>>();

/** `conversionBetween`, kept for each pair of units: routes use few pairs, many times. */
export function conversionOf(from: Unit, to: Unit): Conversion {
  let row = conversions.get(from);
  if (row === undefined) conversions.set(from, (row = new Map()));
  let conversion = row.get(to);
  if (conversion === undefined) row.set(to, (conversion = conversionBetween(from, to)));
  return conversion;
}

export type Meeting =
  /** The same unit, or two that convert one to one. */
  | { readonly kind: 'same' }
  /** One quantity in two units. */
  | { readonly kind: 'affine'; readonly affine: Affine }
  | { readonly kind: 'reciprocal'; readonly k: Rational }
  /** No text, or one that names no unit; `equal` when both texts are the same. */
  | { readonly kind: 'unknown'; readonly text: string; readonly side: 'from' | 'to'; readonly equal: boolean }
  | { readonly kind: 'none'; readonly conversion: Extract<Conversion, { kind: 'none' }> };

/** How a value in one unit relates to a place that wants another. No unit at all is taken as the bare number 1. */
export function meet(from: UnitText, to: UnitText): Meeting {
  if (from.text === to.text && (from.unit !== null || from.text === '')) return { kind: 'same' };
  if (from.unit === null || to.unit === null) {
    if (isBare(from) && isBare(to)) return { kind: 'same' };
    const side = from.unit === null ? 'from' : 'to';
    const { text } = side === 'from' ? from : to;
    return { kind: 'unknown', text, side, equal: from.text === to.text };
  }
  if (from.unit === to.unit) return { kind: 'same' };
  const conversion = conversionOf(from.unit, to.unit);
  switch (conversion.kind) {
    case 'affine':
      return isIdentity(conversion.affine) ? { kind: 'same' } : { kind: 'affine', affine: conversion.affine };
    case 'reciprocal':
      return { kind: 'reciprocal', k: conversion.k };
    case 'none':
      return { kind: 'none', conversion };
  }
}

function isBare({ text, unit }: UnitText): boolean {
  return text === '' || unit?.code === '1';
}

export function isIdentity(affine: Affine): boolean {
  return equals(affine.factor, IDENTITY.factor) && affine.offset.num === 0n;
}

/** A difference of two values in one unit, expressed in another: the factor counts, the offset does not. */
export function differenceFactor(meeting: Meeting): Rational | null {
  return meeting.kind === 'same' ? ONE : meeting.kind === 'affine' ? meeting.affine.factor : null;
}

/** A value in one unit, expressed in another; null where it does not convert by factor and offset. */
export function affineOfMeeting(meeting: Meeting): Affine | null {
  return meeting.kind === 'same' ? IDENTITY : meeting.kind === 'affine' ? meeting.affine : null;
}

/** The fault of two units that meet with nothing to convert between them; null when there is nothing to fault. */
export function faultOfMeeting(
  meeting: Meeting,
  from: UnitText,
  to: UnitText,
  at: number | null,
  of: 'step' | 'target',
): UnitFault | null {
  const units = { at, from: from.text, to: to.text };
  switch (meeting.kind) {
    case 'same':
      return null;
    case 'unknown':
      return unknownUnit(meeting.text, meeting.side === 'from' ? 'source' : of, at);
    case 'affine': {
      if (isPercentAndFraction(from.unit, to.unit)) {
        return {
          kind: 'percent-against-fraction',
          ...units,
          exact: meeting.affine,
          message: `${from.text} meets ${to.text}: percent against fraction, a factor of 100; add a convert step`,
        };
      }
      return {
        kind: 'no-conversion',
        ...units,
        exact: meeting.affine,
        message: `${from.text} meets ${to.text} and nothing converts between them; add a convert step`,
      };
    }
    case 'reciprocal':
      return {
        kind: 'no-conversion',
        ...units,
        exact: null,
        message: `${from.text} meets ${to.text}, which is one over it, and nothing converts between them; add a convert step`,
      };
    case 'none':
      return noneFault(meeting.conversion, units);
  }
}

/** The fault of a conversion that does not exist. */
export function noneFault(
  conversion: Extract<Conversion, { kind: 'none' }>,
  units: { readonly at: number | null; readonly from: string; readonly to: string },
): UnitFault {
  const { message } = conversion;
  switch (conversion.why) {
    case 'dimension':
      return { kind: 'dimension', ...units, message };
    case 'point-against-difference':
      return { kind: 'point-against-difference', ...units, message };
    case 'gauge-against-absolute':
      return { kind: 'gauge-against-absolute', ...units, declared: conversion.declared, message };
  }
}

export function unknownUnit(text: string, of: 'source' | 'step' | 'target', at: number | null): UnitFault {
  return { kind: 'unit-unknown', at, text, of, message: unknownMessage(text, of) };
}

function unknownMessage(text: string, of: 'source' | 'step' | 'target'): string {
  if (text === '') return `the ${of} gives no unit; state one`;
  const ambiguous = ambiguousUnit(text);
  if (ambiguous === null) return `"${text}" names no unit that is known here, so nothing converts; correct the ${of}`;
  return `"${text}" can be read as ${ambiguous.candidates.join(' or ')}: ${ambiguous.why}; correct the ${of}`;
}

function isPercentAndFraction(from: Unit | null, to: Unit | null): boolean {
  return (from?.code === '%' && to?.code === '1') || (from?.code === '1' && to?.code === '%');
}

/** Whether a ratio is a power of 256 or one over it: the mark of bytes that changed places. */
export function bytesChangedPlaces(ratio: Rational): boolean {
  return (isPowerOf256(ratio.num) && ratio.den === 1n) || (isPowerOf256(ratio.den) && ratio.num === 1n);
}

function isPowerOf256(n: bigint): boolean {
  return n === 256n || n === 65_536n || n === 16_777_216n || n === 4_294_967_296n;
}

/** Whether two scalings agree within 0.1 %, the tolerance for hand-written figures (`likelySlip` uses the same). */
export function nearlyEqual(a: Rational, b: Rational): boolean {
  const difference = a.num * b.den - b.num * a.den;
  const size = difference < 0n ? -difference : difference;
  const whole = b.num * a.den;
  return size * 1000n <= (whole < 0n ? -whole : whole);
}
