import type { Rational } from '../../number/index.ts';

/** A value at one place of a route at one moment. */
export type LiveValue =
  | { readonly kind: 'number'; readonly value: Rational }
  /** `unnamed`: a raw value without a name, which goes by its digits until a step names it. */
  | { readonly kind: 'state'; readonly label: string; readonly unnamed?: true }
  | NoValue;

/** No value, and what the reader is told if the target can tell it. */
export interface NoValue {
  readonly kind: 'none';
  readonly means: 'not-available' | 'error';
  readonly why:
    /** The source sent its not-available or error raw value. */
    | 'special'
    /** A state that a step or the target has nothing for. */
    | 'no-image'
    /** Outside a curve that refuses, or a division by zero. */
    | 'outside'
    /** No value was given, or the source is lost. */
    | 'absent'
    /** A fault of the map leaves it open. */
    | 'fault';
}

export function noValue(why: NoValue['why'], means: NoValue['means'] = 'not-available'): NoValue {
  return { kind: 'none', means, why };
}
