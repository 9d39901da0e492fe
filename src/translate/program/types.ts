import type { Bits, Signal } from '../../model/index.ts';
import type { RawSpan, WireQuantityName } from '../domain/value-domain.ts';

/**
 * A route as integer arithmetic: what reads each source, what happens to the integers, and what is written. The replay engine and
 * the generated C source both run this and nothing else, so they agree by construction.
 *
 * Slot 0 … n−1 hold the n sources, slot n+k what node k gives. Every slot holds an integer and a status; a status other than
 * `VALID` means that there is no value, and why.
 */
export interface RouteProgram {
  readonly kind: 'values';
  readonly sources: readonly SourceRead[];
  readonly nodes: readonly Node[];
  /** The slot that is written. */
  readonly result: number;
  readonly output: Output;
  /** Ticks are this far apart; timing nodes count in them. */
  readonly periodMs: number;
  /** What a value loses on the way to the output by working resolutions, beside the rounding into the target: 0 for one source without memory. */
  readonly working: readonly WorkingStep[];
}

/** Why a slot has no value. The numbers are those of the C source. */
export const VALID = 0;
export const NOT_AVAILABLE = 1;
export const ERROR = 2;
export const LOST = 3;
export const NEVER = 4;
export type Status = typeof VALID | typeof NOT_AVAILABLE | typeof ERROR | typeof LOST | typeof NEVER;

export type SourceRead =
  | {
      readonly kind: 'field';
      readonly bits: Bits;
      readonly number: 'unsigned' | 'signed';
      /** Raw values that are no values, rising. */
      readonly specials: readonly { readonly raw: bigint; readonly status: typeof NOT_AVAILABLE | typeof ERROR }[];
    }
  /** Not a number, the infinities and sizes from 2^1020 on are errors. */
  | { readonly kind: 'float'; readonly bits: Bits; readonly number: 'float32' | 'float64' }
  /** 1 active, 0 inactive. */
  | { readonly kind: 'switched-wire' }
  /** Thousandths of the quantity: mV, mOhm, thousandths of a percent, mHz, µs. */
  | { readonly kind: 'measured-wire'; readonly of: WireQuantityName };

/** Floats of this size and more count as errors: the engine keeps its own marks beyond. */
export const FLOAT_END = 2 ** 1020;

/** Whether a float of a source is a value. */
export function isUsableFloat(x: number): boolean {
  return x > -FLOAT_END && x < FLOAT_END;
}

/** Range of a measured wire: thousandths in a signed 32-bit integer. */
export const MEASURED: RawSpan = { lo: -(2n ** 31n) + 1n, hi: 2n ** 31n - 1n };
export const MEASURED_PER_UNIT = 1000n;

/**
 * out = (a·in + b) / (c·in + d), rounded to the nearest integer, halves away from zero, for lo ≤ in ≤ hi. The divisor is above
 * zero for every such `in`. Where c = 0 this is out = (A·in + B) div C with A = a, B = b, C = d.
 */
export interface Segment {
  readonly lo: bigint;
  readonly hi: bigint;
  readonly a: bigint;
  readonly b: bigint;
  readonly c: bigint;
  readonly d: bigint;
  /** Where a … d were chosen shorter than the formula they stand for: that formula. Both give the same for every input. */
  readonly exact?: { readonly a: bigint; readonly b: bigint; readonly c: bigint; readonly d: bigint };
}

export interface RangeEntry {
  readonly lo: bigint;
  readonly hi: bigint;
  /** Null: no value. */
  readonly out: bigint | null;
}

export type Node =
  /** An input in no segment has no value. */
  | { readonly kind: 'segments'; readonly from: number; readonly segments: readonly Segment[] }
  /** First range that holds the input; `gap` for an input in none (null: no value). Ranges rise and do not overlap. */
  | {
      readonly kind: 'table';
      readonly from: number;
      readonly ranges: readonly RangeEntry[];
      readonly gap: bigint | null;
    }
  /** Float → integer: round(in · factor + offset), kept within lo … hi. */
  | {
      readonly kind: 'from-float';
      readonly from: number;
      readonly factor: number;
      readonly offset: number;
      readonly lo: bigint;
      readonly hi: bigint;
    }
  /** Position of the band: rises while in ≥ up[i], falls while in < down[i]; a new band counts after `dwellTicks` ticks in it. */
  | {
      readonly kind: 'bands';
      readonly from: number;
      readonly up: readonly bigint[];
      readonly down: readonly bigint[];
      readonly dwellTicks: number;
    }
  /** in · `finer`, then at most `rise` up and `fall` down in a tick; null: no limit. */
  | {
      readonly kind: 'rate-limit';
      readonly from: number;
      readonly finer: bigint;
      readonly rise: bigint | null;
      readonly fall: bigint | null;
    }
  /** y += round((in · 2^shift − y) · alpha / 2^24), at least one count towards the input; y starts at the first input. */
  | { readonly kind: 'smooth'; readonly from: number; readonly shift: number; readonly alpha: bigint }
  /** The input once it has been the same for `ticks` ticks; until then the input before. */
  | { readonly kind: 'debounce'; readonly from: number; readonly ticks: number }
  /** The input `ticks` ticks ago. */
  | { readonly kind: 'delay'; readonly from: number; readonly ticks: number }
  /** Inputs are 0 or 1. One 0 settles `all-of`, one 1 settles `any-of`; else a missing one makes the result missing. */
  | { readonly kind: 'all-of' | 'any-of'; readonly of: readonly number[] }
  | { readonly kind: 'highest' | 'lowest' | 'sum'; readonly of: readonly number[] }
  /** The first less the others. */
  | { readonly kind: 'difference'; readonly of: readonly number[] }
  | { readonly kind: 'first-valid'; readonly of: readonly number[] }
  /** The selector's slot holds the position of a case. */
  | {
      readonly kind: 'choose';
      readonly selector: number;
      readonly cases: readonly ({ readonly slot: number } | { readonly value: bigint })[];
    };

export const SMOOTH_ONE = 2n ** 24n;

export type Output =
  | {
      readonly kind: 'field';
      readonly bits: Bits;
      readonly number: Signal['number'] & ('unsigned' | 'signed');
      /** A value on one of these (rising) is written as the next one below that is not among them. */
      readonly avoid: readonly bigint[];
    }
  /** A float is written as in · factor + offset, kept within lo … hi: of an integer slot, or of a float source itself. */
  | {
      readonly kind: 'float-field';
      readonly bits: Bits;
      readonly number: 'float32' | 'float64';
      readonly factor: number;
      readonly offset: number;
      readonly lo: number;
      readonly hi: number;
    }
  /** 1 active, 0 inactive. */
  | { readonly kind: 'switched-wire' }
  /** Thousandths of the quantity. */
  | { readonly kind: 'measured-wire'; readonly of: WireQuantityName };

/** A place where a value is kept to a working resolution. */
export interface WorkingStep {
  readonly node: number;
  /** Size of one count, in the unit of the value there, as text of an exact number. */
  readonly count: string;
  /** No rounding happens there: every value is a whole number of counts. */
  readonly exact: boolean;
}

/** A whole message, copied. */
export interface FrameProgram {
  readonly kind: 'frame';
}

/** Nothing can be run: a fault of the route, in words. */
export interface RefusedProgram {
  readonly kind: 'refused';
  readonly why: string;
}

export type CompiledProgram = RouteProgram | FrameProgram | RefusedProgram;
