import type { Affine, Rational } from '../../number/index.ts';
import type { BitField } from '../bits/field.ts';
import type { NumberKind } from '../bits/number-kind.ts';

/**
 * A signal as the codec needs it; both a message of a DBC file and one of a platform can be put in this form.
 * Physical value = factor · raw + offset, in `unit`.
 */
export interface FrameSignal {
  readonly name: string;
  readonly field: BitField;
  readonly number: NumberKind;
  readonly scaling: Affine;
  readonly unit: string;
  /** State names by raw value, written as a decimal integer: "0", "-1". */
  readonly states?: ReadonlyMap<string, string>;
  /** Raw values that say "no value". */
  readonly notAvailable?: readonly bigint[];
  /** Raw values that say "the sender knows its value is wrong". */
  readonly error?: readonly bigint[];
  /**
   * Present only while the signal named `by` has a raw value in one of the ranges `on` (both ends included). `by` may itself be
   * multiplexed. A selector read as negative also matches by its unsigned bits.
   */
  readonly multiplexed?: {
    readonly by: string;
    readonly on: readonly (readonly [bigint, bigint])[];
  };
}

/** One signal of one frame. */
export interface DecodedSignal {
  readonly name: string;
  /** `number` up to 53 bits and for floats, `bigint` from 54 bits on; always exact. */
  readonly raw: bigint | number;
  /** Exact for integers; for float fields the nearest double to factor · raw + offset, or NaN / ±Infinity as received. */
  readonly value: Rational | number;
  readonly unit: string;
  readonly state: string | null;
  /** False for a `notAvailable` or `error` raw value, and for a float that is not a number; `indicator` tells which. */
  readonly available: boolean;
  readonly indicator: 'none' | 'not-available' | 'error';
}

/** What to write into a signal. */
export type SignalValue =
  | { readonly kind: 'physical'; readonly value: Rational }
  | { readonly kind: 'raw'; readonly raw: bigint | number }
  | { readonly kind: 'state'; readonly state: string }
  | { readonly kind: 'not-available' };

/** Something about one signal that is wrong, in words; `signal` is its name. */
export interface SignalFault {
  readonly signal: string;
  readonly problem: string;
}
