import type { Affine, Interval, Rational } from '../../number/index.ts';
import type { RawSpan } from '../domain/value-domain.ts';
import type { PiecewiseFunction } from '../function/pieces.ts';
import type { RangeTable } from './ranges.ts';

/** A value while a route is compiled: a slot, and what the integers (or floats) in it stand for. Steps without memory change only that. */
export type Form =
  /** A number: what each integer of the span stands for, in the unit reached. Integers in no piece have no value. */
  | { readonly kind: 'number'; readonly slot: number; readonly span: RawSpan; readonly pieces: PiecewiseFunction }
  /** Finitely many numbers by ranges of integers. */
  | { readonly kind: 'values'; readonly slot: number; readonly table: RangeTable<Rational> }
  /** States by ranges of integers. */
  | { readonly kind: 'states'; readonly slot: number; readonly table: RangeTable<StateLabel> }
  /** A float source: physical = pieces(scaling(float)). `interval` is what it declares, before the pieces. */
  | {
      readonly kind: 'float';
      readonly slot: number;
      readonly scaling: Affine;
      readonly interval: Interval | null;
      readonly pieces: PiecewiseFunction;
    }
  /** Text: bits, copied. */
  | { readonly kind: 'text'; readonly slot: number; readonly lengthBits: number };

/** A state by its label; `unnamed`: a raw value that goes by its digits until a step names it. */
export interface StateLabel {
  readonly label: string;
  readonly unnamed: boolean;
}

/** Thrown inside the compiler when a route cannot be run; caught at its door. */
export class Refusal extends Error {}

/** Ends the compilation of a route with a reason in words. */
export function refuse(why: string): never {
  throw new Refusal(why);
}
