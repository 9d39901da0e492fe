import type { Affine, Interval, Rational } from '../../number/index.ts';
import type { Pairing, Route, Step } from '../../model/index.ts';
import type { SpecialRaw, ValueDomain } from '../domain/value-domain.ts';
import type { Effect } from './effect.ts';
import type { StageFault, UnitFault } from './faults.ts';

/** What a route does to every value that its sources can have. Every list is empty when there is nothing to report. */
export interface RouteAnalysis {
  readonly pairing: Pairing;
  readonly route: Route;
  /** One for each entry of `route.from`; null when the reference names nothing. */
  readonly sources: readonly (ValueDomain | null)[];
  /** One for each step. */
  readonly stages: readonly Stage[];
  /** What comes out of the last step; null when faults leave it open, or several values reach the end uncombined. */
  readonly delivered: ValueDomain | null;
  /** What the route writes; null when the reference names nothing. */
  readonly target: ValueDomain | null;
  /** Source physical → delivered physical; null unless there is one source and every step is affine (timing steps are passed through). */
  readonly chain: Affine | null;
  /** Source raw → target raw before rounding; null unless `chain` is there and both are integer fields. */
  readonly rawChain: Affine | null;
  /** Which faults of kind and unit stand between the source and the target, in order. */
  readonly unitFaults: readonly UnitFault[];
  /** The faults of all stages and of the delivery (`at` null), in order. */
  readonly faults: readonly StageFault[];

  /** Every part of the range before the target which the target cannot represent, from low to high. */
  readonly clips: readonly Clip[];
  /** The clip at the low end of that range. */
  readonly clippedLow: Clip | null;
  /** The clip at its high end. */
  readonly clippedHigh: Clip | null;
  /** Values below zero arrive, and the target has none. */
  readonly signLost: boolean;
  /** By how much rounding into the target field can change a value that is not clipped; null unless both are numbers and the target has steps. */
  readonly worstError: WorstError | null;
  /** Stages, other than at the target, that hold a value back: what is cut there, and whether the target could have shown it. */
  readonly saturates: readonly Saturation[];

  /** States that a source can have and that end nowhere. */
  readonly statesWithoutImage: readonly StateWithoutImage[];
  /** Target states which stand for several source states. */
  readonly statesMerged: readonly StatesMerged[];
  /** States of the target that no source state leads to. */
  readonly targetStatesNeverProduced: readonly string[];
  /** Each not-available or error raw value of each source, and what the reader gets for it. */
  readonly notAvailable: readonly SpecialOutcome[];
  /** Ordinary values of the source that arrive as a raw value which the target reads as not available or error. */
  readonly landsOnSpecial: readonly SpecialRaw[];
  /** Positions in `route.steps` of steps that change nothing for any value that can reach them. */
  readonly stepsThatNeverAct: readonly number[];
}

export interface Stage {
  readonly index: number;
  readonly step: Step;
  /** The values the step takes: one a source before the combining step (null: unknown), one after it. */
  readonly input: readonly (ValueDomain | null)[];
  readonly output: readonly (ValueDomain | null)[];
  /** What the step does to each input, resolved; null where it does not apply (`of`) or a fault stops it. */
  readonly effects: readonly (Effect | null)[];
  /** The part of the input range below and above what the step lets through (`limit`, `curve`), in the input's unit. */
  readonly cutLow: Interval | null;
  readonly cutHigh: Interval | null;
  readonly faults: readonly StageFault[];
}

/** A part of a range which arrives as the target's end value. */
export interface Clip {
  /** Ends of the part, in `unit`; `from` ≤ `to`. The end that touches the representable part is not itself clipped. */
  readonly from: Rational;
  readonly to: Rational;
  readonly unit: string;
  /** Whether `from` and `to` are values of the source, or of what the steps deliver (several sources, or a step that cannot be undone). */
  readonly of: 'source' | 'delivered';
  /** The end of the target it runs into, in target units, and how far beyond it the value would be. */
  readonly targetEnd: Rational;
  readonly wouldBe: Rational;
  readonly targetUnit: string;
}

export interface WorstError {
  /** In `unit`, the target's. */
  readonly physical: Rational;
  readonly unit: string;
  /** In steps of the target; at most 1/2. */
  readonly targetSteps: Rational;
}

export interface Saturation {
  readonly index: number;
  readonly below: Interval | null;
  readonly above: Interval | null;
  readonly unit: string;
  /** The target field could have represented (part of) what is cut. */
  readonly couldBeShown: boolean;
}

export interface StateWithoutImage {
  readonly source: number;
  readonly state: string;
  /** The step that has nothing for it; null: the target has no such state. */
  readonly at: number | null;
}

export interface StatesMerged {
  readonly into: string;
  readonly from: readonly string[];
}

export interface SpecialOutcome {
  readonly source: number;
  readonly raw: string;
  readonly means: SpecialRaw['means'];
  readonly label: string | null;
  readonly becomes:
    | { readonly kind: 'special'; readonly raw: string; readonly means: SpecialRaw['means'] }
    /** The target has no such raw value: the route does what it does when its source is lost. */
    | { readonly kind: 'loss-behaviour' }
    /** Nor does the route say what to do on loss: the last value stays. */
    | { readonly kind: 'held' }
    /** Another source stands in (`first-valid`, `choose-by`, `any-of`, `all-of`). */
    | { readonly kind: 'other-source' };
}
