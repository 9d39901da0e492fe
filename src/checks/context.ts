import {
  CARRIER_RULES,
  CRITICALITIES,
  FUNCTIONS,
  parseRef,
  pathsOf,
  readerIds,
  senderIds,
  sideRef,
  type CarrierRule,
  type Criticality,
  type Derivation,
  type Endpoint,
  type FunctionClass,
  type HarnessPart,
  type Pairing,
  type Route,
  type RoutePath,
  type SideName,
  type Transmit,
  type VehicleFunction,
} from '../model/index.ts';
import { analyseRoute, type RouteAnalysis } from '../translate/index.ts';
import {
  fitsOfRoute,
  joinedParts,
  planWiring,
  type JoinedParts,
  type RouteFit,
  type WiringPlan,
} from '../wiring/index.ts';
import { collectBearers, derivationOf, type PlatformMemory } from './memory.ts';

/** The class of a function in this pairing: the catalogue's, or what the map raises it to. It never sinks below the catalogue. */
export interface EffectiveClass {
  readonly criticality: Criticality;
  readonly carrierRule: CarrierRule;
  readonly staleAfterMs: number | null;
}

/** One end of a route. */
export interface RouteEnd {
  readonly ref: string;
  readonly entry: Endpoint | null;
}

/** What the rules ask about a pairing; everything is worked out once, when first asked for. */
export interface CheckContext {
  readonly pairing: Pairing;
  /** What holds from one run to the next while the platforms are the same. */
  readonly memory: PlatformMemory;
  readonly derivation: Derivation;
  /** Combinations in which a route is there. */
  maskOf(route: Route): bigint;
  /** Id of the function a route serves: its own, else its target's, else its first source's that has one. */
  functionIdOf(route: Route): string | null;
  functionOf(route: Route): VehicleFunction | null;
  classOf(entry: VehicleFunction): EffectiveClass;
  /** Class of a route's function; null when it has none. */
  classOfRoute(route: Route): EffectiveClass | null;
  /** What a route reads, each reference once; `entry` is null for one that names nothing. */
  sources(route: Route): readonly RouteEnd[];
  /** What it reads and what it writes, each reference once. */
  ends(route: Route): readonly RouteEnd[];
  analysis(route: Route): RouteAnalysis;
  paths(route: Route): readonly RoutePath[];
  /** How its drivers meet its receivers electrically; empty when it runs by networks only. */
  fits(route: Route): readonly RouteFit[];
  /** The added harness, planned once for all rules. */
  wiring(): WiringPlan;
  /** Whether the route is declared a hard wire and every path of it is one. */
  isHard(route: Route): boolean;
  routesOf(functionId: string): readonly Route[];
  /** Combinations in which some route serves the function. */
  maskOfFunction(functionId: string): bigint;
  /** Combinations in which a signal, message or wire is written by a route (of its own or of its whole message). */
  maskWritten(ref: string): bigint;
  /** Combinations in which the map knowingly leaves out a reference or a function. */
  maskLeftOut(ref: string | null, functionId: string | null): bigint;
  /** Signals, messages and wires of one side that bear a function. */
  bearers(side: SideName, functionId: string): readonly Endpoint[];
  /** Whether some route reads or writes the message or a signal of it. */
  isRouted(messageRef: string): boolean;
  /** Buses (`side:bus`) from which some route of an interface module reads. */
  busesRead(moduleId: string): ReadonlySet<string>;
  part(id: string): HarnessPart | null;
  sendersPresent(entry: Endpoint): readonly string[];
  readersPresent(entry: Endpoint): readonly string[];
  /** Transmits of the message that a reference names (or whose signal it names). */
  transmitsFor(entry: Endpoint): readonly Transmit[];
  /** Routes which use a pin of an interface module. */
  routesAtPin(moduleId: string, pinId: string): readonly Route[];
}

/** Lays out the context of one run. `memory` is that of an earlier run over the same platforms, or a new one. */
export function createContext(pairing: Pairing, memory: PlatformMemory): CheckContext {
  const { map, options } = pairing;
  const derivation = derivationOf(pairing, memory);
  const raised = new Map((map.classes ?? []).map((entry) => [entry.function, entry]));
  const classes = new Map<string, EffectiveClass>();
  const pathMemory = new Map<Route, readonly RoutePath[]>();
  const parts = new Map((map.harness?.parts ?? []).map((part) => [part.id, part]));
  const senders = { host: new Map<object, readonly string[]>(), donor: new Map<object, readonly string[]>() };
  const readers = { host: new Map<object, readonly string[]>(), donor: new Map<object, readonly string[]>() };
  let byFunction: Map<string, Route[]> | null = null;
  let byPin: Map<string, Route[]> | null = null;
  let leftOut: Map<string, bigint> | null = null;
  let routed: Set<string> | null = null;
  let byReader: Map<string, Set<string>> | null = null;
  let joined: JoinedParts | null = null;
  let wiring: WiringPlan | null = null;

  // The rules are asked about one route after another: the last answer is nearly always the one wanted again.
  let lastIdentified: Route | null = null;
  let lastFunctionId: string | null = null;
  let lastAnalysed: Route | null = null;
  let lastAnalysis: RouteAnalysis | null = null;

  let lastLocated: Route | null = null;
  let lastSources: readonly RouteEnd[] = [];
  let lastEnds: readonly RouteEnd[] = [];
  const endOf = (ref: string): RouteEnd => ({ ref, entry: pairing.find(ref) });
  const locate = (route: Route): void => {
    if (route === lastLocated) return;
    const { from, to } = route;
    lastSources = (from.length > 1 ? [...new Set(from)] : from).map(endOf);
    lastEnds = from.includes(to) ? lastSources : [...lastSources, endOf(to)];
    lastLocated = route;
  };

  const functionIdOf = (route: Route): string | null => {
    if (route === lastIdentified) return lastFunctionId;
    lastFunctionId = identify(route);
    lastIdentified = route;
    return lastFunctionId;
  };
  const identify = (route: Route): string | null => {
    const known = memory.functionIds.get(route);
    if (known) return known.id;
    const id = findFunctionId(pairing, route);
    memory.functionIds.set(route, { id });
    return id;
  };
  const routesByFunction = (): Map<string, Route[]> => {
    if (byFunction) return byFunction;
    byFunction = new Map();
    for (const route of map.routes) {
      const id = functionIdOf(route);
      if (id === null) continue;
      const list = byFunction.get(id);
      if (list) list.push(route);
      else byFunction.set(id, [route]);
    }
    return byFunction;
  };
  const leftOutMasks = (): Map<string, bigint> => {
    if (leftOut) return leftOut;
    leftOut = new Map();
    for (const entry of map.leftOut ?? []) {
      const mask = options.maskOf(entry.when);
      for (const key of [entry.signal, entry.function === undefined ? undefined : `function:${entry.function}`]) {
        if (key !== undefined) leftOut.set(key, (leftOut.get(key) ?? 0n) | mask);
      }
    }
    return leftOut;
  };

  const context: CheckContext = {
    pairing,
    memory,
    derivation,
    maskOf: (route) => (route.when === undefined ? options.all : options.maskOf(route.when)),
    functionIdOf,
    functionOf: (route) => FUNCTIONS.get(functionIdOf(route) ?? '') ?? null,
    classOf(entry) {
      const known = classes.get(entry.id);
      if (known) return known;
      const is = raise(entry, raised.get(entry.id));
      classes.set(entry.id, is);
      return is;
    },
    classOfRoute(route) {
      const entry = context.functionOf(route);
      return entry ? context.classOf(entry) : null;
    },
    sources(route) {
      locate(route);
      return lastSources;
    },
    ends(route) {
      locate(route);
      return lastEnds;
    },
    analysis(route) {
      if (route === lastAnalysed) return lastAnalysis!;
      let is = memory.analyses.get(route);
      if (is === undefined) memory.analyses.set(route, (is = analyseRoute(pairing, route)));
      lastAnalysed = route;
      lastAnalysis = is;
      return is;
    },
    paths(route) {
      const known = pathMemory.get(route);
      if (known) return known;
      const are = pathsOf(pairing, route);
      pathMemory.set(route, are);
      return are;
    },
    fits: (route) => fitsOfRoute(pairing, route, (joined ??= joinedParts(pairing))),
    wiring: () => (wiring ??= planWiring(pairing)),
    isHard(route) {
      if (route.carrier !== 'hard-wire') return false;
      const paths = context.paths(route);
      return paths.length > 0 && paths.every(({ hard }) => hard);
    },
    routesOf: (functionId) => routesByFunction().get(functionId) ?? [],
    maskOfFunction: (functionId) =>
      (routesByFunction().get(functionId) ?? []).reduce((mask, route) => mask | context.maskOf(route), 0n),
    maskWritten(ref) {
      let mask = 0n;
      for (const route of pairing.routesTo.get(ref) ?? []) mask |= context.maskOf(route);
      const dot = ref.indexOf('.');
      if (dot > 0) for (const route of pairing.routesTo.get(ref.slice(0, dot)) ?? []) mask |= context.maskOf(route);
      return mask;
    },
    maskLeftOut(ref, functionId) {
      const masks = leftOutMasks();
      if (masks.size === 0) return 0n;
      let mask = 0n;
      if (ref !== null) {
        mask |= masks.get(ref) ?? 0n;
        const dot = ref.indexOf('.');
        if (dot > 0) mask |= masks.get(ref.slice(0, dot)) ?? 0n;
      }
      return functionId === null ? mask : mask | (masks.get(`function:${functionId}`) ?? 0n);
    },
    bearers: (side, functionId) => collectBearers(pairing.side(side)).get(functionId) ?? [],
    isRouted(messageRef) {
      if (!routed) {
        routed = new Set();
        for (const { from, to } of map.routes) {
          routed.add(withoutSignal(to));
          for (const ref of from) routed.add(withoutSignal(ref));
        }
      }
      return routed.has(messageRef);
    },
    busesRead(moduleId) {
      if (!byReader) {
        byReader = new Map();
        for (const { by, from } of map.routes) {
          if (by === undefined) continue;
          let buses = byReader.get(by);
          if (!buses) byReader.set(by, (buses = new Set()));
          for (const ref of from) {
            const bus = busOfRef(pairing, ref);
            if (bus !== null) buses.add(bus);
          }
        }
      }
      return byReader.get(moduleId) ?? NO_BUSES;
    },
    part: (id) => parts.get(id) ?? null,
    sendersPresent(entry) {
      const of = entry.kind === 'wire' ? entry.wire : entry.message;
      let ids = senders[entry.side].get(of);
      if (ids === undefined) senders[entry.side].set(of, (ids = presentOf(pairing, entry.side, senderIds(entry))));
      return ids;
    },
    readersPresent(entry) {
      // Signals that name no readers share those of their message.
      const of = entry.kind === 'signal' ? (entry.signal.readers ?? entry.message.readers) : null;
      if (of === undefined) return [];
      if (of === null) return presentOf(pairing, entry.side, readerIds(entry));
      let ids = readers[entry.side].get(of);
      if (ids === undefined) readers[entry.side].set(of, (ids = presentOf(pairing, entry.side, of)));
      return ids;
    },
    transmitsFor: (entry) =>
      entry.kind === 'wire' ? [] : (pairing.transmitsOf.get(`${entry.side}:${entry.message.id}`) ?? []),
    routesAtPin(moduleId, pinId) {
      if (!byPin) {
        byPin = new Map();
        for (const route of map.routes) {
          if (route.enters === undefined && route.leaves === undefined) continue;
          for (const pin of new Set([...(route.enters ?? []), ...(route.leaves === undefined ? [] : [route.leaves])])) {
            const key = `${route.by}.${pin}`;
            const list = byPin.get(key);
            if (list) list.push(route);
            else byPin.set(key, [route]);
          }
        }
      }
      return byPin.get(`${moduleId}.${pinId}`) ?? [];
    },
  };
  return context;
}

const NO_BUSES: ReadonlySet<string> = new Set();

/** The bus of the message a reference names or whose signal it names; null for a wire or nothing. */
function busOfRef(pairing: Pairing, ref: string): string | null {
  const parsed = parseRef(ref);
  const message = parsed && pairing.side(parsed.side).messages.get(parsed.name)?.message;
  return message ? sideRef(parsed.side, message.bus) : null;
}

function withoutSignal(ref: string): string {
  const dot = ref.indexOf('.');
  return dot < 0 ? ref : ref.slice(0, dot);
}

function presentOf(pairing: Pairing, side: SideName, ids: readonly string[]): readonly string[] {
  const { modules } = pairing.side(side);
  return ids.filter((id) => modules.has(id) && pairing.fateOf(side, id) !== 'removed');
}

function findFunctionId(pairing: Pairing, route: Route): string | null {
  if (route.function !== undefined) return route.function;
  for (const ref of [route.to, ...route.from]) {
    const entry = pairing.find(ref);
    if (!entry) continue;
    const id = functionIdOfEndpoint(entry);
    if (id !== null) return id;
  }
  return null;
}

/** The function an endpoint bears; a signal without one takes its message's. */
export function functionIdOfEndpoint(entry: Endpoint): string | null {
  switch (entry.kind) {
    case 'signal':
      return entry.signal.function ?? entry.message.function ?? null;
    case 'message':
      return entry.message.function ?? null;
    case 'wire':
      return entry.wire.function ?? null;
  }
}

function raise(entry: VehicleFunction, by: FunctionClass | undefined): EffectiveClass {
  const stricter = <T>(order: readonly T[], a: T, b: T | undefined): T =>
    b !== undefined && order.indexOf(b) < order.indexOf(a) ? b : a;
  return {
    criticality: stricter(CRITICALITIES, entry.criticality, by?.criticality),
    carrierRule: stricter(CARRIER_RULES, entry.carrierRule, by?.carrierRule),
    staleAfterMs: shorter(entry.staleAfterMs, by?.staleAfterMs),
  };
}

function shorter(a: number | null, b: number | undefined): number | null {
  return a === null ? (b ?? null) : Math.min(a, b ?? a);
}

/** Whether a class can move the vehicle, start the engine or remove a mandated inhibit. */
export function isMotionOrWorse(is: EffectiveClass | null): boolean {
  return is !== null && (is.criticality === 'interlock' || is.criticality === 'motion-control');
}
