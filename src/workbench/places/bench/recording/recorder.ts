import { codecOf, compileField } from '../../../../can/index.ts';
import { holds, sideRef, type Combination, type Endpoint, type Pairing, type Route } from '../../../../model/index.ts';
import {
  createReplay,
  type Refused,
  type ReplayFrame,
  type ReplayOutput,
  type RouteSample,
  type WireLevel,
} from '../../../../translate/index.ts';
import { ChangeTrace } from './change-trace.ts';
import { FrameLog, type RecordedMessage } from './frame-log.ts';

/** What a route gave, as a number in a trace. The first five are those of the engine, in its order. */
export const ROUTE_STATES = ['value', 'not-available', 'error', 'lost', 'not-yet', 'other-writes'] as const;
export type RouteState = (typeof ROUTE_STATES)[number];
const OTHER_WRITES = ROUTE_STATES.indexOf('other-writes');
const STATE_NUMBER = new Map<string, number>(ROUTE_STATES.map((state, index) => [state, index]));
/** Added to the number of a state when nothing is written. */
export const NOT_WRITTEN = 8;

/** Each source's state takes two bits of a number: 0 fresh, 1 lost, 2 nothing came yet. */
export const SOURCE_STATES = ['fresh', 'lost', 'not-yet'] as const;
const SOURCE_NUMBER = { fresh: 0, lost: 1, 'not-yet': 2 } as const;
/** More sources than this of one route are not told apart. */
const MOST_SOURCES = 26;

/** One route as it was replayed. */
export interface RouteTrace {
  readonly route: Route;
  /** Raw value written, at the time it leaves the interface module. 0 where nothing is. */
  readonly raw: ChangeTrace;
  /** Position in `ROUTE_STATES`, plus `NOT_WRITTEN`. */
  readonly state: ChangeTrace;
  /** States of the sources, two bits each, the first lowest. */
  readonly sources: ChangeTrace;
}

/** All that was replayed, ready to be looked at. */
export interface Recording {
  readonly pairing: Pairing;
  readonly combination: Combination;
  readonly startUs: number;
  readonly endUs: number;
  /** Every signal and wire that some route of the build reads, by reference. */
  readonly sources: ReadonlyMap<string, ChangeTrace>;
  /** Routes through interface modules, by id. */
  readonly routes: ReadonlyMap<string, RouteTrace>;
  /** Levels at the far end of each conductor that goes from end to end, by reference. */
  readonly conductors: ReadonlyMap<string, ChangeTrace>;
  readonly messages: readonly RecordedMessage[];
  /** Frames received first, then those each interface module sent. */
  readonly frames: readonly FrameLog[];
  readonly refused: readonly Refused[];
  readonly counts: RecordedCounts;
}

export interface RecordedCounts {
  readonly framesIn: number;
  readonly framesOut: number;
  /** Frames that no route of the build reads. */
  readonly framesUnread: number;
  readonly levelsIn: number;
}

export interface Recorder {
  onFrame(frame: ReplayFrame): void;
  onWire(ref: string, level: Exclude<WireLevel, { kind: 'open' }>, timeUs: number): void;
  /** Memory taken so far; the caller stops when it is too much. */
  readonly bytes: number;
  /** The latest moment seen; −Infinity before the first. */
  readonly timeUs: number;
  /** Lets time pass up to the end and gives what was recorded; nothing must be put in afterwards. */
  finish(endUs?: number): Recording;
}

/** Replays frames and levels through a map and keeps what every route was given and gave. */
export function createRecorder(pairing: Pairing, combination: Combination, startUs?: number): Recorder {
  const there = pairing.map.routes.filter(({ when }) => when === undefined || holds(when, combination));
  const messages: RecordedMessage[] = [];
  const received = new FrameLog();
  const sent = new Map<string, FrameLog>();
  const sources = new Map<string, ChangeTrace>();
  const conductors = new Map<string, ChangeTrace>();
  const traces = new Map<string, RouteTrace>();
  const taking = new Map<string, ((data: Uint8Array, timeUs: number) => void)[]>();
  let levelsIn = 0;
  let framesUnread = 0;
  let firstUs = startUs ?? Number.NaN;
  let lastUs = -Infinity;

  const replay = createReplay(pairing, {
    combination,
    ...(startUs === undefined ? {} : { startUs }),
    output: (event) => onOutput(event),
    sample: (sample) => onSample(sample),
  });
  const running = new Map<string, Running>();
  for (const plan of replay.plans) {
    for (const { route } of plan.routes) {
      const trace: RouteTrace = { route, raw: new ChangeTrace(), state: new ChangeTrace(), sources: new ChangeTrace() };
      traces.set(route.id, trace);
      running.set(route.id, {
        trace,
        latencyUs: plan.latencyUs,
        stateOf: replay.sourceStates(route.id)!,
        sourceCount: Math.min(route.from.length, MOST_SOURCES),
        others: [],
      });
    }
  }
  for (const one of running.values())
    for (const other of running.values())
      if (other !== one && other.trace.route.to === one.trace.route.to) one.others.push(other);

  const messageIndex = new Map<string, number>();
  const messageOf = (ref: string, by: string | null): number => {
    const key = `${by ?? ''} ${ref}`;
    const known = messageIndex.get(key);
    if (known !== undefined) return known;
    const entry = pairing.find(ref);
    const message = entry?.kind === 'message' ? entry.message : null;
    messages.push({
      ref,
      by,
      bus: entry?.kind === 'message' ? sideRef(entry.side, entry.message.bus) : '',
      frameId: message === null ? 0 : Number.parseInt(message.frameId, 16),
      extended: message?.idFormat === 'extended',
    });
    messageIndex.set(key, messages.length - 1);
    return messages.length - 1;
  };
  for (const ref of new Set(there.flatMap(({ from }) => from))) {
    const endpoint = pairing.find(ref);
    if (endpoint === null) continue;
    const trace = new ChangeTrace();
    if (endpoint.kind !== 'message') sources.set(ref, trace);
    if (endpoint.kind === 'wire') continue;
    const key = keyOf(
      sideRef(endpoint.side, endpoint.message.bus),
      Number.parseInt(endpoint.message.frameId, 16),
      endpoint.message.idFormat === 'extended',
    );
    const list = taking.get(key) ?? [];
    if (list.length === 0) {
      const message = messageOf(sideRef(endpoint.side, endpoint.message.id), null);
      list.push((data, timeUs) => received.add(timeUs, message, data));
    }
    if (endpoint.kind === 'signal') list.push(reader(endpoint, trace));
    taking.set(key, list);
  }

  const onSample = ({ route, timeUs, raw, state }: RouteSample): void => {
    const one = running.get(route)!;
    const leavesUs = timeUs + one.latencyUs;
    one.trace.state.set(leavesUs, STATE_NUMBER.get(state)! + (raw === null ? NOT_WRITTEN : 0));
    if (raw !== null) one.trace.raw.set(leavesUs, raw);
    tellSources(one, timeUs);
    for (const other of one.others) {
      other.trace.state.set(leavesUs, OTHER_WRITES + NOT_WRITTEN);
      tellSources(other, timeUs);
    }
  };
  const onOutput = (event: ReplayOutput): void => {
    if (event.kind === 'frame') {
      let log = sent.get(event.by);
      if (log === undefined) sent.set(event.by, (log = new FrameLog()));
      log.add(event.timeUs, messageOf(event.message, event.by), event.data);
      return;
    }
    if (event.by !== null) return;
    let trace = conductors.get(event.wire);
    if (trace === undefined) conductors.set(event.wire, (trace = new ChangeTrace()));
    const level = numberOfLevel(event.level);
    if (level !== null) trace.set(event.timeUs, level);
  };
  /** Time as the engine takes it: what claims to be earlier than what came before happens now. */
  const clock = (timeUs: number): number => {
    if (Number.isNaN(firstUs)) firstUs = timeUs;
    if (timeUs > lastUs) lastUs = timeUs;
    return lastUs;
  };
  // The tables are looked up once a frame; strings are joined only for buses and ids not met before.
  const byBus = new Map<string, Map<number, readonly ((data: Uint8Array, timeUs: number) => void)[] | null>>();
  const takersOf = ({ bus, frameId, extended }: ReplayFrame) => {
    let table = byBus.get(bus);
    if (table === undefined) byBus.set(bus, (table = new Map()));
    const code = extended ? frameId + 2 ** 29 : frameId;
    const known = table.get(code);
    if (known !== undefined) return known;
    const found = taking.get(keyOf(bus, frameId, extended)) ?? null;
    table.set(code, found);
    return found;
  };
  return {
    onFrame(frame) {
      const now = clock(frame.timeUs);
      const takers = takersOf(frame);
      if (takers === null) framesUnread += 1;
      else for (const take of takers) take(frame.data, now);
      replay.onFrame(frame);
    },
    onWire(ref, level, timeUs) {
      const now = clock(timeUs);
      levelsIn += 1;
      const value = numberOfLevel(level);
      if (value !== null) sources.get(ref)?.set(now, value);
      replay.onWire(ref, level, timeUs);
    },
    get bytes() {
      let sum = received.bytes;
      for (const log of sent.values()) sum += log.bytes;
      for (const trace of sources.values()) sum += trace.bytes;
      for (const { raw, state, sources: own } of traces.values()) sum += raw.bytes + state.bytes + own.bytes;
      return sum;
    },
    get timeUs() {
      return lastUs;
    },
    finish(endUs = lastUs) {
      if (endUs > lastUs && Number.isFinite(endUs)) lastUs = endUs;
      if (Number.isFinite(lastUs)) replay.advanceTo(lastUs);
      const out = [...sent.values()];
      return {
        pairing,
        combination,
        startUs: Number.isNaN(firstUs) ? 0 : firstUs,
        endUs: Number.isFinite(lastUs) ? lastUs : 0,
        sources,
        routes: traces,
        conductors,
        messages,
        frames: [received, ...out],
        refused: replay.refused,
        counts: {
          framesIn: received.length,
          framesOut: out.reduce((sum, log) => sum + log.length, 0),
          framesUnread,
          levelsIn,
        },
      };
    },
  };
}

interface Running {
  readonly trace: RouteTrace;
  readonly latencyUs: number;
  readonly stateOf: (source: number) => (typeof SOURCE_STATES)[number];
  readonly sourceCount: number;
  /** Routes that write the same. */
  readonly others: Running[];
}

function tellSources({ trace, stateOf, sourceCount }: Running, timeUs: number): void {
  let states = 0;
  for (let source = sourceCount - 1; source >= 0; source -= 1) states = states * 4 + SOURCE_NUMBER[stateOf(source)];
  trace.sources.set(timeUs, states);
}

/** The state of one source out of the number that holds them all. */
export function sourceStateOf(states: number, source: number): (typeof SOURCE_STATES)[number] {
  return SOURCE_STATES[Math.floor(states / 4 ** source) % 4]!;
}

function keyOf(bus: string, frameId: number, extended: boolean): string {
  return `${bus} ${extended ? 'x' : ''}${frameId}`;
}

/** Takes a signal out of the frames of its message; a frame too short for it, or of another page, tells nothing. */
function reader(
  { message, signal }: Extract<Endpoint, { kind: 'signal' }>,
  trace: ChangeTrace,
): (data: Uint8Array, timeUs: number) => void {
  if (signal.multiplexed !== undefined) {
    const codec = codecOf(message);
    return (data, timeUs) => {
      if (data.length < message.length) return;
      const found = codec.decode(data).find(({ name }) => name === signal.id);
      if (found !== undefined) trace.set(timeUs, found.raw);
    };
  }
  const { read } = compileField(signal.bits, signal.number);
  return (data, timeUs) => {
    if (data.length >= message.length) trace.set(timeUs, read(data));
  };
}

function numberOfLevel(level: WireLevel): number | null {
  switch (level.kind) {
    case 'switched':
      return Number(level.active);
    case 'measured':
      return level.thousandths;
    case 'open':
      return null;
  }
}
