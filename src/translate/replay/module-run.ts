import type { ModulePlan, WireOutput } from '../plan/types.ts';
import { MARK, MARK_NEVER, statusOfMark } from './marks.ts';
import { type Outcome, createOutcomes, createRouteRun } from './route-run.ts';
import { createSources } from './sources.ts';
import { createTransmitRun } from './transmit-run.ts';
import type { RouteSample, WireLevel } from './types.ts';

/** One interface module running. */
export interface ModuleRun {
  readonly plan: ModulePlan;
  /** Begins at this moment: its first tick. */
  start(timeUs: number): void;
  /** A frame of the received message at this position. */
  receive(message: number, data: Uint8Array, timeUs: number): void;
  /** A level of the input wire at this position. */
  level(wire: number, value: number): void;
  tick(timeUs: number): void;
}

export interface ModulePorts {
  sendFrame(transmit: number, data: Uint8Array, timeUs: number): void;
  drive(wire: string, level: WireLevel, timeUs: number): void;
  readonly sample?: ((sample: RouteSample) => void) | undefined;
}

const STATES = ['value', 'not-available', 'error', 'lost', 'not-yet'] as const;

export function createModuleRun(plan: ModulePlan, ports: ModulePorts): ModuleRun {
  const sources = createSources(plan);
  const levels = new Float64Array(plan.wiresIn.length).fill(MARK_NEVER);
  const runs = plan.routes.map((route) => createRouteRun(route, sources, levels).run);
  const outcomes = plan.routes.map(createOutcomes);
  const values: (number | bigint)[] = plan.routes.map(() => MARK_NEVER);
  const dirty = new Uint8Array(plan.routes.length).fill(1);
  const everyTick = plan.routes.flatMap(({ everyTick: each }, index) => (each ? [index] : []));
  const inTicks = Uint8Array.from(plan.routes, (route) => (route.everyTick ? 1 : 0));
  const readersOfGroup = plan.groups.map((_, group) => readersOf(plan, 'group', group));
  const readersOfWire = plan.wiresIn.map((_, wire) => readersOf(plan, 'wire', wire));
  const { sample } = ports;

  const spoil = (routes: readonly number[]): void => {
    for (let index = 0; index < routes.length; index += 1) dirty[routes[index]!] = 1;
  };
  const workOut = (route: number): number | bigint => {
    if (dirty[route] === 1) {
      // Routes with memory run once a tick and never in between.
      if (inTicks[route] === 0) {
        values[route] = runs[route]!();
        dirty[route] = 0;
      }
    }
    return values[route]!;
  };
  const outcomeOf = (routes: readonly number[], timeUs: number): Outcome => {
    let chosen = routes[0]!;
    let value = workOut(chosen);
    if (routes.length > 1) {
      for (let at = 1; at < routes.length && isMark(value); at += 1) {
        const other = workOut(routes[at]!);
        if (!isMark(other)) {
          chosen = routes[at]!;
          value = other;
        }
      }
      if (isMark(value)) [chosen, value] = [routes[0]!, values[routes[0]!]!];
    }
    const outcome = outcomes[chosen]!;
    outcome.settle(value, timeUs);
    if (sample !== undefined) {
      sample({
        route: plan.routes[chosen]!.route.id,
        timeUs,
        raw: outcome.now.written ? outcome.now.raw : null,
        state: isMark(value) ? STATES[statusOfMark(value as number)] : 'value',
      });
    }
    return outcome.now;
  };
  const transmits = plan.transmits.map((transmit, index) =>
    createTransmitRun(plan, transmit, { outcomeOf, send: (data, timeUs) => ports.sendFrame(index, data, timeUs) }),
  );
  const wires = plan.wiresOut.map((wire) => drivingOf(wire, outcomeOf, ports));
  return {
    plan,
    start(timeUs) {
      for (const transmit of transmits) transmit.start(timeUs);
    },
    receive(message, data, timeUs) {
      const { groups, forwards, triggers } = plan.received[message]!;
      for (let index = 0; index < groups.length; index += 1) {
        const group = groups[index]!;
        if (sources.accept(group, data, timeUs)) spoil(readersOfGroup[group]!);
      }
      for (const transmit of forwards) ports.sendFrame(transmit, data, timeUs);
      for (const transmit of triggers) transmits[transmit]!.trigger(timeUs);
    },
    level(wire, value) {
      if (levels[wire] === value) return;
      levels[wire] = value;
      spoil(readersOfWire[wire]!);
    },
    tick(timeUs) {
      sources.expire(timeUs, (group) => spoil(readersOfGroup[group]!));
      for (let index = 0; index < everyTick.length; index += 1) {
        const route = everyTick[index]!;
        values[route] = runs[route]!();
      }
      for (let index = 0; index < transmits.length; index += 1) transmits[index]!.tick(timeUs);
      for (let index = 0; index < wires.length; index += 1) wires[index]!(timeUs);
    },
  };
}

function isMark(value: number | bigint): boolean {
  return typeof value === 'number' && value >= MARK;
}

function readersOf({ routes }: ModulePlan, kind: 'group' | 'wire', position: number): readonly number[] {
  return routes.flatMap(({ sources }, index) =>
    sources.some(
      (source) => source.kind === kind && (source.kind === 'group' ? source.group : source.wire) === position,
    )
      ? [index]
      : [],
  );
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
