import { type Interval, type Rational, compare, rational } from '../../number/index.ts';
import {
  type Fraction,
  SAME,
  affineFraction,
  apply,
  compose,
  constantFraction,
  invert,
  isConstant,
  poleOf,
  slopeSign,
} from './fraction.ts';

/**
 * A stretch of the input on which one fraction holds, both ends included unless they are open; null: no end on that side. An end is
 * open where some step on the way divides by zero: it has no value, even if a later limit made its neighbours flat.
 */
export interface Piece {
  readonly lo: Rational | null;
  readonly hi: Rational | null;
  readonly openLo?: true;
  readonly openHi?: true;
  readonly fraction: Fraction;
}

/**
 * A function in pieces, in rising order of x, not overlapping except at shared ends, where neighbours agree. An x in no piece
 * has no value: it was refused, or it divides by zero.
 */
export type PiecewiseFunction = readonly Piece[];

export const EVERYWHERE_SAME: PiecewiseFunction = [{ lo: null, hi: null, fraction: SAME }];

/** y = x on an interval. */
export function sameOn(interval: Interval | null): PiecewiseFunction {
  return interval === null ? EVERYWHERE_SAME : [{ lo: interval.lo, hi: interval.hi, fraction: SAME }];
}

/** One fraction for every x; two pieces when it has a pole. */
export function everywhere(fraction: Fraction): PiecewiseFunction {
  const pole = poleOf(fraction);
  if (pole === null) return [{ lo: null, hi: null, fraction }];
  return [
    { lo: null, hi: pole, openHi: true, fraction },
    { lo: pole, hi: null, openLo: true, fraction },
  ];
}

/** x kept between `min` and `max`, where given. `min` ≤ `max`. */
export function limiting(min: Rational | null, max: Rational | null): PiecewiseFunction {
  const pieces: Piece[] = [];
  if (min !== null) pieces.push({ lo: null, hi: min, fraction: constantFraction(min) });
  pieces.push({ lo: min, hi: max, fraction: SAME });
  if (max !== null) pieces.push({ lo: max, hi: null, fraction: constantFraction(max) });
  return pieces;
}

/** Straight lines between points of strictly rising x; outside, the end values, or no value. */
export function throughPoints(
  points: readonly (readonly [Rational, Rational])[],
  outside: 'clamp' | 'refuse',
): PiecewiseFunction {
  const pieces: Piece[] = [];
  const first = points[0]!;
  const last = points.at(-1)!;
  if (outside === 'clamp') pieces.push({ lo: null, hi: first[0], fraction: constantFraction(first[1]) });
  for (let at = 1; at < points.length; at += 1) {
    const [x0, y0] = points[at - 1]!;
    const [x1, y1] = points[at]!;
    pieces.push({ lo: x0, hi: x1, fraction: throughTwo(x0, y0, x1, y1) });
  }
  if (outside === 'clamp') pieces.push({ lo: last[0], hi: null, fraction: constantFraction(last[1]) });
  return pieces;
}

function throughTwo(x0: Rational, y0: Rational, x1: Rational, y1: Rational): Fraction {
  if (y0.num === y1.num && y0.den === y1.den) return constantFraction(y0);
  const rise = rational(y1.num * y0.den - y0.num * y1.den, y1.den * y0.den);
  const run = rational(x1.num * x0.den - x0.num * x1.den, x1.den * x0.den);
  const factor = rational(rise.num * run.den, rise.den * run.num);
  const back = rational(factor.num * x0.num, factor.den * x0.den);
  const offset = rational(y0.num * back.den - back.num * y0.den, y0.den * back.den);
  return affineFraction({ factor, offset });
}

/** First `first`, then `then`: exact, split where either has a seam. */
export function chain(first: PiecewiseFunction, then: PiecewiseFunction): PiecewiseFunction {
  const only = then[0];
  if (then.length === 1 && only!.lo === null && only!.hi === null) {
    return first.map((piece) => ({ ...piece, fraction: compose(piece.fraction, only!.fraction) }));
  }
  const pieces: Piece[] = [];
  for (const piece of first) chainPiece(piece, then, pieces);
  return pieces;
}

function chainPiece(piece: Piece, then: PiecewiseFunction, pieces: Piece[]): void {
  const single = singleValue(piece);
  if (single !== null) {
    const y = valueAt(then, single);
    if (y !== null) place(pieces, { ...piece, fraction: constantFraction(y) });
    return;
  }
  const rising = slopeSign(piece.fraction) > 0;
  const back = invert(piece.fraction);
  const image = imageOfPiece(piece);
  // An end of the image that belongs to an open or infinite end of x is never reached: touching it there is not sharing it.
  const reachedLo = rising ? isReached(piece.lo, piece.openLo) : isReached(piece.hi, piece.openHi);
  const reachedHi = rising ? isReached(piece.hi, piece.openHi) : isReached(piece.lo, piece.openLo);
  const overlapping = then.filter(
    ({ lo, hi }) => (reachedLo ? notAbove : below)(image.lo, hi) && (reachedHi ? notAbove : below)(lo, image.hi),
  );
  for (const part of rising ? overlapping : overlapping.toReversed()) {
    // The stretch of y that both share, and the x that lead to it. Where the shared end is the piece's own, its own x is kept.
    const ownLow = part.lo === null || (image.lo !== null && compare(part.lo, image.lo) <= 0);
    const ownHigh = part.hi === null || (image.hi !== null && compare(part.hi, image.hi) >= 0);
    const xOfLow = ownLow ? (rising ? piece.lo : piece.hi) : apply(back, part.lo!);
    const xOfHigh = ownHigh ? (rising ? piece.hi : piece.lo) : apply(back, part.hi!);
    const [lo, hi] = rising ? [xOfLow, xOfHigh] : [xOfHigh, xOfLow];
    // An end is open where it is open in either function that ends there.
    const lowOpen =
      (part.openLo === true && (!ownLow || same(part.lo, image.lo))) ||
      (ownLow && (rising ? piece.openLo : piece.openHi) === true);
    const highOpen =
      (part.openHi === true && (!ownHigh || same(part.hi, image.hi))) ||
      (ownHigh && (rising ? piece.openHi : piece.openLo) === true);
    place(pieces, {
      lo,
      hi,
      ...((rising ? lowOpen : highOpen) ? { openLo: true } : {}),
      ...((rising ? highOpen : lowOpen) ? { openHi: true } : {}),
      fraction: compose(piece.fraction, part.fraction),
    });
  }
}

/** The one y of a piece that is constant or a single point; else null. */
function singleValue({ lo, hi, fraction }: Piece): Rational | null {
  if (isConstant(fraction)) return rational(fraction.b, fraction.d);
  return lo !== null && hi !== null && compare(lo, hi) === 0 ? apply(fraction, lo) : null;
}

/** Adds a piece; a single point which a neighbour covers too is left out. */
function place(pieces: Piece[], piece: Piece): void {
  if (isPoint(piece) && (piece.openLo || piece.openHi)) return;
  const before = pieces.at(-1);
  const meets = before !== undefined && before.hi !== null && piece.lo !== null && compare(before.hi, piece.lo) === 0;
  if (meets && isPoint(piece) && !before.openHi) return;
  if (meets && isPoint(before) && !piece.openLo) pieces.pop();
  pieces.push(piece);
}

function isPoint({ lo, hi }: Piece): boolean {
  return lo !== null && hi !== null && compare(lo, hi) === 0;
}

function same(a: Rational | null, b: Rational | null): boolean {
  return a !== null && b !== null && compare(a, b) === 0;
}

function isReached(end: Rational | null, open: true | undefined): boolean {
  return end !== null && open !== true;
}

/** a < b, where null is minus infinity on the left and plus infinity on the right. */
function below(a: Rational | null, b: Rational | null): boolean {
  return a === null || b === null || compare(a, b) < 0;
}

/** a ≤ b, where null is minus infinity on the left and plus infinity on the right. */
function notAbove(a: Rational | null, b: Rational | null): boolean {
  return a === null || b === null || compare(a, b) <= 0;
}

/** Least and greatest y of a piece that is not constant; null where it has no bound. */
export function imageOfPiece({ lo, hi, fraction }: Piece): {
  readonly lo: Rational | null;
  readonly hi: Rational | null;
} {
  const pole = poleOf(fraction);
  // Towards plus or minus infinity a fraction with a pole comes to rest at a/c; an affine one has no bound.
  const far = fraction.c === 0n ? null : rational(fraction.a, fraction.c);
  const atLo = lo === null ? far : pole !== null && compare(lo, pole) === 0 ? null : apply(fraction, lo);
  const atHi = hi === null ? far : pole !== null && compare(hi, pole) === 0 ? null : apply(fraction, hi);
  return slopeSign(fraction) > 0 ? { lo: atLo, hi: atHi } : { lo: atHi, hi: atLo };
}

/** The piece that holds x, or null. */
export function pieceAt(pieces: PiecewiseFunction, x: Rational): Piece | null {
  let low = 0;
  let high = pieces.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const piece = pieces[middle]!;
    const fromLo = piece.lo === null ? 1 : compare(x, piece.lo);
    const fromHi = piece.hi === null ? -1 : compare(x, piece.hi);
    if (fromLo < 0 || (fromLo === 0 && piece.openLo)) high = middle - 1;
    else if (fromHi > 0 || (fromHi === 0 && piece.openHi)) low = middle + 1;
    else return piece;
  }
  return null;
}

/** y for x, exact; null where the function has no value. */
export function valueAt(pieces: PiecewiseFunction, x: Rational): Rational | null {
  const piece = pieceAt(pieces, x);
  return piece === null ? null : apply(piece.fraction, x);
}

/** Least and greatest y over all pieces; null on a side without bound; null altogether when there is no piece. */
export function imageOf(
  pieces: PiecewiseFunction,
): { readonly lo: Rational | null; readonly hi: Rational | null } | null {
  let lo: Rational | null | undefined;
  let hi: Rational | null | undefined;
  for (const piece of pieces) {
    const constant = singleValue(piece);
    const image = constant === null ? imageOfPiece(piece) : { lo: constant, hi: constant };
    lo =
      lo === undefined ? image.lo : lo === null || image.lo === null ? null : compare(image.lo, lo) < 0 ? image.lo : lo;
    hi =
      hi === undefined ? image.hi : hi === null || image.hi === null ? null : compare(image.hi, hi) > 0 ? image.hi : hi;
  }
  return lo === undefined || hi === undefined ? null : { lo, hi };
}
