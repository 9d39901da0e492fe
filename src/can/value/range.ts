import { type Affine, type Interval, type Rational, intervalOf, mapAffine, rational } from '../../number/index.ts';
import { type IntegerKind, type NumberKind, isFloatKind } from '../bits/number-kind.ts';
import { rationalOfDouble } from './double.ts';

/** The least and greatest raw integer of a field, both included. */
export interface RawRange {
  readonly lo: bigint;
  readonly hi: bigint;
}

/** Raw integers a field of `length` bits can hold: 0 … 2^n − 1, or −2^(n−1) … 2^(n−1) − 1 for signed. */
export function rawRange(kind: IntegerKind, length: number): RawRange {
  const span = 1n << BigInt(length);
  return kind === 'unsigned' ? { lo: 0n, hi: span - 1n } : { lo: -(span >> 1n), hi: (span >> 1n) - 1n };
}

/** The greatest finite binary32 number, (2 − 2^−23)·2^127. IEEE 754-2019 table 3.2. */
export const MAX_FLOAT32 = 3.4028234663852886e38;

/** All physical values a field can hold under its scaling, ends included; floats reach to the greatest finite number. */
export function physicalRange(kind: NumberKind, length: number, scaling: Affine): Interval {
  let raw: Interval;
  if (isFloatKind(kind)) {
    const most = rationalOfDouble(kind === 'float32' ? MAX_FLOAT32 : Number.MAX_VALUE);
    raw = intervalOf({ num: -most.num, den: most.den }, most);
  } else {
    const range = rawRange(kind, length);
    raw = intervalOf(whole(range.lo), whole(range.hi));
  }
  return mapAffine(raw, scaling);
}

function whole(n: bigint): Rational {
  return rational(n);
}
