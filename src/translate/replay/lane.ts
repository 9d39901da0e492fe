import type { Bits } from '../../model/index.ts';
import { partsOf } from '../../can/index.ts';
import type { ModulePlan, Page } from '../plan/types.ts';
import type { RouteProgram, Segment } from '../program/types.ts';
import { fitsDoubles } from '../program/widths.ts';
import { divideHalfAway } from '../program/segments.ts';

/*
 * The lane: most routes read one integer field of at most 31 bits, follow one straight line saturated at its ends, and write one such
 * field. A page's routes of that kind are laid out in two arrays and run in one loop without a call, which is what makes a replay as
 * quick as arithmetic written by hand. Whatever is out of the ordinary (a lost source, a special raw value) leaves the loop for the
 * general way; both give the same results (property-tested).
 *
 * A field is a run of bits in a 32-bit word of the payload, read in the field's byte order, shifted down and masked. Buffers have three
 * spare bytes behind them so that the word of a last byte can be read.
 */

/** Integers of one route of the lane: positions in its stretch of the array. */
const IN_AT = 0;
const IN_LITTLE = 1;
const IN_SHIFT = 2;
const IN_MASK = 3;
/** The sign bit of a signed field, else 0. */
const IN_SIGN = 4;
const OUT_AT = 5;
const OUT_LITTLE = 6;
const OUT_SHIFT = 7;
/** Bits of the word that are not the field's. */
const OUT_KEEP = 8;
/** Whether the loss behaviour may want the last value. */
const HOLDS = 9;
const ROUTE = 10;
const INTEGERS = 11;

/** Reals: inputs from LO to HI give floor((A·x + B) / D), where B has half of D in it; others below and above give the ends. */
const LO = 0;
const HI = 1;
const A = 2;
const B = 3;
const D = 4;
const LOW = 5;
const HIGH = 6;
/** Special raw values start here. */
const SPECIAL = 7;
const REALS = 8;

export const SPARE_BYTES = 3;

export interface Lane {
  readonly count: number;
  readonly groups: Int32Array;
  readonly integers: Int32Array;
  readonly reals: Float64Array;
}

export const EMPTY_LANE: Lane = {
  count: 0,
  groups: new Int32Array(0),
  integers: new Int32Array(0),
  reals: new Float64Array(0),
};

/** What a lane runs on. */
export interface LaneState {
  /** Payloads of all groups, one after another. */
  readonly arena: DataView;
  /** 0 while a group counts. */
  readonly missing: Float64Array;
  /** Last value of each route, for a hold. */
  readonly held: Float64Array;
  readonly hasHeld: Uint8Array;
  /** Since when each route has had no value; below 0 while it has one. */
  readonly lostSince: Float64Array;
  /** Writes what a route gives the general way; false when the message is not to be sent. */
  general(route: number, out: Uint8Array, timeUs: number): boolean;
}

/** Runs every route of a lane into a payload; false when one of them wants it not to be sent. `words` views the bytes of `out`. */
export function runLane(lane: Lane, state: LaneState, out: Uint8Array, words: DataView, timeUs: number): boolean {
  const { count, groups, integers: I, reals: R } = lane;
  const { arena, missing } = state;
  for (let index = 0; index < groups.length; index += 1) {
    if (missing[groups[index]!] !== 0) return generalAll(lane, state, out, timeUs);
  }
  let sent = true;
  for (let index = 0, i = 0, r = 0; index < count; index += 1, i += INTEGERS, r += REALS) {
    const sign = I[i + IN_SIGN]!;
    const word = arena.getUint32(I[i + IN_AT]!, I[i + IN_LITTLE] === 1);
    const x = (((word >>> I[i + IN_SHIFT]!) & I[i + IN_MASK]!) ^ sign) - sign;
    let y: number;
    if (x >= R[r + LO]! && x <= R[r + HI]!) y = Math.floor((R[r + A]! * x + R[r + B]!) / R[r + D]!);
    else if (x >= R[r + SPECIAL]!) {
      if (!state.general(I[i + ROUTE]!, out, timeUs)) sent = false;
      continue;
    } else y = x < R[r + LO]! ? R[r + LOW]! : R[r + HIGH]!;
    if (I[i + HOLDS] === 1) {
      const route = I[i + ROUTE]!;
      state.held[route] = y;
      state.hasHeld[route] = 1;
      state.lostSince[route] = -1;
    }
    const at = I[i + OUT_AT]!;
    const little = I[i + OUT_LITTLE] === 1;
    const keep = I[i + OUT_KEEP]!;
    words.setUint32(at, (words.getUint32(at, little) & keep) | ((y << I[i + OUT_SHIFT]!) & ~keep), little);
  }
  return sent;
}

function generalAll({ count, integers }: Lane, state: LaneState, out: Uint8Array, timeUs: number): boolean {
  let sent = true;
  for (let index = 0; index < count; index += 1) {
    if (!state.general(integers[index * INTEGERS + ROUTE]!, out, timeUs)) sent = false;
  }
  return sent;
}

/** Splits the fields of a page into a lane and those that must go the general way. */
export function laneOf(
  plan: ModulePlan,
  page: Page,
  offsets: readonly number[],
): { readonly lane: Lane; readonly rest: Page['fields'] } {
  const integers: number[] = [];
  const reals: number[] = [];
  const groups = new Set<number>();
  const rest: Page['fields'][number][] = [];
  for (const field of page.fields) {
    const laid = layOut(plan, field.routes, offsets);
    if (laid === null) {
      rest.push(field);
      continue;
    }
    groups.add(laid.group);
    integers.push(...laid.integers);
    reals.push(...laid.reals);
  }
  const lane: Lane = {
    count: reals.length / REALS,
    groups: Int32Array.from(groups),
    integers: Int32Array.from(integers),
    reals: Float64Array.from(reals),
  };
  return { lane, rest };
}

interface LaidOut {
  readonly group: number;
  readonly integers: readonly number[];
  readonly reals: readonly number[];
}

function layOut(plan: ModulePlan, routes: readonly number[], offsets: readonly number[]): LaidOut | null {
  const [index] = routes;
  if (routes.length !== 1 || index === undefined) return null;
  const { compiled, sources } = plan.routes[index]!;
  const { program, loss } = compiled;
  const [source] = sources;
  const [read] = program.sources;
  const { output } = program;
  if (sources.length !== 1 || source?.kind !== 'group' || read?.kind !== 'field') return null;
  if (output.kind !== 'field' || output.avoid.length > 0 || !fitsDoubles(program)) return null;
  const input = wordOf(read.bits);
  const written = wordOf(output.bits);
  const line = lineOf(program);
  if (input === null || written === null || line === null) return null;
  const mask = 2 ** output.bits.length - 1;
  const integers = new Array<number>(INTEGERS).fill(0);
  integers[IN_AT] = offsets[source.group]! + input.at;
  integers[IN_LITTLE] = Number(input.little);
  integers[IN_SHIFT] = input.shift;
  integers[IN_MASK] = 2 ** read.bits.length - 1;
  integers[IN_SIGN] = read.number === 'signed' ? 2 ** (read.bits.length - 1) : 0;
  integers[OUT_AT] = written.at;
  integers[OUT_LITTLE] = Number(written.little);
  integers[OUT_SHIFT] = written.shift;
  integers[OUT_KEEP] = ~(mask << written.shift);
  integers[HOLDS] = Number(loss.onLoss.kind === 'hold' || loss.atStart.kind === 'hold');
  integers[ROUTE] = index;
  // The loop looks for special values only outside its line: the line ends before them.
  const special = Number(read.specials[0]?.raw ?? Infinity);
  const reals = [...line, special];
  reals[HI] = Math.min(reals[HI]!, special - 1);
  return { group: source.group, integers, reals };
}

/** Where the 32-bit word of a field begins, in which byte order it is read, and how far up the field lies in it; null: it does not fit. */
function wordOf({
  order,
  ...bits
}: Bits): { readonly at: number; readonly little: boolean; readonly shift: number } | null {
  const parts = partsOf({ order, ...bits });
  if (parts.length > 4 || bits.length > 31) return null;
  const at = Math.min(...parts.map(({ byte }) => byte));
  const { shift } = parts[0]!;
  return order === 'little' ? { at, little: true, shift } : { at, little: false, shift: shift + 32 - 8 * parts.length };
}

/** LO, HI, A, B, D, LOW, HIGH of a program that is one line saturated at its ends, or null. */
function lineOf({ nodes, sources, result }: RouteProgram): readonly number[] | null {
  if (nodes.length === 0) return [-Infinity, Infinity, 1, 0, 1, 0, 0];
  const [node] = nodes;
  if (nodes.length !== 1 || result !== sources.length || node?.kind !== 'segments') return null;
  const { segments } = node;
  const sloping = segments.flatMap(({ a }, index) => (a === 0n ? [] : [index]));
  const [at] = sloping;
  if (sloping.length !== 1 || at === undefined || at > 1 || segments.length - at > 2) return null;
  if (segments.some(({ c, lo }, index) => c !== 0n || (index > 0 && segments[index - 1]!.hi + 1n !== lo))) return null;
  if (!coversField(segments, sources[0]!)) return null;
  const line = segments[at]!;
  // Rounding halves away from zero is rounding them up, unless a value below zero lies exactly between two whole numbers.
  const least = [line.lo, line.hi].map((x) => line.a * x + line.b).reduce((a, b) => (a < b ? a : b));
  if (least < 0n && line.d % 2n === 0n) return null;
  const flat = (segment: Segment | undefined): number =>
    segment === undefined ? 0 : Number(divideHalfAway(segment.b, segment.d));
  const { lo, hi, a, b, d } = line;
  return [...[lo, hi, a, b + (d >> 1n), d].map(Number), flat(segments[at - 1]), flat(segments[at + 1])];
}

/** Whether every raw value of the source is in some segment, so that none is without a value. */
function coversField(segments: readonly Segment[], read: RouteProgram['sources'][number]): boolean {
  if (read.kind !== 'field') return false;
  const span = 1n << BigInt(read.bits.length);
  const [lo, hi] = read.number === 'signed' ? [-(span >> 1n), (span >> 1n) - 1n] : [0n, span - 1n];
  return segments[0]!.lo <= lo && segments.at(-1)!.hi >= hi;
}
