import type { Endpoint, Pairing, Route } from '../../model/index.ts';
import { holds } from '../../model/index.ts';
import { planModule } from '../plan/build.ts';
import { type ModuleRun, type Receiver, createModuleRun } from './module-run.ts';
import type { Replay, ReplayFrame, ReplayOptions, SentFrame, WireLevel } from './types.ts';

/**
 * Runs the interface modules of a pairing on frames and wire levels, in whole microseconds. Deterministic: the same input gives the
 * same output, byte for byte.
 *
 * An interface module works in ticks, `periodMs` apart from the moment it is powered (plus its `startMs`). What comes in is kept as
 * it comes; at a tick sources that have become too old count as lost, routes with memory advance by one step, then messages that are
 * due are made up and sent, then wires are driven. What leaves bears the time of the tick plus `latencyMs`. A frame at the very time
 * of a tick is seen by it. Forwarded messages leave when what they are made from comes in.
 */
export function createReplay(pairing: Pairing, options: ReplayOptions): Replay {
  const combination = options.combination ?? pairing.options.combinations[0] ?? new Map<string, string>();
  const plans = pairing.map.interfaceModules
    .filter(({ when }) => when === undefined || holds(when, combination))
    .map((module) => planModule(pairing, module, combination));
  const { output } = options;

  const pending = createPending();
  const bridged = plans.length > 1;
  const modules: Running[] = plans.map((plan, index) => {
    const by = plan.module.id;
    const run = createModuleRun(plan, {
      sender(position) {
        const { ref, bus, frameId, extended, fd } = plan.transmits[position]!;
        // One event a message, filled anew for each frame.
        const event: Filled<SentFrame> = {
          kind: 'frame',
          by,
          message: ref,
          bus,
          frameId,
          extended,
          fd,
          data: new Uint8Array(),
          timeUs: 0,
        };
        const { latencyUs } = plan;
        return (data, timeUs) => {
          event.timeUs = timeUs + latencyUs;
          if (event.data !== data) event.data = data;
          output(event);
          if (!bridged) return;
          // Another interface module may listen to the same bus; a frame takes its time on the way.
          pending.add({ ...event, data: data.slice(), timeUs: event.timeUs + SHORTEST_FRAME_US }, index);
          clock[1] = Math.min(clock[1]!, event.timeUs);
        };
      },
      drive: (wire, level, timeUs) => output({ kind: 'wire', by, wire, level, timeUs: timeUs + plan.latencyUs }),
      sample: options.sample,
      makeFunction: options.makeFunction,
    });
    return { run, plan, nextUs: 0 };
  });

  /** The latest moment seen, and the first at which something is due. Doubles in an array cost no allocation when they are set. */
  const clock = Float64Array.of(-Infinity, -Infinity);
  const startedUs = new Float64Array(modules.length);
  let powered = false;
  const power = (timeUs: number): void => {
    if (powered) return;
    powered = true;
    const startUs = options.startUs ?? timeUs;
    modules.forEach((module, index) => {
      module.nextUs = startUs + module.plan.startUs;
      startedUs[index] = module.nextUs;
      module.run.start(module.nextUs);
    });
  };
  /** Runs every tick before `untilUs` (or at it, when `inclusive`), of all modules in order of time. */
  const runTicks = (untilUs: number, inclusive: boolean): void => {
    for (;;) {
      let next: Running | null = null;
      for (const module of modules) if (next === null || module.nextUs < next.nextUs) next = module;
      if (next === null) return;
      const arrival = pending.nextUs();
      if (arrival <= next.nextUs) {
        if (arrival > untilUs || (arrival === untilUs && !inclusive)) return;
        pending.deliver(arrival, bridge);
        continue;
      }
      if (next.nextUs > untilUs || (next.nextUs === untilUs && !inclusive)) return;
      next.run.tick(next.nextUs);
      next.nextUs += next.plan.periodUs;
    }
  };
  const findBus = busTables(modules, (index) => startedUs[index]!);
  const dispatch = ({ bus, frameId, extended, data }: ReplayFrame, timeUs: number): void => {
    const table = findBus(bus);
    if (table === null) return;
    const receiver = extended ? table.extended.get(frameId) : table.standard[frameId];
    if (receiver !== undefined) receiver(data, timeUs);
  };
  /** A frame that one interface module sends reaches all others. */
  const bridge = (frame: ReplayFrame, from: number): void => {
    modules.forEach(({ plan, run }, index) => {
      if (index === from || frame.timeUs < startedUs[index]!) return;
      const position = plan.received.findIndex(
        ({ bus, frameId, extended }) => bus === frame.bus && frameId === frame.frameId && extended === frame.extended,
      );
      if (position >= 0) run.receivers[position]!(frame.data, frame.timeUs);
    });
  };
  /** Lets everything happen that is due before a moment (or at it); gives the moment, or the clock's where it would run backwards. */
  const advance = (timeUs: number, inclusive: boolean): number => {
    if (timeUs < clock[0]!) return clock[0]!;
    if (timeUs >= clock[1]!) {
      power(timeUs);
      runTicks(timeUs, inclusive);
      clock[1] = nextEvent();
    }
    clock[0] = timeUs;
    return timeUs;
  };
  const nextEvent = (): number => modules.reduce((next, { nextUs }) => Math.min(next, nextUs), pending.nextUs());
  const wireInputs = modules.map(
    ({ plan }) => new Map(plan.wiresIn.map((wire, index) => [wire.ref, { index, kind: wire.kind }])),
  );
  const conductors = hardWires(pairing, combination);
  return {
    plans,
    refused: plans.flatMap(({ refused }) => refused),
    onFrame(frame) {
      dispatch(frame, advance(frame.timeUs, false));
    },
    onWire(ref, level, timeUs) {
      const now = advance(timeUs, false);
      modules.forEach(({ run }, index) => {
        const wire = wireInputs[index]!.get(ref);
        if (wire === undefined) return;
        const value = valueOf(level, wire.kind);
        if (value !== null) run.level(wire.index, value);
      });
      for (const wire of conductors.get(ref) ?? []) output({ kind: 'wire', by: null, wire, level, timeUs: now });
    },
    advanceTo(timeUs) {
      advance(timeUs, true);
    },
    sourceStates(id) {
      for (const { plan, run } of modules) {
        const position = plan.routes.findIndex(({ route }) => route.id === id);
        if (position >= 0) return (source) => run.sourceState(position, source);
      }
      return null;
    },
  };
}

/** A frame without data is 47 bits, ISO 11898-1; at 1 Mbit/s it is on the bus for so many microseconds. */
const SHORTEST_FRAME_US = 47;

interface Running {
  readonly run: ModuleRun;
  readonly plan: ModuleRun['plan'];
  nextUs: number;
}

/** A level as the integer of the wire's kind; null when it is of the other kind. */
function valueOf(level: Exclude<WireLevel, { kind: 'open' }>, kind: 'switched' | 'measured'): number | null {
  switch (level.kind) {
    case 'switched':
      return kind === 'switched' ? Number(level.active) : null;
    case 'measured':
      return kind === 'measured'
        ? Math.max(-(2 ** 31) + 1, Math.min(2 ** 31 - 1, Math.round(level.thousandths)))
        : null;
  }
}

type Filled<T> = { -readonly [K in keyof T]: T[K] };

/** Who takes the frames of a bus, by frame id. */
interface BusTable {
  readonly standard: readonly (Receiver | undefined)[];
  readonly extended: ReadonlyMap<number, Receiver>;
}

/** Finds the table of a bus; the last one asked for is at hand, since frames come in runs from few buses. */
function busTables(
  modules: readonly Running[],
  startedUs: (module: number) => number,
): (bus: string) => BusTable | null {
  const tables = new Map<string, { standard: (Receiver | undefined)[]; extended: Map<number, Receiver> }>();
  modules.forEach(({ plan, run }, module) => {
    plan.received.forEach(({ bus, frameId, extended }, position) => {
      let table = tables.get(bus);
      if (table === undefined) {
        table = { standard: new Array<Receiver | undefined>(2048).fill(undefined), extended: new Map() };
        tables.set(bus, table);
      }
      const own = run.receivers[position]!;
      // A module that takes its time to start hears nothing until then.
      const receiver: Receiver =
        plan.startUs === 0 ? own : (data, timeUs) => (timeUs >= startedUs(module) ? own(data, timeUs) : undefined);
      const before = extended ? table.extended.get(frameId) : table.standard[frameId];
      const all: Receiver =
        before === undefined
          ? receiver
          : (data, timeUs) => {
              before(data, timeUs);
              receiver(data, timeUs);
            };
      if (extended) table.extended.set(frameId, all);
      else table.standard[frameId] = all;
    });
  });
  let lastBus: string | null = null;
  let last: BusTable | null = null;
  return (bus) => {
    if (bus !== lastBus) {
      lastBus = bus;
      last = tables.get(bus) ?? null;
    }
    return last;
  };
}

/** Frames on their way from one interface module to others, in order of arrival. */
interface Pending {
  add(frame: ReplayFrame, from: number): void;
  nextUs(): number;
  deliver(timeUs: number, to: (frame: ReplayFrame, from: number) => void): void;
}

function createPending(): Pending {
  const queue: { frame: ReplayFrame; from: number }[] = [];
  return {
    add(frame, from) {
      let at = queue.length;
      while (at > 0 && queue[at - 1]!.frame.timeUs > frame.timeUs) at -= 1;
      queue.splice(at, 0, { frame, from });
    },
    nextUs: () => queue[0]?.frame.timeUs ?? Infinity,
    deliver(timeUs, to) {
      while (queue[0] !== undefined && queue[0].frame.timeUs <= timeUs) {
        const { frame, from } = queue.shift()!;
        to(frame, from);
      }
    },
  };
}

/** Wires at the far end of each conductor that carries a route from end to end. */
function hardWires(
  { map, find }: Pairing,
  combination: ReadonlyMap<string, string>,
): ReadonlyMap<string, readonly string[]> {
  const isWire = (endpoint: Endpoint | null): boolean => endpoint?.kind === 'wire';
  const ends = new Map<string, string[]>();
  const there = (route: Route): boolean => route.when === undefined || holds(route.when, combination);
  for (const route of map.routes) {
    if (route.carrier !== 'hard-wire' || !there(route) || !isWire(find(route.to))) continue;
    for (const from of route.from) {
      if (!isWire(find(from))) continue;
      const known = ends.get(from);
      if (known) known.push(route.to);
      else ends.set(from, [route.to]);
    }
  }
  return ends;
}
