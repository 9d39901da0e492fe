import type { Rational } from '../../number/index.ts';
import type { PiecewiseFunction } from '../function/pieces.ts';

/**
 * What a step does to one value, with every parameter exact and in the unit of the value that comes in. Everything after the
 * analysis (evaluation, integers, replay, firmware, words) works from effects, never from the steps again.
 */
export type Effect =
  /** Number → number without memory. */
  | { readonly kind: 'function'; readonly pieces: PiecewiseFunction }
  /** State → state. A label that is in neither has no value afterwards. */
  | { readonly kind: 'relabel'; readonly map: ReadonlyMap<string, string>; readonly otherwise: string | null }
  /** State → number. */
  | { readonly kind: 'pick'; readonly map: ReadonlyMap<string, Rational>; readonly otherwise: Rational | null }
  /**
   * Number → state. Band i reaches from threshold i−1 (included) to threshold i (excluded); there is one state more than there are
   * thresholds. A rising value changes band at the threshold, a falling one only below threshold − hysteresis. A new band counts
   * once the value has stayed in it for `dwellMs`.
   */
  | {
      readonly kind: 'bands';
      readonly at: readonly Rational[];
      readonly states: readonly string[];
      readonly hysteresis: Rational;
      readonly dwellMs: number;
    }
  /** Most change in one second, ≥ 0; null: no limit on that side. */
  | { readonly kind: 'rate-limit'; readonly risePerS: Rational | null; readonly fallPerS: Rational | null }
  | { readonly kind: 'smooth'; readonly timeConstantMs: number }
  | { readonly kind: 'debounce'; readonly forMs: number }
  | { readonly kind: 'delay'; readonly byMs: number }
  | Combination;

/** All values → one. */
export type Combination =
  | {
      readonly kind: 'all-of' | 'any-of';
      readonly when: ReadonlySet<string>;
      readonly yields: string;
      readonly otherwise: string;
    }
  | { readonly kind: ArithmeticKind }
  | { readonly kind: 'first-valid' }
  | {
      readonly kind: 'choose-by';
      readonly selector: number;
      readonly cases: readonly Case[];
      readonly otherwise: CaseResult | null;
    };

export type ArithmeticKind = 'highest' | 'lowest' | 'sum' | 'difference';

export interface Case {
  /** The selector's state, or its value. */
  readonly on:
    { readonly kind: 'state'; readonly label: string } | { readonly kind: 'number'; readonly value: Rational };
  readonly gives: CaseResult;
}

export type CaseResult =
  | { readonly kind: 'source'; readonly source: number }
  | { readonly kind: 'state'; readonly label: string }
  | { readonly kind: 'number'; readonly value: Rational };

/** Whether an effect makes one value of several. */
export function isCombination(effect: Effect): effect is Combination {
  switch (effect.kind) {
    case 'all-of':
    case 'any-of':
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
    case 'first-valid':
    case 'choose-by':
      return true;
    case 'function':
    case 'relabel':
    case 'pick':
    case 'bands':
    case 'rate-limit':
    case 'smooth':
    case 'debounce':
    case 'delay':
      return false;
  }
}
