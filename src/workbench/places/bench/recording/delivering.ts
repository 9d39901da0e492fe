import { toNumber } from '../../../../number/index.ts';
import { evaluateRoute, type RouteAnalysis, type SourceInput, type ValueDomain } from '../../../../translate/index.ts';
import type { Reading } from './reading.ts';

/** 0: as it is; 1: held at the low end; 2: held at the high end. */
export type ClipKind = 0 | 1 | 2;

/** What the steps of a route make of its sources, once steady: for drawing. `clip` is left in the object. */
export interface Delivering {
  /** The delivered value where it is drawn; NaN: none. */
  deliver(recorded: readonly (number | bigint | null)[]): number;
  clip: ClipKind;
}

const MOST_REMEMBERED = 200_000;

/**
 * Makes a route's steps ready for many values. One number through plain functions goes in doubles, everything else by the exact
 * evaluation, remembered by what the sources hold.
 */
export function deliveringOf(
  analysis: RouteAnalysis,
  sources: readonly (Reading | null)[],
  y: (value: ReturnType<typeof evaluateRoute>['delivered']) => number,
): Delivering {
  return quick(analysis, sources) ?? exact(analysis, sources, y);
}

function exact(
  analysis: RouteAnalysis,
  sources: readonly (Reading | null)[],
  y: (value: ReturnType<typeof evaluateRoute>['delivered']) => number,
): Delivering {
  const known = new Map<string, { readonly y: number; readonly clip: ClipKind }>();
  const delivering: Delivering = {
    clip: 0,
    deliver(recorded) {
      const key = recorded.join(' ');
      let result = known.get(key);
      if (result === undefined) {
        const { delivered, clip } = steadyOf(analysis, sources, recorded);
        result = { y: y(delivered), clip };
        if (known.size < MOST_REMEMBERED) known.set(key, result);
      }
      delivering.clip = result.clip;
      return result.y;
    },
  };
  return delivering;
}

/** The exact evaluation of a route for what was recorded of its sources. */
export function steadyOf(
  analysis: RouteAnalysis,
  sources: readonly (Reading | null)[],
  recorded: readonly (number | bigint | null)[],
): ReturnType<typeof evaluateRoute> & { readonly clip: ClipKind } {
  const inputs = sources.map((reading, index): SourceInput | null => {
    const value = recorded[index] ?? null;
    return reading === null || value === null ? null : reading.inputOf(value);
  });
  const evaluation = evaluateRoute(analysis, inputs);
  const cut = evaluation.stages.find((stage) => stage.cut !== 'none')?.cut ?? evaluation.target.clipped;
  return { ...evaluation, clip: cut === 'low' ? 1 : cut === 'high' ? 2 : 0 };
}

interface QuickPiece {
  readonly lo: number;
  readonly hi: number;
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
}

interface QuickStage {
  readonly pieces: readonly QuickPiece[];
  readonly cutLow: number;
  readonly cutHigh: number;
}

/** Null unless there is one number, every step is a plain function, and the target is an integer field. */
function quick(analysis: RouteAnalysis, sources: readonly (Reading | null)[]): Delivering | null {
  const { sources: domains, stages, target } = analysis;
  const reading = sources[0];
  if (sources.length !== 1 || !reading || domains[0]?.kind !== 'number') return null;
  const ends = endsOf(target);
  if (ends === null) return null;
  const chain: QuickStage[] = [];
  for (const { effects, cutLow, cutHigh } of stages) {
    const [effect] = effects;
    if (effects.length !== 1 || effect?.kind !== 'function') return null;
    chain.push({
      pieces: effect.pieces.map(({ lo, hi, fraction: { a, b, c, d } }) => {
        const scale = greatest(a, b, c, d);
        return {
          lo: lo === null ? -Infinity : toNumber(lo),
          hi: hi === null ? Infinity : toNumber(hi),
          a: share(a, scale),
          b: share(b, scale),
          c: share(c, scale),
          d: share(d, scale),
        };
      }),
      cutLow: cutLow === null ? -Infinity : toNumber(cutLow.hi),
      cutHigh: cutHigh === null ? Infinity : toNumber(cutHigh.lo),
    });
  }
  // Where doubles cannot tell on which side of an end a value lies, the exact evaluation does.
  const settled = new Map<number | bigint, ClipKind>();
  const exactly = (recorded: number | bigint): ClipKind => {
    const clip = settled.get(recorded) ?? steadyOf(analysis, sources, [recorded]).clip;
    if (settled.size < MOST_REMEMBERED) settled.set(recorded, clip);
    return clip;
  };
  const delivering: Delivering = {
    clip: 0,
    deliver([recorded]) {
      delivering.clip = 0;
      if (recorded === null || recorded === undefined) return Number.NaN;
      let value = reading.yOf(recorded);
      let doubtful = false;
      let clip: ClipKind = 0;
      const judge = (low: number, high: number): void => {
        if (isNear(value, low) || isNear(value, high)) doubtful = true;
        else if (clip === 0) clip = value < low ? 1 : value > high ? 2 : 0;
      };
      for (const { pieces, cutLow, cutHigh } of chain) {
        judge(cutLow, cutHigh);
        value = through(pieces, value);
      }
      judge(ends.low, ends.high);
      delivering.clip = doubtful ? exactly(recorded) : clip;
      return value;
    },
  };
  return delivering;
}

/** Closer than the rounding of doubles over a chain of steps can tell. */
function isNear(value: number, end: number): boolean {
  return Number.isFinite(end) && Math.abs(value - end) <= 1e-9 * Math.max(1, Math.abs(end));
}

function through(pieces: readonly QuickPiece[], x: number): number {
  for (const { lo, hi, a, b, c, d } of pieces) if (x >= lo && x <= hi) return (a * x + b) / (c * x + d);
  return Number.NaN;
}

/** Values beyond these are written as the target's end: half a step past the end value. */
function endsOf(target: ValueDomain | null): { readonly low: number; readonly high: number } | null {
  if (target?.kind !== 'number' || target.coding?.kind !== 'integer' || target.coding.usable === null) return null;
  const { scaling, usable } = target.coding;
  const factor = toNumber(scaling.factor);
  if (factor === 0) return null;
  const at = (raw: number): number => raw * factor + toNumber(scaling.offset);
  const ends = [at(Number(usable.lo) - 0.5), at(Number(usable.hi) + 0.5)];
  return { low: Math.min(...ends), high: Math.max(...ends) };
}

/** Numerators and denominators can be longer than a double holds; their shares of the greatest can not. */
function greatest(...parts: readonly bigint[]): bigint {
  return parts.map((part) => (part < 0n ? -part : part)).reduce((a, b) => (a > b ? a : b), 1n);
}

function share(part: bigint, scale: bigint): number {
  return toNumber({ num: part, den: scale });
}
