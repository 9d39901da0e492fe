import type { ModulePlan, WireOutput } from '../plan/types.ts';
import { createCadence } from './cadence-run.ts';
import type { MakeFunction } from './lane-code.ts';
import { MARK, MARK_LOST, MARK_NEVER, statusOfMark } from './marks.ts';
import { type Outcome, createHoldState, createRouteRun, createSettle } from './route-run.ts';
import { createSources } from './sources.ts';
import { createTransmitRun } from './transmit-run.ts';
import type { RouteSample, SourceState, WireLevel } from './types.ts';

export type Receiver = (data: Uint8Array, timeUs: number) => void;

/** One interface module running. */
export interface ModuleRun {
  readonly plan: ModulePlan;
  /** Begins at this moment: its first tick. */
  start(timeUs: number): void;
  /** What takes the frames of each received message. */
  readonly receivers: readonly Receiver[];
  /** A level of the input wire at this position. */
  level(wire: number, value: number): void;
  tick(timeUs: number): void;
  /** Whether a source of the route at this position counts. */
  sourceState(route: number, source: number): SourceState;
}

export interface ModulePorts {
  /** What sends the frames of the transmit at this position. */
  sender(transmit: number): (data: Uint8Array, timeUs: number) => void;
  drive(wire: string, level: WireLevel, timeUs: number): void;
  readonly makeFunction?: MakeFunction | undefined;
  readonly sample?: ((sample: RouteSample) => void) | undefined;
}

const NOT_WRITTEN: Outcome = { written: false, raw: 0 };

const STATES = ['value', 'not-available', 'error', 'lost', 'not-yet'] as const;

export function createModuleRun(plan: ModulePlan, ports: ModulePorts): ModuleRun {
  const sources = createSources(plan);
  const levels = new Float64Array(plan.wiresIn.length).fill(MARK_NEVER);
  const runs = plan.routes.map((route) => createRouteRun(route, sources, levels).run);
  const holds = createHoldState(plan.routes.length);
  const settles = plan.routes.map((route, index) => createSettle(route, index, holds));
  const everyTick = plan.routes.flatMap(({ everyTick: each }, index) => (each ? [index] : []));
  /** What routes with memory gave at the last tick: they advance once a tick and never in between. */
  const ticked: (number | bigint)[] = plan.routes.map(() => MARK_NEVER);
  const workOut = plan.routes.map(({ everyTick: each }, index) => (each ? () => ticked[index]! : runs[index]!));
  const { sample } = ports;

  const tell = (route: number, value: number | bigint, outcome: Outcome, timeUs: number): void =>
    sample?.({
      route: plan.routes[route]!.route.id,
      timeUs,
      raw: outcome.written ? outcome.raw : null,
      state: isMark(value) ? STATES[statusOfMark(value as number)] : 'value',
    });
  const outcomeOf = (routes: readonly number[], timeUs: number): Outcome => {
    let chosen = routes[0]!;
    let value = workOut[chosen]!();
    for (let at = 1; at < routes.length && isMark(value); at += 1) {
      const other = workOut[routes[at]!]!();
      if (isMark(other)) continue;
      // A backup stands in: the route it stands in for is told of too.
      if (sample !== undefined) tell(chosen, value, NOT_WRITTEN, timeUs);
      chosen = routes[at]!;
      value = other;
    }
    const outcome = settles[chosen]!(value, timeUs);
    if (sample !== undefined) tell(chosen, value, outcome, timeUs);
    return outcome;
  };
  const lane = {
    arena: new DataView(sources.arena.buffer),
    missing: sources.missing,
    ...holds,
    general(route: number, timeUs: number): number {
      const { written, raw } = settles[route]!(workOut[route]!(), timeUs);
      return written ? Number(raw) : Number.NaN;
    },
  };
  const senders = plan.transmits.map((_, index) => ports.sender(index));
  const transmits = plan.transmits.map((transmit, index) =>
    createTransmitRun(plan, transmit, {
      lane,
      offsets: sources.offsets,
      lanes: sample === undefined,
      makeFunction: ports.makeFunction,
      outcomeOf,
      send: senders[index]!,
    }),
  );
  const cadence = createCadence(plan, transmits);
  const sentWith = sendersOf(plan);
  const receivers = plan.received.map(({ groups, forwards, triggers }): Receiver => {
    const [only] = groups;
    if (
      groups.length === 1 &&
      only !== undefined &&
      forwards.length === 0 &&
      triggers.length === 0 &&
      sentWith.group[only]!.length === 0
    ) {
      return sources.accept[only]!;
    }
    return (data: Uint8Array, timeUs: number): void => {
      for (const group of groups) if (sources.accept[group]!(data, timeUs)) cadence.touch(sentWith.group[group]!);
      for (const transmit of forwards) senders[transmit]!(data, timeUs);
      for (const transmit of triggers) transmits[transmit]!.inTurn(timeUs);
    };
  });
  const wires = plan.wiresOut.map((wire) => drivingOf(wire, outcomeOf, ports));
  return {
    plan,
    start: (timeUs) => cadence.start(timeUs),
    receivers,
    level(wire, value) {
      levels[wire] = value;
      cadence.touch(sentWith.wire[wire]!);
    },
    tick(timeUs) {
      if (sources.expire(timeUs)) cadence.touchAll();
      for (let index = 0; index < everyTick.length; index += 1) {
        const route = everyTick[index]!;
        ticked[route] = runs[route]!();
      }
      cadence.tick(timeUs);
      for (let index = 0; index < wires.length; index += 1) wires[index]!(timeUs);
    },
    sourceState(route, source) {
      const read = plan.routes[route]!.sources[source]!;
      const mark = read.kind === 'group' ? sources.missing[read.group]! : levels[read.wire]!;
      return mark === MARK_NEVER ? 'not-yet' : mark === MARK_LOST ? 'lost' : 'fresh';
    },
  };
}

function isMark(value: number | bigint): boolean {
  return typeof value === 'number' && value >= MARK;
}

/** For each group and wire, the transmits by change that something of it is routed into. */
function sendersOf(plan: ModulePlan): {
  readonly group: readonly (readonly number[])[];
  readonly wire: readonly (readonly number[])[];
} {
  const made = (kind: 'group' | 'wire', position: number): readonly number[] =>
    plan.transmits.flatMap(({ cadence, pages }, transmit) => {
      if (cadence.kind === 'cyclic' || cadence.kind === 'forwarded') return [];
      const routes = pages.flatMap(({ fields }) => fields.flatMap((field) => field.routes));
      const reads = routes.some((index) =>
        plan.routes[index]!.sources.some(
          (source) => source.kind === kind && (source.kind === 'group' ? source.group : source.wire) === position,
        ),
      );
      return reads ? [transmit] : [];
    });
  return {
    group: plan.groups.map((_, group) => made('group', group)),
    wire: plan.wiresIn.map((_, wire) => made('wire', wire)),
  };
}

/** Drives a wire at every tick; tells only what changes. A wire starts open. */
function drivingOf(
  { ref, kind, routes }: WireOutput,
  outcomeOf: (routes: readonly number[], timeUs: number) => Outcome,
  ports: ModulePorts,
): (timeUs: number) => void {
  let driven = false;
  let last = 0;
  return (timeUs) => {
    const { written, raw } = outcomeOf(routes, timeUs);
    if (!written) {
      if (driven) ports.drive(ref, { kind: 'open' }, timeUs);
      driven = false;
      return;
    }
    const level = Number(raw);
    if (driven && level === last) return;
    driven = true;
    last = level;
    ports.drive(
      ref,
      kind === 'switched' ? { kind: 'switched', active: level === 1 } : { kind: 'measured', thousandths: level },
      timeUs,
    );
  };
}
