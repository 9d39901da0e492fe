import { type Affine, type Rational, compare, div, roundHalfAway, sub, toNumber } from '../../number/index.ts';
import type { FloatKind, IntegerKind } from '../bits/number-kind.ts';
import { rationalOfDouble } from './double.ts';
import { physicalOf } from './physical.ts';
import { MAX_FLOAT32, rawRange } from './range.ts';

/** Which end of the field's raw range a value ran into. */
export type Clipped = 'none' | 'low' | 'high';

export interface RawResult<Raw> {
  readonly raw: Raw;
  /** `low`: below the least raw value, `high`: above the greatest; the raw value is then that end. */
  readonly clipped: Clipped;
  /** Physical value of `raw` minus the one asked for, exact; at most half a step in size unless clipped. */
  readonly error: Rational;
}

/**
 * Physical → raw for an integer field: (physical − offset) / factor, rounded half away from zero, kept within the field.
 * A factor of 0 can express one value only: raw is then 0 and `error` tells how far off that is.
 */
export function rawOf(physical: Rational, scaling: Affine, kind: IntegerKind, length: number): RawResult<bigint> {
  if (scaling.factor.num === 0n) return { raw: 0n, clipped: 'none', error: sub(scaling.offset, physical) };
  const wanted = roundHalfAway(div(sub(physical, scaling.offset), scaling.factor));
  const { lo, hi } = rawRange(kind, length);
  const clipped = wanted < lo ? 'low' : wanted > hi ? 'high' : 'none';
  const raw = clipped === 'low' ? lo : clipped === 'high' ? hi : wanted;
  return { raw, clipped, error: sub(physicalOf(raw, scaling), physical) };
}

/** Physical → raw for a float field: the nearest binary32 or binary64 number, ties to even, kept to finite ones. */
export function floatRawOf(physical: Rational, scaling: Affine, kind: FloatKind): RawResult<number> {
  if (scaling.factor.num === 0n) return { raw: 0, clipped: 'none', error: sub(scaling.offset, physical) };
  const wanted = div(sub(physical, scaling.offset), scaling.factor);
  const most = kind === 'float32' ? MAX_FLOAT32 : Number.MAX_VALUE;
  const near = kind === 'float32' ? nearestFloat32(wanted) : toNumber(wanted);
  const clipped = near < -most ? 'low' : near > most ? 'high' : 'none';
  const raw = clipped === 'low' ? -most : clipped === 'high' ? most : near;
  return { raw, clipped, error: sub(physicalOf(raw, scaling), physical) };
}

const words = new DataView(new ArrayBuffer(4));

/**
 * The nearest binary32 number. Rounding first to a double and then to a float goes wrong in one case only: the double lies
 * exactly half-way between two floats while the true value does not; then the true value's side decides.
 */
function nearestFloat32(value: Rational): number {
  const double = toNumber(value);
  const float = Math.fround(double);
  if (float === double || !Number.isFinite(float)) return float;
  const other = neighbour(float, double > float ? 'up' : 'down');
  if (!Number.isFinite(other) || Math.abs(double - float) !== Math.abs(other - double)) return float;
  const side = compare(value, rationalOfDouble(double));
  if (side === 0) return float;
  return side > 0 ? Math.max(float, other) : Math.min(float, other);
}

/** The next binary32 number in a direction. */
function neighbour(float: number, direction: 'up' | 'down'): number {
  const away = direction === 'up' ? 1 : -1;
  if (float === 0) return away * 2 ** -149;
  words.setFloat32(0, float);
  words.setInt32(0, words.getInt32(0) + (float > 0 ? away : -away));
  return words.getFloat32(0);
}
