import { type Node, SMOOTH_ONE, type Segment } from '../program/types.ts';
import { flooredLine } from './floored-line.ts';
import { MARK, MARK_ERROR, MARK_NOT_AVAILABLE } from './marks.ts';

/*
 * Nodes on doubles. Used only where every integer of the program stays below 2^52 (`fitsDoubles`), so each product, sum and
 * quotient below is exact: floor(n / d) of two such integers is the true floor. Same results as `wideRunner` (property-tested).
 */

export type Unary = (x: number) => number;

type UnaryNode = Extract<
  Node,
  { kind: 'segments' | 'table' | 'from-float' | 'bands' | 'rate-limit' | 'smooth' | 'debounce' | 'delay' }
>;

/** A node of one input as a function; a mark passes through every one of them. */
export function unary(node: UnaryNode): Unary {
  switch (node.kind) {
    case 'segments':
      return segments(node.segments);
    case 'table':
      return table(node);
    case 'from-float':
      return fromFloat(node);
    case 'bands':
      return bands(node);
    case 'rate-limit':
      return rateLimit(node);
    case 'smooth':
      return smooth(node);
    case 'debounce':
      return debounce(node.ticks);
    case 'delay':
      return delay(node.ticks);
  }
}

function segments(list: readonly Segment[]): Unary {
  const straight = list.every(({ c }) => c === 0n);
  if (straight && list.length === 1) return oneLine(list[0]!);
  if (straight && list.length <= 3 && isClampedLine(list)) return clampedLine(list);
  const count = list.length;
  const lo = Float64Array.from(list, (segment) => Number(segment.lo));
  const hi = Float64Array.from(list, (segment) => Number(segment.hi));
  const a = Float64Array.from(list, (segment) => Number(segment.a));
  const b = Float64Array.from(list, (segment) => Number(segment.b));
  const c = Float64Array.from(list, (segment) => Number(segment.c));
  const d = Float64Array.from(list, (segment) => Number(segment.d));
  return (x) => {
    if (x >= MARK) return x;
    let low = 0;
    let high = count - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      if (x < lo[middle]!) high = middle - 1;
      else if (x > hi[middle]!) low = middle + 1;
      else return divide(a[middle]! * x + b[middle]!, c[middle]! * x + d[middle]!);
    }
    return MARK_NOT_AVAILABLE;
  };
}

/** Nearest integer, halves away from zero; d > 0. */
function divide(n: number, d: number): number {
  const half = Math.floor(d / 2);
  return n >= 0 ? Math.floor((n + half) / d) : 0 - Math.floor((half - n) / d);
}

function oneLine(segment: Segment): Unary {
  const lo = Number(segment.lo);
  const hi = Number(segment.hi);
  const [a, b, d] = [Number(segment.a), Number(segment.b), Number(segment.d)];
  if (d === 1) return (x) => (x <= hi && x >= lo ? a * x + b : x >= MARK ? x : MARK_NOT_AVAILABLE);
  const floored = flooredLine(segment);
  if (floored !== null) {
    const [factor, offset] = floored;
    return (x) => (x <= hi && x >= lo ? Math.floor(factor * x + offset) : x >= MARK ? x : MARK_NOT_AVAILABLE);
  }
  const half = Math.floor(d / 2);
  return (x) => {
    if (x > hi || x < lo) return x >= MARK ? x : MARK_NOT_AVAILABLE;
    const n = a * x + b;
    return n >= 0 ? Math.floor((n + half) / d) : 0 - Math.floor((half - n) / d);
  };
}

/** One sloping line, saturated before and after it: what nearly every route between two fields compiles to. */
function isClampedLine(list: readonly Segment[]): boolean {
  const sloping = list.filter(({ a }) => a !== 0n);
  return sloping.length === 1 && list.every(({ lo }, index) => index === 0 || list[index - 1]!.hi + 1n === lo);
}

function clampedLine(list: readonly Segment[]): Unary {
  const at = list.findIndex(({ a }) => a !== 0n);
  const line = list[at]!;
  const before = list[at - 1];
  const after = list[at + 1];
  // Two flat stretches on one side have different heights; the plain search serves those.
  if (at > 1 || list.length - at > 2) return searched(list);
  const [a, b, d] = [Number(line.a), Number(line.b), Number(line.d)];
  const half = Math.floor(d / 2);
  const lo = Number(line.lo);
  const hi = Number(line.hi);
  const least = Number(list[0]!.lo);
  const most = Number(list.at(-1)!.hi);
  const low = before === undefined ? MARK_NOT_AVAILABLE : divide(Number(before.b), Number(before.d));
  const high = after === undefined ? MARK_NOT_AVAILABLE : divide(Number(after.b), Number(after.d));
  const floored = flooredLine(line);
  if (floored !== null) {
    const [factor, offset] = floored;
    return (x) => {
      if (x >= lo && x <= hi) return Math.floor(factor * x + offset);
      if (x < lo) return x >= least ? low : MARK_NOT_AVAILABLE;
      return x <= most ? high : x >= MARK ? x : MARK_NOT_AVAILABLE;
    };
  }
  return (x) => {
    if (x >= lo && x <= hi) {
      const n = a * x + b;
      return n >= 0 ? Math.floor((n + half) / d) : 0 - Math.floor((half - n) / d);
    }
    if (x < lo) return x >= least ? low : MARK_NOT_AVAILABLE;
    return x <= most ? high : x >= MARK ? x : MARK_NOT_AVAILABLE;
  };
}

function searched(list: readonly Segment[]): Unary {
  const functions = list.map(oneLine);
  const hi = list.map((segment) => Number(segment.hi));
  return (x) => {
    if (x >= MARK) return x;
    for (let index = 0; index < hi.length; index += 1) if (x <= hi[index]!) return functions[index]!(x);
    return MARK_NOT_AVAILABLE;
  };
}

/** Tables over few small numbers become arrays. */
const MOST_DENSE = 4096n;

function table({ ranges, gap }: Extract<Node, { kind: 'table' }>): Unary {
  const rest = gap === null ? MARK_NOT_AVAILABLE : Number(gap);
  const outOf = (out: bigint | null): number => (out === null ? MARK_NOT_AVAILABLE : Number(out));
  const first = ranges[0]?.lo ?? 0n;
  const last = ranges.at(-1)?.hi ?? -1n;
  if (last - first < MOST_DENSE) {
    const offset = Number(first);
    const dense = new Float64Array(Number(last - first + 1n)).fill(rest);
    for (const { lo, hi, out } of ranges) dense.fill(outOf(out), Number(lo - first), Number(hi - first) + 1);
    const size = dense.length;
    return (x) => {
      if (x >= MARK) return x;
      const index = x - offset;
      return index >= 0 && index < size ? dense[index]! : rest;
    };
  }
  const lo = Float64Array.from(ranges, (range) => Number(range.lo));
  const hi = Float64Array.from(ranges, (range) => Number(range.hi));
  const out = Float64Array.from(ranges, (range) => outOf(range.out));
  return (x) => {
    if (x >= MARK) return x;
    let low = 0;
    let high = lo.length - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      if (x < lo[middle]!) high = middle - 1;
      else if (x > hi[middle]!) low = middle + 1;
      else return out[middle]!;
    }
    return rest;
  };
}

function fromFloat({ factor, offset, lo, hi }: Extract<Node, { kind: 'from-float' }>): Unary {
  const least = Number(lo);
  const most = Number(hi);
  return (x) => {
    if (x >= MARK) return x;
    if (!(x > -MARK)) return MARK_ERROR;
    const product = x * factor;
    const sum = product + offset;
    if (sum <= least) return least;
    if (sum >= most) return most;
    return sum < 0 ? 0 - Math.floor(0.5 - sum) : Math.floor(sum + 0.5);
  };
}

function bands({ up, down, dwellTicks }: Extract<Node, { kind: 'bands' }>): Unary {
  const rising = Float64Array.from(up, Number);
  const falling = Float64Array.from(down, Number);
  const count = rising.length;
  const settle = settling(dwellTicks);
  let band = -1;
  return (x) => {
    if (x >= MARK) {
      band = -1;
      return x;
    }
    if (band < 0) {
      band = 0;
      while (band < count && x >= rising[band]!) band += 1;
      settle.start(band);
      return band;
    }
    let next = band;
    while (next < count && x >= rising[next]!) next += 1;
    while (next > 0 && x < falling[next - 1]!) next -= 1;
    band = settle.next(next);
    return band;
  };
}

/** Takes a new value over once it has been the same for so many ticks. */
function settling(ticks: number): { start(x: number): void; next(x: number): number } {
  let value = 0;
  let candidate = 0;
  let count = 0;
  return {
    start(x) {
      value = x;
      candidate = x;
      count = 0;
    },
    next(x) {
      if (x === value) {
        candidate = x;
        count = 0;
      } else if (ticks === 0) {
        value = x;
        candidate = x;
      } else if (x !== candidate) {
        candidate = x;
        count = 0;
      } else {
        count += 1;
        if (count >= ticks) {
          value = x;
          count = 0;
        }
      }
      return value;
    },
  };
}

function debounce(ticks: number): Unary {
  const settle = settling(ticks);
  let started = false;
  return (x) => {
    if (x >= MARK) {
      started = false;
      return x;
    }
    if (started) return settle.next(x);
    started = true;
    settle.start(x);
    return x;
  };
}

function rateLimit(node: Extract<Node, { kind: 'rate-limit' }>): Unary {
  const finer = Number(node.finer);
  const rise = node.rise === null ? Infinity : Number(node.rise);
  const fall = node.fall === null ? Infinity : Number(node.fall);
  let value = 0;
  let started = false;
  return (x) => {
    if (x >= MARK) {
      started = false;
      return x;
    }
    const wanted = x * finer;
    const change = wanted - value;
    if (!started) value = wanted;
    else if (change > rise) value += rise;
    else if (-change > fall) value -= fall;
    else value = wanted;
    started = true;
    return value;
  };
}

function smooth(node: Extract<Node, { kind: 'smooth' }>): Unary {
  const scale = 2 ** node.shift;
  const alpha = Number(node.alpha);
  const one = Number(SMOOTH_ONE);
  let value = 0;
  let started = false;
  return (x) => {
    if (x >= MARK) {
      started = false;
      return x;
    }
    const wanted = x * scale;
    if (!started) value = wanted;
    else if (wanted !== value) {
      const step = divide((wanted - value) * alpha, one);
      value += step !== 0 ? step : wanted > value ? 1 : -1;
    }
    started = true;
    return value;
  };
}

function delay(ticks: number): Unary {
  const ring = new Float64Array(ticks);
  let position = 0;
  let started = false;
  return (x) => {
    if (x >= MARK) {
      started = false;
      return x;
    }
    if (!started) {
      ring.fill(x);
      position = 0;
      started = true;
    }
    const out = ring[position]!;
    ring[position] = x;
    position = position + 1 === ticks ? 0 : position + 1;
    return out;
  };
}
