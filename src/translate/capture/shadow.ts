import { compileField } from '../../can/index.ts';
import type { ModulePlan, PlannedRoute } from '../plan/types.ts';
import { MARK, MARK_ERROR, MARK_NEVER, MARK_NOT_AVAILABLE } from '../replay/marks.ts';
import { createRouteRun } from '../replay/route-run.ts';
import { createGroupWatch } from './group-watch.ts';
import { type History, type Moment, createHistory } from './history.ts';

/** What the routes of one interface module could give at every moment, from what was recorded of their sources. */
export interface Shadow {
  readonly histories: readonly History[];
  /** The module has sent or driven something: it runs. */
  begin(): void;
  /** A frame of received message `message`. */
  frame(message: number, data: Uint8Array, timeUs: number): void;
  /** A level of input wire `wire`, as the integer of its kind. */
  level(wire: number, value: number, timeUs: number): void;
  /** Lets time pass up to a moment. */
  advance(timeUs: number): void;
  /** Whether all sources of the route have been seen often enough. */
  known(route: number): boolean;
  /** Whether a frame of a cyclic source of the route is overdue, or one was missing just now: the recording may lack it. */
  paused(route: number, timeUs: number): boolean;
}

export interface ShadowTimes {
  readonly slackUs: number;
  /** Until what is received may have come out: period, latency, buses. */
  readonly ageUs: number;
  /** How far back each route is remembered, and how long before a loss it may have been written last. */
  readonly horizonUs: (route: number) => number;
  readonly writtenUs: (route: number) => number;
  /** Whether it matters for the route that what its source read has changed, whatever comes of it. */
  readonly asksForReading: (route: number) => boolean;
  /** The cycle of a received message; null when it has none. */
  readonly cycleUs: (message: number) => number | null;
}

/** More sources that may or may not count at once are not told apart. */
const MOST_AMBIGUOUS = 4;

/** Two frames of a cyclic source that are further apart than this many of its cycles have one missing between them. */
const GAP_CYCLES = 1.5;

export function createShadow(plan: ModulePlan, times: ShadowTimes): Shadow {
  const groups = createGroupWatch(plan, times.slackUs);
  const levels = new Float64Array(plan.wiresIn.length).fill(MARK_NEVER);
  const runs = plan.routes.map((route) => createRouteRun(route, groups.late, levels).run);
  const histories = plan.routes.map((_, route) =>
    createHistory(times.horizonUs(route), times.writtenUs(route), isLossFor(plan.routes[route]!)),
  );
  const readers = readersOf(plan);
  const cyclesUs = plan.groups.map(({ message }) => times.cycleUs(message) ?? Infinity);
  /** When the last gap in each group ended. */
  const gapEndedUs = new Float64Array(plan.groups.length).fill(-Infinity);

  const readings = plan.routes.map((route, index) =>
    times.asksForReading(index) ? readingOf(route, groups.late.payloads, levels) : null,
  );

  const isKnown = ({ sources }: PlannedRoute): boolean =>
    sources.every((source) =>
      source.kind === 'group' ? groups.known[source.group] === 1 : levels[source.wire] !== MARK_NEVER,
    );
  const momentOf = (index: number, fromUs: number): Moment => {
    const route = plan.routes[index]!;
    const nothing = { fromUs, values: [], between: false, marks: [], unknown: true, reading: null };
    if (route.everyTick || !isKnown(route)) return nothing;
    const ambiguous = ambiguousOf(route);
    if (ambiguous.length > MOST_AMBIGUOUS) return nothing;
    const { missing } = groups.late;
    const kept = ambiguous.map((group) => missing[group]!);
    const values: (number | bigint)[] = [];
    const marks: number[] = [];
    for (let choice = 0; choice < 1 << ambiguous.length; choice += 1) {
      ambiguous.forEach((group, at) => {
        missing[group] = (choice >> at) & 1 ? groups.early.missing[group]! : kept[at]!;
      });
      const result = runs[index]!();
      const list: (number | bigint)[] = typeof result === 'number' && result >= MARK ? marks : values;
      if (!list.includes(result)) list.push(result);
    }
    ambiguous.forEach((group, at) => (missing[group] = kept[at]!));
    return { fromUs, values, between: false, marks, unknown: false, reading: readings[index]?.() ?? null };
  };
  const ambiguousOf = ({ sources }: PlannedRoute): readonly number[] => {
    const found = new Set<number>();
    for (const source of sources) {
      if (source.kind === 'group' && groups.early.missing[source.group] !== groups.late.missing[source.group])
        found.add(source.group);
    }
    return [...found];
  };
  const update = (routes: readonly number[], fromUs: number): void => {
    for (const route of routes) histories[route]!.add(momentOf(route, fromUs));
  };
  const advance = (timeUs: number): void =>
    groups.expire(timeUs, (group, sinceUs) => update(readers.group[group]!, sinceUs));
  return {
    histories,
    begin: () => groups.begin(),
    advance,
    frame(message, data, timeUs) {
      advance(timeUs);
      const before = plan.received[message]!.groups.map((group) => groups.lastUs[group]!);
      const taken = groups.take(message, data, timeUs);
      plan.received[message]!.groups.forEach((group, at) => {
        if (timeUs - before[at]! > cyclesUs[group]! * GAP_CYCLES) gapEndedUs[group] = timeUs;
      });
      for (const group of taken) update(readers.group[group]!, timeUs);
    },
    level(wire, value, timeUs) {
      advance(timeUs);
      levels[wire] = value;
      update(readers.wire[wire]!, timeUs);
    },
    known: (route) => isKnown(plan.routes[route]!),
    paused: (route, timeUs) =>
      plan.routes[route]!.sources.some(
        (source) =>
          source.kind === 'group' &&
          (timeUs - groups.lastUs[source.group]! > cyclesUs[source.group]! ||
            timeUs - gapEndedUs[source.group]! <= times.ageUs),
      ),
  };
}

/** What the only source of a route reads, before anything is made of it. */
function readingOf(
  { sources, compiled: { program } }: PlannedRoute,
  payloads: readonly Uint8Array[],
  levels: Float64Array,
): () => number | bigint | null {
  const [source] = sources;
  const [read] = program.sources;
  if (source === undefined || read === undefined) return () => null;
  if (source.kind === 'wire') return () => levels[source.wire]!;
  if (read.kind !== 'field' && read.kind !== 'float') return () => null;
  const field = compileField(read.bits, read.number);
  return () => field.read(payloads[source.group]!);
}

/** Marks that a route answers with its loss behaviour: the target has no raw value that says them. */
function isLossFor({ compiled: { loss } }: PlannedRoute): (mark: number) => boolean {
  return (mark) =>
    !(mark === MARK_NOT_AVAILABLE && loss.notAvailable !== null) && !(mark === MARK_ERROR && loss.error !== null);
}

/** Routes that read each group, and each wire. */
function readersOf({ groups, wiresIn, routes }: ModulePlan): {
  readonly group: readonly (readonly number[])[];
  readonly wire: readonly (readonly number[])[];
} {
  const reading = (kind: 'group' | 'wire', position: number): number[] =>
    routes.flatMap(({ sources }, index) =>
      sources.some(
        (source) => source.kind === kind && (source.kind === 'group' ? source.group : source.wire) === position,
      )
        ? [index]
        : [],
    );
  return {
    group: groups.map((_, group) => reading('group', group)),
    wire: wiresIn.map((_, wire) => reading('wire', wire)),
  };
}
