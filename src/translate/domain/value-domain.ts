import type { Affine, Interval, Rational } from '../../number/index.ts';
import type { Unit } from '../../units/index.ts';
import type { Message } from '../../model/index.ts';

/** What a value can be at one place of a route: a number, a state, text, or a whole frame. */
export type ValueDomain = NumberDomain | StateDomain | TextDomain | FrameDomain;

/** A raw value which is no value: the sender says that it has none, or that what it has is wrong. */
export interface SpecialRaw {
  /** Decimal digits. */
  readonly raw: string;
  readonly means: 'not-available' | 'error';
  /** The name the platform gives to this raw value, if any. */
  readonly label: string | null;
}

/** Least and greatest raw integer, both included. */
export interface RawSpan {
  readonly lo: bigint;
  readonly hi: bigint;
}

/** How a number stands in its field or on its wire. */
export type Coding =
  | {
      readonly kind: 'integer';
      readonly lengthBits: number;
      readonly signed: boolean;
      /** physical = factor · raw + offset. */
      readonly scaling: Affine;
      /** Every raw value of the field. */
      readonly field: RawSpan;
      /** Raw values for `interval`: declared range, not-available and error values at its ends left out. Null when none is left. */
      readonly usable: RawSpan | null;
    }
  | { readonly kind: 'float'; readonly lengthBits: 32 | 64; readonly scaling: Affine }
  /** physical = factor · quantity + offset, the electrical quantity in V, Ohm, %, Hz or ms. */
  | { readonly kind: 'wire-scale'; readonly of: WireQuantityName; readonly scaling: Affine }
  /** Piecewise linear: [quantity, physical], quantity increasing. */
  | {
      readonly kind: 'wire-curve';
      readonly of: WireQuantityName;
      readonly points: readonly (readonly [Rational, Rational])[];
    };

/** The electrical quantity a wire is read by. */
export type WireQuantityName = 'V' | 'Ohm' | '%' | 'Hz' | 'ms';

export interface NumberDomain {
  readonly kind: 'number';
  /** The unit as the document has it; '' when it gives none. */
  readonly unitText: string;
  /** Null when the text is empty or names no unit known here: nothing converts then. */
  readonly unit: Unit | null;
  /** Values that occur, in `unitText`: declared range, cut to what the field can hold. Null when nothing bounds them. */
  readonly interval: Interval | null;
  /** Distance between neighbouring values, > 0; null where it is not uniform (floats, measured wires, after a curve). */
  readonly resolution: Rational | null;
  /** Null for a value between steps. */
  readonly coding: Coding | null;
  readonly specials: readonly SpecialRaw[];
}

export interface NamedState {
  readonly label: string;
  /** Decimal digits; null on a wire and between steps. */
  readonly raw: string | null;
}

export interface StateDomain {
  readonly kind: 'state';
  /** In rising order of raw value; two raw values may bear one label. Not-available and error values are in `specials`. */
  readonly states: readonly NamedState[];
  readonly specials: readonly SpecialRaw[];
  /** How many raw values of the field have neither a name nor a special meaning. */
  readonly unnamed: number;
  /** Null on a wire and between steps. */
  readonly lengthBits: number | null;
  /** Every raw value of the field; null on a wire and between steps. */
  readonly field: RawSpan | null;
}

export interface TextDomain {
  readonly kind: 'text';
  readonly lengthBits: number;
}

/** A whole message, copied byte for byte. */
export interface FrameDomain {
  readonly kind: 'frame';
  readonly message: Message;
  readonly lengthBytes: number;
}
