import type { Affine, Rational } from '../../number/index.ts';
import type { Unit } from '../../units/index.ts';
import type { ValueDomain } from '../domain/value-domain.ts';

/** Where a fault stands: the position of the step in `route.steps`, or null for the delivery into the target. */
interface At {
  readonly at: number | null;
}

/** Two units that meet where they must not. `from` and `to` are the unit texts of the documents. */
export type UnitFault = At &
  (
    | { readonly kind: 'dimension'; readonly from: string; readonly to: string; readonly message: string }
    | {
        readonly kind: 'unit-unknown';
        /** The text that names no unit; '' when the document gives none. */
        readonly text: string;
        readonly of: 'source' | 'step' | 'target';
        readonly message: string;
      }
    /** One quantity, two units, and nothing that converts. `exact` is the conversion to write out; null when it is y = k/x. */
    | {
        readonly kind: 'no-conversion';
        readonly from: string;
        readonly to: string;
        readonly exact: Affine | null;
        readonly message: string;
      }
    | {
        readonly kind: 'point-against-difference';
        readonly from: string;
        readonly to: string;
        readonly message: string;
      }
    | {
        readonly kind: 'gauge-against-absolute';
        readonly from: string;
        readonly to: string;
        /** The conversion with the standard atmosphere, for a person who declares it. */
        readonly declared: Affine;
        readonly message: string;
      }
    | {
        readonly kind: 'percent-against-fraction';
        readonly from: string;
        readonly to: string;
        readonly exact: Affine;
        readonly message: string;
      }
    /** A `reciprocal` step whose k is not the one that its two units give. */
    | {
        readonly kind: 'k-contradicts';
        readonly from: string;
        readonly to: string;
        readonly explicit: Rational;
        readonly exact: Rational;
        readonly message: string;
      }
    /** A `linear` step between two units of one quantity which is not the conversion between them. */
    | {
        readonly kind: 'factor-contradicts';
        readonly from: Unit;
        readonly to: Unit;
        readonly explicit: Affine;
        readonly exact: Affine;
        /** The slip it looks like, in words; null when it looks like none that is known. */
        readonly slip: string | null;
        readonly message: string;
      }
  );

/** What keeps a step, or the delivery, from doing its work. Every fault says what and where in `message`. */
export type StageFault = At & { readonly message: string } & (
    | { readonly kind: 'reference-unknown'; readonly ref: string }
    /** A step for numbers meets a state, text or a frame, or the other way round. */
    | { readonly kind: 'kind-mismatch'; readonly needs: ValueDomain['kind']; readonly has: ValueDomain['kind'] }
    | { readonly kind: 'source-index'; readonly index: number }
    /** Several sources and no combining step, or a second combining step with nothing left to combine. */
    | { readonly kind: 'not-combined'; readonly count: number }
    | { readonly kind: 'already-combined' }
    | { readonly kind: 'no-sources' }
    | { readonly kind: 'no-scaling' }
    /** Breakpoints or thresholds that do not rise. */
    | { readonly kind: 'not-rising'; readonly index: number }
    | { readonly kind: 'band-count'; readonly thresholds: number; readonly states: number }
    /** Hysteresis below zero, or wider than the band it must fit in. */
    | { readonly kind: 'hysteresis'; readonly hysteresis: Rational; readonly narrowest: Rational | null }
    | { readonly kind: 'limit-inverted' }
    | { readonly kind: 'rate-negative' }
    | { readonly kind: 'divides-by-zero' }
    /** A state named by a step which the value before it cannot have. */
    | { readonly kind: 'state-unknown'; readonly state: string }
    /** A `choose-by` case that leads to a value of another kind or unit than the others. */
    | { readonly kind: 'case-kind'; readonly key: string }
    | { readonly kind: 'case-missing'; readonly keys: readonly string[] }
    /** `outside: refuse` and the source goes there: the route falls back to its loss behaviour. */
    | { readonly kind: 'outside-refused' }
    | { readonly kind: 'length-differs'; readonly from: number; readonly to: number }
    /** The route ends in a state that the target does not have. */
    | { readonly kind: 'target-lacks-state'; readonly state: string }
    /** Carrier `bus` between two signals that do not read the same bits alike. */
    | { readonly kind: 'relayed-differs'; readonly what: 'bits' | 'scaling' | 'states' }
    /** A target nothing can be written to: no usable raw value, or a factor of 0. */
    | { readonly kind: 'target-unusable' }
  );
