import { type Rational, ceil, div, floor, mul, rational, sub } from '../../number/index.ts';
import type { Effect } from '../analysis/effect.ts';
import { bandOf } from '../analysis/step-state.ts';
import { apply, invert, slopeSign } from '../function/fraction.ts';
import { lcmOf } from '../function/gcd.ts';
import { chain, valueAt } from '../function/pieces.ts';
import {
  type Builder,
  type NumberForm,
  addNode,
  asNumber,
  asStates,
  countsOf,
  needsOf,
  positionForm,
  statesOf,
  ticksFor,
  toCounts,
  toPositions,
  withoutFloat,
} from './builder.ts';
import { type Form, type StateLabel, refuse } from './form.ts';
import { type RangeTable, mapRanges } from './ranges.ts';
import { scaleFor, straightLine } from './scale.ts';
import { segmentsOf } from './segments.ts';
import { SMOOTH_ONE } from './types.ts';

type BandsEffect = Extract<Effect, { kind: 'bands' }>;

/** A value after one effect that takes one value. Only effects with memory cost a node. */
export function stepForm(builder: Builder, form: Form, effect: Effect): Form {
  switch (effect.kind) {
    case 'function':
      switch (form.kind) {
        case 'number':
          return { ...form, pieces: chain(form.pieces, effect.pieces) };
        case 'float':
          return { ...form, pieces: chain(form.pieces, effect.pieces) };
        case 'values':
          return { ...form, table: mapRanges(form.table, (value) => valueAt(effect.pieces, value)) };
        case 'states':
        case 'text':
          return refuse('a number is needed by a step, but the value is none');
      }
    // eslint-disable-next-line no-fallthrough -- every branch above returns
    case 'relabel': {
      const states = asStates(form);
      const to = ({ label }: StateLabel): StateLabel | null => named(effect.map.get(label) ?? effect.otherwise);
      return { ...states, table: mapRanges(states.table, to) };
    }
    case 'pick': {
      const states = asStates(form);
      const table = mapRanges(states.table, ({ label }) => effect.map.get(label) ?? effect.otherwise);
      return { kind: 'values', slot: states.slot, table };
    }
    case 'bands':
      return bandsForm(builder, form, effect);
    case 'debounce':
    case 'delay':
      return heldForm(builder, form, effect);
    case 'rate-limit':
      return rateLimited(builder, form, effect);
    case 'smooth':
      return smoothed(builder, form, effect.timeConstantMs);
    case 'all-of':
    case 'any-of':
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
    case 'first-valid':
    case 'choose-by':
      return refuse('a combining step takes all sources');
  }
}

function named(label: string | null): StateLabel | null {
  return label === null ? null : { label, unnamed: false };
}

function bandsForm(builder: Builder, form: Form, effect: BandsEffect): Form {
  const states = effect.states.map((label): StateLabel => ({ label, unnamed: false }));
  const number = asNumber(builder, form);
  if (effect.hysteresis.num === 0n && effect.dwellMs === 0) {
    const table: RangeTable<StateLabel> =
      number.kind === 'values'
        ? mapRanges(number.table, (value) => states[bandOf(effect, value)]!)
        : { ranges: bandRanges(number, effect, states), gap: null };
    return { kind: 'states', slot: number.slot, table };
  }
  // Rising counts must mean rising values, so that one comparison serves each threshold.
  const line = number.kind === 'number' ? straightLine(number.pieces, number.span) : null;
  const rising =
    number.kind === 'number' && line !== null && line.factor.num > 0n
      ? number
      : toCounts(builder, number, scaleFor(needsOf(number)));
  const scaling = straightLine(rising.pieces, rising.span)!;
  const firstAtOrAbove = (value: Rational): bigint => ceil(div(sub(value, scaling.offset), scaling.factor));
  const slot = addNode(builder, {
    kind: 'bands',
    from: rising.slot,
    up: effect.at.map(firstAtOrAbove),
    down: effect.at.map((at) => firstAtOrAbove(sub(at, effect.hysteresis))),
    dwellTicks: effect.dwellMs === 0 ? 0 : ticksFor(effect.dwellMs, builder),
  });
  return positionForm(slot, states);
}

/** The ranges of integers that lie in each band: between neighbouring thresholds every segment is monotone. */
function bandRanges(
  { pieces, span }: NumberForm,
  effect: BandsEffect,
  states: readonly StateLabel[],
): RangeTable<StateLabel>['ranges'] {
  const ranges: { lo: bigint; hi: bigint; out: StateLabel }[] = [];
  for (const segment of segmentsOf(pieces, span)) {
    const at = (x: bigint): Rational => apply(segment, { num: x, den: 1n })!;
    let band = bandOf(effect, at(segment.lo));
    const last = bandOf(effect, at(segment.hi));
    let from = segment.lo;
    const rising = slopeSign(segment) > 0;
    while (band !== last) {
      const threshold = effect.at[rising ? band : band - 1]!;
      const crossing = apply(invert(segment), threshold)!;
      // Rising: the first x at or above the threshold. Falling: the first x beyond the last one at or above it.
      const next = rising ? ceil(crossing) : floor(crossing) + 1n;
      if (next > from) ranges.push({ lo: from, hi: next - 1n, out: states[band]! });
      from = next > from ? next : from;
      band += rising ? 1 : -1;
    }
    ranges.push({ lo: from, hi: segment.hi, out: states[band]! });
  }
  return ranges;
}

const MOST_DELAY_TICKS = 4096;

/** `debounce` and `delay` hold whole values: positions of states, or integers that stand for one value each. */
function heldForm(builder: Builder, form: Form, effect: Extract<Effect, { kind: 'debounce' | 'delay' }>): Form {
  const hold = (from: number): number => {
    if (effect.kind === 'debounce')
      return addNode(builder, { kind: 'debounce', from, ticks: ticksFor(effect.forMs, builder) });
    const ticks = ticksFor(effect.byMs, builder);
    if (ticks > MOST_DELAY_TICKS) {
      return refuse(
        `a delay of ${effect.byMs} ms is ${ticks} periods of ${builder.periodMs} ms; at most ${MOST_DELAY_TICKS} are kept`,
      );
    }
    return addNode(builder, { kind: 'delay', from, ticks });
  };
  const plain = withoutFloat(builder, form);
  switch (plain.kind) {
    case 'text':
      return { ...plain, slot: hold(plain.slot) };
    case 'states': {
      const list = statesOf(plain);
      return positionForm(hold(toPositions(builder, plain, list).slot), list);
    }
    case 'number':
      if (straightLine(plain.pieces, plain.span) !== null) return { ...plain, slot: hold(plain.slot) };
  }
  const counted = toCounts(builder, plain, scaleFor(needsOf(plain)));
  return { ...counted, slot: hold(counted.slot) };
}

const MOST_LIMITED = 2n ** 50n;

/** Counts fine enough that the change allowed in one tick is a whole number of them. */
function rateLimited(builder: Builder, form: Form, effect: Extract<Effect, { kind: 'rate-limit' }>): Form {
  const number = asNumber(builder, form);
  const { risePerS, fallPerS } = effect;
  if (risePerS === null && fallPerS === null) return number;
  const line = number.kind === 'number' ? straightLine(number.pieces, number.span) : null;
  const counted =
    number.kind === 'number' && line !== null && line.factor.num > 0n
      ? number
      : toCounts(builder, number, scaleFor(needsOf(number)));
  const scaling = straightLine(counted.pieces, counted.span)!;
  const perTick = (rate: Rational | null): Rational | null =>
    rate === null ? null : div(mul(rate, secondsOf(builder.periodMs)), scaling.factor);
  const rise = perTick(risePerS);
  const fall = perTick(fallPerS);
  const size = greatestSize(counted.span.lo, counted.span.hi);
  let finer = lcmOf(rise?.den ?? 1n, fall?.den ?? 1n);
  if (finer * size > MOST_LIMITED) {
    finer = 1n;
    while (finer * 2n * size <= 2n ** 40n && finer < 2n ** 16n) finer *= 2n;
  }
  const change = (rate: Rational | null): bigint | null => {
    if (rate === null) return null;
    const counts = roundPositive(mul(rate, rational(finer)));
    return counts === 0n && rate.num !== 0n ? 1n : counts;
  };
  const slot = addNode(builder, {
    kind: 'rate-limit',
    from: counted.slot,
    finer,
    rise: change(rise),
    fall: change(fall),
  });
  const factor = rational(scaling.factor.num, scaling.factor.den * finer);
  return {
    kind: 'number',
    slot,
    span: { lo: counted.span.lo * finer, hi: counted.span.hi * finer },
    pieces: chain(countsOf(factor), plus(scaling.offset)),
  };
}

function plus(offset: Rational): ReturnType<typeof countsOf> {
  return [{ lo: null, hi: null, fraction: { a: offset.den, b: offset.num, c: 0n, d: offset.den } }];
}

function secondsOf(periodMs: number): Rational {
  // Periods are JSON numbers such as 2.5: a thousand times that is whole for every period in microseconds.
  return rational(BigInt(Math.round(periodMs * 1000)), 1_000_000n);
}

function roundPositive(r: Rational): bigint {
  return (2n * r.num + r.den) / (2n * r.den);
}

function greatestSize(lo: bigint, hi: bigint): bigint {
  const a = lo < 0n ? -lo : lo;
  const b = hi < 0n ? -hi : hi;
  return a > b ? a : b;
}

/** Inputs of `smooth` stay below 2^27 counts, so that their product with a 24-bit weight is exact in a double. */
const MOST_SMOOTHED = 2n ** 27n;

function smoothed(builder: Builder, form: Form, timeConstantMs: number): Form {
  const number = asNumber(builder, form);
  const line = number.kind === 'number' ? straightLine(number.pieces, number.span) : null;
  const small = number.kind === 'number' && greatestSize(number.span.lo, number.span.hi) <= MOST_SMOOTHED;
  const counted =
    number.kind === 'number' && line !== null && small
      ? number
      : toCounts(builder, number, scaleFor(needsOf(number), MOST_SMOOTHED));
  const scaling = straightLine(counted.pieces, counted.span)!;
  const size = greatestSize(counted.span.lo, counted.span.hi);
  let shift = 0;
  while (shift < 16 && size << BigInt(shift + 1) <= MOST_SMOOTHED) shift += 1;
  // The step response of a first-order lag reaches 1 − 1/e after the time constant; sampled at the period, its weight is exact.
  const weight = 1 - Math.exp(-builder.periodMs / timeConstantMs);
  const alpha = BigInt(Math.min(Number(SMOOTH_ONE), Math.max(1, Math.round(weight * Number(SMOOTH_ONE)))));
  const slot = addNode(builder, { kind: 'smooth', from: counted.slot, shift, alpha });
  const finer = 1n << BigInt(shift);
  return {
    kind: 'number',
    slot,
    span: { lo: counted.span.lo * finer, hi: counted.span.hi * finer },
    pieces: chain(countsOf(rational(scaling.factor.num, scaling.factor.den * finer)), plus(scaling.offset)),
  };
}
