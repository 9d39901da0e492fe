import { type Rational, compare } from '../../number/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { apply, invert, isConstant, slopeSign } from '../function/fraction.ts';
import { type Piece, type PiecewiseFunction, chain, imageOfPiece, sameOn } from '../function/pieces.ts';
import { type LiveValue } from './live-value.ts';
import { afterEffect } from './evaluate.ts';
import type { SourceInput } from './source-end.ts';

/** What a source would have to be for the target to show something. */
export type SourceFor =
  /** `inputs` is for `evaluateRoute`; several when several states of the source lead there. */
  | { readonly kind: 'found'; readonly inputs: readonly SourceInput[] }
  | { readonly kind: 'none'; readonly why: 'several-sources' | 'not-reached' | 'no-way-back' };

/**
 * The source value that a wanted target value comes from, for the strip's target end. Of a curve that reaches the value several
 * times, the lowest source value; on a flat stretch, its lower end. A source field then takes its nearest raw value, so the target
 * may show a neighbour of what was wanted.
 */
export function sourceFor(analysis: RouteAnalysis, wanted: LiveValue): SourceFor {
  const [domain] = analysis.sources;
  if (analysis.sources.length !== 1 || !domain) return { kind: 'none', why: 'several-sources' };
  if (wanted.kind === 'none') return { kind: 'none', why: 'not-reached' };
  if (domain.kind === 'number' && wanted.kind === 'number') {
    const reach = wayOf(analysis, sameOn(domain.interval));
    if (reach === null) return { kind: 'none', why: 'no-way-back' };
    const value = solve(reach, wanted.value);
    return value === null
      ? { kind: 'none', why: 'not-reached' }
      : { kind: 'found', inputs: [{ kind: 'physical', value }] };
  }
  if (domain.kind === 'state') {
    const inputs = domain.states.flatMap(({ label }): SourceInput[] => {
      let value: LiveValue = { kind: 'state', label };
      for (const { effects } of analysis.stages) {
        const effect = effects[0];
        if (!effect) return [];
        value = afterEffect(effect, value);
      }
      return alike(value, wanted) ? [{ kind: 'state', label }] : [];
    });
    return inputs.length === 0 ? { kind: 'none', why: 'not-reached' } : { kind: 'found', inputs };
  }
  return { kind: 'none', why: 'no-way-back' };
}

function alike(a: LiveValue, b: LiveValue): boolean {
  if (a.kind === 'state') return b.kind === 'state' && a.label === b.label;
  return a.kind === 'number' && b.kind === 'number' && compare(a.value, b.value) === 0;
}

/** All stages of a route of one source as one function on the given one; null when one of them is no function of a number. */
export function wayOf(analysis: RouteAnalysis, from: PiecewiseFunction): PiecewiseFunction | null {
  let way = from;
  for (const { effects } of analysis.stages) {
    const effect = effects[0];
    switch (effect?.kind) {
      case 'function':
        way = chain(way, effect.pieces);
        break;
      case 'rate-limit':
      case 'smooth':
      case 'debounce':
      case 'delay':
      case 'highest':
      case 'lowest':
      case 'sum':
      case 'difference':
      case 'first-valid':
        // Of one value these leave it as it is.
        break;
      default:
        return null;
    }
  }
  return way;
}

function solve(reach: PiecewiseFunction, y: Rational): Rational | null {
  for (const piece of reach) {
    const x = solvePiece(piece, y);
    if (x !== null) return x;
  }
  return null;
}

/** The x of one piece that gives y; its lower end where it is flat at y; null where it does not reach y. */
export function solvePiece(piece: Piece, y: Rational): Rational | null {
  const { lo, hi, fraction } = piece;
  if (isConstant(fraction)) {
    const constant = apply(fraction, lo ?? hi ?? { num: 0n, den: 1n });
    return constant !== null && compare(constant, y) === 0 ? (lo ?? hi ?? { num: 0n, den: 1n }) : null;
  }
  const image = imageOfPiece(piece);
  if (image.lo !== null && compare(y, image.lo) < 0) return null;
  if (image.hi !== null && compare(image.hi, y) < 0) return null;
  return slopeSign(fraction) === 0 ? null : apply(invert(fraction), y);
}
