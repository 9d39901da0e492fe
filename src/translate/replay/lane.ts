import type { Bits } from '../../model/index.ts';
import { partsOf } from '../../can/index.ts';
import type { ModulePlan, Page } from '../plan/types.ts';
import type { RouteProgram, Segment } from '../program/types.ts';
import { fitsDoubles } from '../program/widths.ts';
import { divideHalfAway } from '../program/segments.ts';
import { flooredLine } from './floored-line.ts';

/*
 * The lane: most routes read one integer field of at most 31 bits, follow one straight line saturated at its ends, and write one such
 * field. A page's routes of that kind are laid out in two arrays and run in one loop without a call, which is what makes a replay as
 * quick as arithmetic written by hand. Whatever is out of the ordinary (a lost source, a special raw value) leaves the loop for the
 * general way; both give the same results (property-tested).
 *
 * A field is a run of bits in a 32-bit word of the payload in the field's byte order, shifted down and masked. Buffers have spare bytes
 * behind them so that the word of a last byte can be read. Payloads are written as aligned words: a byte or a word that overlaps one
 * just written makes the processor wait.
 */

/** Integers of one route of the lane: positions in its stretch of the array. */
/** The input word: its place in the arena, its byte order and how far up the field lies in it, packed by `packed`. */
export const IN = 0;
export const IN_MASK = 1;
/** The sign bit of a signed field, else 0. */
export const IN_SIGN = 2;
/** The output word, packed likewise; and whether the loss behaviour may want the last value. */
export const OUT = 3;
export const OUT_MASK = 4;
/** Bits of the aligned word, and of the one after it, that are not the field's. */
export const OUT_KEEP = 5;
export const OUT_KEEP_NEXT = 6;
export const ROUTE = 7;
export const INTEGERS = 8;

export const SHIFT = 31;
export const LITTLE = 32;
export const HOLDS = 64;
export const PLACE = 7;

function packed({ at, little, shift }: Word, holds: boolean): number {
  return (at << PLACE) | (holds ? HOLDS : 0) | (little ? LITTLE : 0) | shift;
}

/** Reals: inputs from LO to HI give floor(FACTOR·x + OFFSET), see `flooredLine`; others below and above give the ends. */
export const LO = 0;
export const HI = 1;
export const FACTOR = 2;
export const OFFSET = 3;
export const LOW = 4;
export const HIGH = 5;
/** Special raw values start here. */
export const SPECIAL = 6;
export const REALS = 7;

/** Behind an arena, so that a word can be read at its last byte. */
export const SPARE_BYTES = 3;

/** Lanes write words as this machine keeps them; on one that keeps the most significant byte first there are no lanes. */
export const LITTLE_MACHINE = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1;

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
  /** The raw value of a route the general way; not a number when the message is not to be sent. */
  general(route: number, timeUs: number): number;
}

/**
 * Runs every route of a lane into a payload, given as words with one to spare; false when a route wants it not to be sent.
 */
export function runLane(lane: Lane, state: LaneState, words: Int32Array, timeUs: number): boolean {
  const { count, groups, integers: I, reals: R } = lane;
  const { arena, missing } = state;
  let lost = false;
  for (let index = 0; index < groups.length; index += 1) if (missing[groups[index]!] !== 0) lost = true;
  let sent = true;
  for (let index = 0, i = 0, r = 0; index < count; index += 1, i += INTEGERS, r += REALS) {
    const input = I[i + IN]!;
    const sign = I[i + IN_SIGN]!;
    const word = arena.getUint32(input >> PLACE, (input & LITTLE) !== 0);
    const x = (((word >>> (input & SHIFT)) & I[i + IN_MASK]!) ^ sign) - sign;
    const output = I[i + OUT]!;
    let y: number;
    if (lost || (x > R[r + HI]! && x >= R[r + SPECIAL]!)) {
      y = state.general(I[i + ROUTE]!, timeUs);
      if (y !== y) {
        sent = false;
        continue;
      }
    } else {
      if (x > R[r + HI]!) y = R[r + HIGH]!;
      else if (x < R[r + LO]!) y = R[r + LOW]!;
      else y = Math.floor(R[r + FACTOR]! * x + R[r + OFFSET]!);
      if ((output & HOLDS) !== 0) {
        const route = I[i + ROUTE]!;
        state.held[route] = y;
        state.hasHeld[route] = 1;
        state.lostSince[route] = -1;
      }
    }
    let bits = (y & I[i + OUT_MASK]!) << (output & SHIFT);
    if ((output & LITTLE) === 0) bits = swapped(bits);
    const at = output >> PLACE;
    const first = at >> 2;
    const within = (at & 3) << 3;
    words[first] = (words[first]! & I[i + OUT_KEEP]!) | (bits << within);
    if (I[i + OUT_KEEP_NEXT] !== -1) {
      words[first + 1] = (words[first + 1]! & I[i + OUT_KEEP_NEXT]!) | (bits >>> (32 - within));
    }
  }
  return sent;
}

/** The four bytes of a word in the other order. */
function swapped(word: number): number {
  return (word >>> 24) | ((word >>> 8) & 0xff00) | ((word << 8) & 0xff0000) | (word << 24);
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

interface Word {
  readonly at: number;
  readonly little: boolean;
  readonly shift: number;
}

interface LaidOut {
  readonly group: number;
  readonly integers: readonly number[];
  readonly reals: readonly number[];
}

function layOut(plan: ModulePlan, routes: readonly number[], offsets: readonly number[]): LaidOut | null {
  const [index] = routes;
  if (routes.length !== 1 || index === undefined || !LITTLE_MACHINE) return null;
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
  integers[IN] = packed({ ...input, at: offsets[source.group]! + input.at }, false);
  integers[IN_MASK] = 2 ** read.bits.length - 1;
  integers[IN_SIGN] = read.number === 'signed' ? 2 ** (read.bits.length - 1) : 0;
  integers[OUT] = packed(written, loss.onLoss.kind === 'hold' || loss.atStart.kind === 'hold');
  integers[OUT_MASK] = mask;
  const bits = written.little ? mask << written.shift : swapped(mask << written.shift);
  const within = (written.at & 3) << 3;
  integers[OUT_KEEP] = ~(bits << within);
  integers[OUT_KEEP_NEXT] = within === 0 ? -1 : ~(bits >>> (32 - within));
  integers[ROUTE] = index;
  // The loop looks for special values only outside its line: the line ends before them.
  const special = Number(read.specials[0]?.raw ?? Infinity);
  const reals = [...line, special];
  reals[HI] = Math.min(reals[HI]!, special - 1);
  return { group: source.group, integers, reals };
}

/** Where the 32-bit word of a field begins, in which byte order it is read, and how far up the field lies in it; null: it does not fit. */
function wordOf({ order, ...bits }: Bits): Word | null {
  const parts = partsOf({ order, ...bits });
  if (parts.length > 4 || bits.length > 31) return null;
  const at = Math.min(...parts.map(({ byte }) => byte));
  const { shift } = parts[0]!;
  return order === 'little' ? { at, little: true, shift } : { at, little: false, shift: shift + 32 - 8 * parts.length };
}

/** LO, HI, FACTOR, OFFSET, LOW, HIGH of a program that is one line saturated at its ends, or null. */
function lineOf({ nodes, sources, result }: RouteProgram): readonly number[] | null {
  if (nodes.length === 0) return [-Infinity, Infinity, 1, 0, 0, 0];
  const [node] = nodes;
  if (nodes.length !== 1 || result !== sources.length || node?.kind !== 'segments') return null;
  const { segments } = node;
  const sloping = segments.flatMap(({ a }, index) => (a === 0n ? [] : [index]));
  const [at] = sloping;
  if (sloping.length !== 1 || at === undefined || at > 1 || segments.length - at > 2) return null;
  if (segments.some(({ c, lo }, index) => c !== 0n || (index > 0 && segments[index - 1]!.hi + 1n !== lo))) return null;
  if (!coversField(segments, sources[0]!)) return null;
  const line = segments[at]!;
  const floored = flooredLine(line);
  if (floored === null) return null;
  const flat = (segment: Segment | undefined): number =>
    segment === undefined ? 0 : Number(divideHalfAway(segment.b, segment.d));
  return [Number(line.lo), Number(line.hi), ...floored, flat(segments[at - 1]), flat(segments[at + 1])];
}

/** Whether every raw value of the source is in some segment, so that none is without a value. */
function coversField(segments: readonly Segment[], read: RouteProgram['sources'][number]): boolean {
  if (read.kind !== 'field') return false;
  const span = 1n << BigInt(read.bits.length);
  const [lo, hi] = read.number === 'signed' ? [-(span >> 1n), (span >> 1n) - 1n] : [0n, span - 1n];
  return segments[0]!.lo <= lo && segments.at(-1)!.hi >= hi;
}
