import {
  bitTimeNs,
  responseBounds,
  responseTimes,
  type AnalysisOptions,
  type BitRates,
  type ResponseTime,
  type ScheduledMessage,
} from '../can/index.ts';
import {
  busJoins,
  parseRef,
  segmentOfBus,
  sideRef,
  type BusJoin,
  type Pairing,
  type Transmit,
} from '../model/index.ts';
import { framesAsBuilt, framesInPairing, ratesOf } from './bus-frames.ts';
import type { BusCase, BusFrame, BusMemory, BusSegment, FramesOfBus } from './bus-types.ts';
import { partition } from './combinations.ts';
import type { CheckContext } from './context.ts';

const SAME = ['fates', 'options', 'impossible', 'interfaceModules'] as const;

/** The memory brought up to the context's pairing: segments on which nothing changed are taken over. */
export function busMemory(context: CheckContext): BusMemory {
  const { pairing, memory } = context;
  const known = memory.buses;
  if (known?.of === pairing) return known;
  const joins = busJoins(pairing);
  const keeps =
    known !== null && SAME.every((key) => known.of.map[key] === pairing.map[key]) && sameJoins(known.joins, joins);
  const transmits =
    keeps && known.of.map.transmits === pairing.map.transmits ? known.transmits : transmitsByBus(pairing);
  const segments = new Map<string, BusSegment>();
  if (keeps) {
    for (const [ref, segment] of known.segments) {
      if (segment.refs.every((bus) => sameList(known.transmits.get(bus), transmits.get(bus))))
        segments.set(ref, segment);
    }
  }
  const copper = keeps && known.of.map.harness === pairing.map.harness ? known.copper : {};
  return (memory.buses = { of: pairing, joins, transmits, segments, copper });
}

export function sameJoins(a: readonly BusJoin[], b: readonly BusJoin[]): boolean {
  return (
    a.length === b.length &&
    a.every((join, at) => join.a.ref === b[at]!.a.ref && join.b.ref === b[at]!.b.ref && join.mask === b[at]!.mask)
  );
}

function sameList<T>(a: readonly T[] = [], b: readonly T[] = []): boolean {
  return a === b || (a.length === b.length && a.every((entry, at) => entry === b[at]));
}

function transmitsByBus(pairing: Pairing): ReadonlyMap<string, readonly Transmit[]> {
  const found = new Map<string, Transmit[]>();
  for (const transmit of pairing.map.transmits) {
    const entry = pairing.find(transmit.message);
    if (entry?.kind !== 'message') continue;
    const ref = sideRef(entry.side, entry.message.bus);
    const list = found.get(ref);
    if (list) list.push(transmit);
    else found.set(ref, [transmit]);
  }
  return found;
}

/** The segment a bus (`side:bus`) is in; null when there is no such bus. */
export function segmentOf(context: CheckContext, ref: string): BusSegment | null {
  const memory = busMemory(context);
  const known = memory.segments.get(ref);
  if (known) return known;
  const { pairing } = context;
  const refs = segmentOfBus(memory.joins, ref, pairing.options.all).toSorted();
  const found: FramesOfBus[] = [];
  let rates: BitRates | null = null;
  for (const one of refs) {
    const place = placeOf(pairing, one);
    if (!place) return null;
    rates ??= ratesOf(place.bus);
    found.push(framesInPairing(pairing, place.side, place.bus, (message) => pairing.transmitsOf.get(message) ?? []));
  }
  const frames = inOrder(found.flatMap((of) => of.frames));
  const together: BusCase = { refs, mask: pairing.options.all, frames, rates: rates! };
  let cases: readonly BusCase[] | null = null;
  const segment: BusSegment = {
    refs,
    together,
    lacks: found.flatMap(({ lacks }) => lacks),
    cases: () => (cases ??= casesOf(pairing, memory.joins, together)),
  };
  for (const one of refs) memory.segments.set(one, segment);
  return segment;
}

function placeOf(pairing: Pairing, ref: string) {
  const parsed = parseRef(ref);
  const side = parsed ? pairing.side(parsed.side) : null;
  const bus = side?.buses.get(parsed!.name);
  return side && bus ? { side, bus } : null;
}

function inOrder(frames: readonly BusFrame[]): readonly BusFrame[] {
  // Equal ids are another rule's matter; the order must not depend on where one began.
  return frames.toSorted((a, b) => a.rank - b.rank || (a.ref < b.ref ? -1 : Number(a.ref > b.ref)));
}

function casesOf(pairing: Pairing, joins: readonly BusJoin[], together: BusCase): readonly BusCase[] {
  const { all } = pairing.options;
  const inside = joins.filter(({ a }) => together.refs.includes(a.ref));
  const parts = partition(
    all,
    [...together.frames, ...inside].map(({ mask }) => mask),
  );
  if (parts.length === 1) return [together];
  return parts.flatMap((mask) => {
    const left = new Set(together.refs);
    const cases: BusCase[] = [];
    for (const ref of together.refs) {
      if (!left.has(ref)) continue;
      const refs = segmentOfBus(inside, ref, mask);
      for (const one of refs) left.delete(one);
      cases.push({
        refs,
        mask,
        frames: together.frames.filter((frame) => (frame.mask & mask) !== 0n && refs.includes(frame.bus)),
        rates: ratesOf(placeOf(pairing, ref)!.bus),
      });
    }
    return cases;
  });
}

/** Load in the worst case, every frame with as many stuff bits as it can have: Σ frame time / period. */
export function loadOf(frames: readonly BusFrame[]): number {
  let load = 0;
  for (const { timeNs, message } of frames) if (message.periodMs !== null) load += timeNs / (message.periodMs * 1e6);
  return load;
}

const builtCases = new WeakMap<BusCase, readonly BusCase[]>();

/** The buses of a case as the vehicles were built, each for itself: they were apart. */
export function casesAsBuilt(pairing: Pairing, one: BusCase): readonly BusCase[] {
  const known = builtCases.get(one);
  if (known) return known;
  const are = one.refs.map((ref): BusCase => {
    const { side, bus } = placeOf(pairing, ref)!;
    const frames = framesAsBuilt(pairing, side, bus).filter(({ mask }) => (mask & one.mask) !== 0n);
    return { refs: [ref], mask: one.mask, frames: inOrder(frames), rates: ratesOf(bus) };
  });
  builtCases.set(one, are);
  return are;
}

/** A frame with a period, and how long after it is due it has arrived at the latest. */
export interface FrameResponse {
  readonly frame: BusFrame;
  readonly periodNs: number;
  /** Upper bound without iteration; Infinity where the bus is full. */
  readonly boundNs: number;
}

interface Schedule {
  readonly timed: readonly BusFrame[];
  readonly messages: readonly ScheduledMessage[];
  readonly options: AnalysisOptions;
}

const schedules = new WeakMap<BusCase, Schedule>();
const bounds = new WeakMap<BusCase, readonly FrameResponse[]>();
const exact = new WeakMap<BusCase, ReadonlyMap<BusFrame, ResponseTime>>();

/** Bounds of the response times of a case's frames that have a period, highest priority first; see `responseBounds`. */
export function boundsOf(one: BusCase): readonly FrameResponse[] {
  const known = bounds.get(one);
  if (known) return known;
  const { timed, messages, options } = scheduleOf(one);
  const found = responseBounds(messages, options);
  const are = timed.map((frame, at) => ({ frame, periodNs: messages[at]!.periodNs, boundNs: found[at]! }));
  bounds.set(one, are);
  return are;
}

const boundsOfMessages = new WeakMap<BusCase, ReadonlyMap<string, number>>();

/** The bounds by message, the greater one where a message is sent twice. */
export function boundsByMessage(one: BusCase): ReadonlyMap<string, number> {
  const known = boundsOfMessages.get(one);
  if (known) return known;
  const found = new Map<string, number>();
  for (const { frame, boundNs } of boundsOf(one)) found.set(frame.ref, Math.max(found.get(frame.ref) ?? 0, boundNs));
  boundsOfMessages.set(one, found);
  return found;
}

/** Worst-case response times of a case's frames that have a period, worked out when first asked for; see `responseTimes`. */
export function responsesOf(one: BusCase): ReadonlyMap<BusFrame, ResponseTime> {
  const known = exact.get(one);
  if (known) return known;
  const { timed, messages, options } = scheduleOf(one);
  const found = responseTimes(messages, options);
  const are = new Map(timed.map((frame, at) => [frame, found[at]!]));
  exact.set(one, are);
  return are;
}

const responsesOfMessages = new WeakMap<BusCase, ReadonlyMap<string, number>>();

/** The bounded response times by message, in nanoseconds, the greater one where a message is sent twice. */
export function responsesByMessage(one: BusCase): ReadonlyMap<string, number> {
  const known = responsesOfMessages.get(one);
  if (known) return known;
  const found = new Map<string, number>();
  for (const [{ ref }, response] of responsesOf(one)) {
    if (response.kind === 'bounded') found.set(ref, Math.max(found.get(ref) ?? 0, response.responseNs));
  }
  responsesOfMessages.set(one, found);
  return found;
}

/** Frames without a period block those above them and count as nothing for those below. */
function scheduleOf(one: BusCase): Schedule {
  const known = schedules.get(one);
  if (known) return known;
  const timed: BusFrame[] = [];
  const messages: ScheduledMessage[] = [];
  for (const frame of one.frames) {
    const { periodMs, jitterMs = 0, name } = frame.message;
    if (periodMs === null) continue;
    timed.push(frame);
    messages.push({
      name,
      frameTimeNs: frame.timeNs,
      periodNs: Math.max(1, Math.round(periodMs * 1e6)),
      jitterNs: Math.round(jitterMs * 1e6),
    });
  }
  const lowerPriorityFrameNs: number[] = [];
  let longest = 0;
  let next = one.frames.length - 1;
  for (let at = timed.length - 1; at >= 0; at -= 1) {
    for (; next >= 0 && one.frames[next] !== timed[at]; next -= 1) {
      if (one.frames[next]!.message.periodMs === null) longest = Math.max(longest, one.frames[next]!.timeNs);
    }
    lowerPriorityFrameNs[at] = longest;
  }
  const is = { timed, messages, options: { bitTimeNs: bitTimeNs(one.rates), lowerPriorityFrameNs } };
  schedules.set(one, is);
  return is;
}
