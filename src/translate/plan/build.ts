import {
  type Combination,
  type Endpoint,
  type InterfaceModule,
  type Message,
  type Pairing,
  type Route,
  type Signal,
  type Transmit,
  holds,
  portOnBus,
  sideRef,
} from '../../model/index.ts';
import { fitsIn } from '../../can/index.ts';
import { analyseRoute } from '../analysis/analyse.ts';
import { type CompiledRoute, compileRoute } from '../program/compile-route.ts';
import { runsEveryTick } from '../program/memory.ts';
import { protectionOf, verifyOf } from './checksum-plan.ts';
import { MOST_PAGES, baseOf, isInPage, pagesFor } from './pages.ts';
import type {
  Cadence,
  ModulePlan,
  PlannedRoute,
  PlannedTransmit,
  ReceivedMessage,
  Refused,
  SourceGroup,
  WireInput,
  WireOutput,
} from './types.ts';

/** Times in the plan are whole microseconds. */
export function microseconds(ms: number): number {
  return Math.round(ms * 1000);
}

/** A staleness or cycle longer than this cannot be told apart in 32 bits of microseconds; half an hour is beyond any use. */
const MOST_US = 2 ** 31 - 1;

/**
 * What one interface module does in one build: the routes it carries, compiled; the messages and wires they read; the messages and
 * wires it sends. What cannot be done is left out and named in `refused`.
 */
export function planModule(pairing: Pairing, module: InterfaceModule, combination: Combination): ModulePlan {
  const draft: Draft = {
    pairing,
    module,
    combination,
    received: [],
    groups: [],
    wiresIn: [],
    refused: [],
    index: new Map(),
  };
  const routes = pairing.map.routes.filter((route) => isOf(pairing, module, route) && isThere(route.when, combination));
  const copies: Route[] = [];
  const planned: PlannedRoute[] = [];
  for (const route of routes) {
    const compiled = compileRoute(analyseRoute(pairing, route), module.periodMs);
    switch (compiled.kind) {
      case 'refused':
        draft.refused.push({ what: 'route', id: route.id, why: compiled.why });
        break;
      case 'frame':
        copies.push(route);
        break;
      case 'values': {
        const entry = planRoute(draft, route, compiled);
        if (entry !== null) planned.push(entry);
      }
    }
  }
  const transmits = planTransmits(draft, planned, copies);
  return {
    module,
    combination,
    periodUs: Math.max(1, microseconds(module.periodMs)),
    latencyUs: microseconds(module.latencyMs),
    startUs: microseconds(module.startMs ?? 0),
    received: draft.received.map((message) => ({ ...message })),
    groups: draft.groups,
    wiresIn: draft.wiresIn,
    routes: planned,
    transmits,
    wiresOut: planWires(draft, planned),
    refused: draft.refused,
  };
}

interface Draft {
  readonly pairing: Pairing;
  readonly module: InterfaceModule;
  readonly combination: Combination;
  readonly received: Mutable<ReceivedMessage>[];
  readonly groups: SourceGroup[];
  readonly wiresIn: WireInput[];
  readonly refused: Refused[];
  /** Positions of messages, groups and wires already planned, by what makes them the same. */
  readonly index: Map<string, number>;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] extends readonly (infer U)[] ? U[] : T[K] };

function isThere(when: Route['when'], combination: Combination): boolean {
  return when === undefined || holds(when, combination);
}

/** Whether a route runs through this module; a route that names none runs through the only one there is. */
function isOf(pairing: Pairing, module: InterfaceModule, { carrier, by }: Route): boolean {
  if (carrier !== 'interface') return false;
  return by === undefined ? pairing.map.interfaceModules.length === 1 : by === module.id;
}

function busOf({ side, message }: Extract<Endpoint, { kind: 'signal' | 'message' }>): string {
  return sideRef(side, message.bus);
}

/** The position of a message among those received; null, with the reason noted, when no port listens to its bus. */
function receive(draft: Draft, endpoint: Extract<Endpoint, { kind: 'signal' | 'message' }>): number | string {
  const ref = sideRef(endpoint.side, endpoint.message.id);
  const known = draft.index.get(`message ${ref}`);
  if (known !== undefined) return known;
  const bus = busOf(endpoint);
  if (!hears(draft, endpoint.side, endpoint.message.bus))
    return `${draft.module.id} has no port on ${bus}, where ${ref} is sent`;
  draft.received.push({
    ref,
    bus,
    frameId: Number.parseInt(endpoint.message.frameId, 16),
    extended: endpoint.message.idFormat === 'extended',
    groups: [],
    forwards: [],
    triggers: [],
  });
  draft.index.set(`message ${ref}`, draft.received.length - 1);
  return draft.received.length - 1;
}

/** A port on the bus itself, or on one that is joined with it. */
function hears({ pairing, module }: Draft, side: Endpoint['side'], busId: string): boolean {
  if (portOnBus(module, sideRef(side, busId)) !== null) return true;
  const joined = pairing.side(side).buses.get(busId)?.joinedWith ?? [];
  return joined.some((id) => portOnBus(module, sideRef(side, id)) !== null);
}

function planRoute(draft: Draft, route: Route, compiled: CompiledRoute): PlannedRoute | null {
  const refuseIt = (why: string): null => {
    draft.refused.push({ what: 'route', id: route.id, why });
    return null;
  };
  if (route.staleAfterMs !== undefined && microseconds(route.staleAfterMs) > MOST_US)
    return refuseIt('its staleness limit is longer than 35 minutes');
  const sources: PlannedRoute['sources'][number][] = [];
  for (const ref of route.from) {
    const endpoint = draft.pairing.find(ref);
    if (endpoint?.kind === 'wire') {
      sources.push({
        kind: 'wire',
        wire: wireIn(draft, ref, compiled.program.sources[sources.length]!.kind === 'switched-wire'),
      });
      continue;
    }
    if (endpoint?.kind !== 'signal') return refuseIt(`"${ref}" is no signal or wire`);
    const group = groupOf(draft, route, endpoint);
    if (typeof group === 'string') return refuseIt(group);
    sources.push({ kind: 'group', group });
  }
  return { route, compiled, sources, everyTick: runsEveryTick(compiled.program) };
}

function wireIn(draft: Draft, ref: string, switched: boolean): number {
  const known = draft.index.get(`wire ${ref}`);
  if (known !== undefined) return known;
  draft.wiresIn.push({ ref, kind: switched ? 'switched' : 'measured' });
  draft.index.set(`wire ${ref}`, draft.wiresIn.length - 1);
  return draft.wiresIn.length - 1;
}

/** The group in which a route listens to a signal; a text with the reason when it cannot. */
function groupOf(draft: Draft, route: Route, endpoint: Extract<Endpoint, { kind: 'signal' }>): number | string {
  const { message: source, signal } = endpoint;
  if (!fitsIn(signal.bits, source.length)) return `"${signal.id}" does not lie within ${source.id}`;
  const selectors = selectorsOf(source, signal);
  if (typeof selectors === 'string') return selectors;
  const { verify, faults } = route.verifySource ? verifyOf(source) : { verify: null, faults: [] };
  if (faults.length > 0) return `its source cannot be verified: ${faults.join('; ')}`;
  const message = receive(draft, endpoint);
  if (typeof message === 'string') return message;
  const staleUs = route.staleAfterMs === undefined ? null : microseconds(route.staleAfterMs);
  const recoverAfter = route.recoverAfter ?? 1;
  const selection = selectors
    .map(({ bits, on }) => `${bits.start}/${bits.length}/${bits.order}=${on.join(',')}`)
    .join('&');
  const key = `group ${message} ${selection} ${staleUs} ${recoverAfter} ${verify !== null}`;
  const known = draft.index.get(key);
  if (known !== undefined) return known;
  draft.groups.push({
    message,
    // A frame that is cut short is no sample of any of its signals.
    needsBytes: source.length,
    selectors,
    staleUs,
    recoverAfter,
    verify,
  });
  const group = draft.groups.length - 1;
  draft.index.set(key, group);
  draft.received[message]!.groups.push(group);
  return group;
}

function selectorsOf(message: Message, signal: Signal): SourceGroup['selectors'] | string {
  const selectors: SourceGroup['selectors'][number][] = [];
  let current = signal;
  while (current.multiplexed !== undefined) {
    const { by, on } = current.multiplexed;
    const parent = message.signals.find(({ id }) => id === by);
    if (parent === undefined || selectors.length > message.signals.length)
      return `the multiplexer "${by}" of "${signal.id}" does not exist`;
    if (!fitsIn(parent.bits, message.length)) return `the multiplexer "${by}" does not lie within ${message.id}`;
    selectors.push({
      bits: parent.bits,
      signed: parent.number === 'signed',
      on: on.map((entry) =>
        Array.isArray(entry)
          ? ([BigInt(entry[0]), BigInt(entry[1])] as const)
          : ([BigInt(entry), BigInt(entry)] as const),
      ),
    });
    current = parent;
  }
  return selectors;
}

/** Positions of routes by what they write, each route before its backups. */
function writersOf(routes: readonly PlannedRoute[]): ReadonlyMap<string, readonly number[]> {
  const writers = new Map<string, number[]>();
  routes.forEach(({ route }, index) => {
    const known = writers.get(route.to);
    if (known) known.push(index);
    else writers.set(route.to, [index]);
  });
  for (const list of writers.values()) {
    list.sort(
      (a, b) =>
        Number(routes[a]!.route.backupOf !== undefined) - Number(routes[b]!.route.backupOf !== undefined) || a - b,
    );
  }
  return writers;
}

function planTransmits(draft: Draft, routes: readonly PlannedRoute[], copies: readonly Route[]): PlannedTransmit[] {
  const { pairing, module, combination, refused } = draft;
  const writers = writersOf(routes);
  const written = new Set<string>();
  const transmits: PlannedTransmit[] = [];
  for (const transmit of pairing.map.transmits) {
    if (transmit.by !== module.id || !isThere(transmit.when, combination)) continue;
    const endpoint = pairing.find(transmit.message);
    const port = module.ports.find(({ id }) => id === transmit.port);
    if (endpoint?.kind !== 'message' || port === undefined) {
      refused.push({
        what: 'transmit',
        id: transmit.message,
        why: port === undefined ? `${module.id} has no port ${transmit.port}` : 'it names no message',
      });
      continue;
    }
    written.add(transmit.message);
    const planned = planTransmit(draft, transmit, endpoint, port.bus, routes, writers, copies, transmits.length);
    if (typeof planned === 'string') refused.push({ what: 'transmit', id: transmit.message, why: planned });
    else transmits.push(planned);
  }
  for (const { route } of routes) {
    const endpoint = pairing.find(route.to);
    if (endpoint?.kind !== 'signal' || written.has(sideRef(endpoint.side, endpoint.message.id))) continue;
    refused.push({
      what: 'route',
      id: route.id,
      why: `${module.id} does not send ${sideRef(endpoint.side, endpoint.message.id)}`,
    });
  }
  for (const route of copies) {
    if (!written.has(route.to))
      refused.push({ what: 'route', id: route.id, why: `${module.id} does not send ${route.to}` });
  }
  return transmits;
}

function planTransmit(
  draft: Draft,
  transmit: Transmit,
  { ref, message }: Extract<Endpoint, { kind: 'message' }>,
  bus: string,
  routes: readonly PlannedRoute[],
  writers: ReadonlyMap<string, readonly number[]>,
  copies: readonly Route[],
  position: number,
): PlannedTransmit | string {
  const copy = copies.find(({ to }) => to === ref);
  const { counter, checksum, faults } = protectionOf(message, transmit.protection ?? message.protection);
  if (faults.length > 0) return faults.join('; ');
  const cadence = cadenceOf(transmit, message, copy !== undefined);
  const base = {
    ref,
    bus,
    frameId: Number.parseInt(message.frameId, 16),
    extended: message.idFormat === 'extended',
    fd: message.frameFormat === 'fd',
    lengthBytes: message.length,
    cadence,
  };
  if (copy !== undefined) {
    const source = draft.pairing.find(copy.from[0]!);
    if (source?.kind !== 'message') return `"${copy.from[0]}" is no message`;
    const received = receive(draft, source);
    if (typeof received === 'string') return received;
    draft.received[received]!.forwards.push(position);
    return { ...base, cadence: { kind: 'forwarded' }, copyOf: received, pages: [], counter: null, checksum: null };
  }
  const signals = message.signals.filter(({ id }) => writers.has(`${ref}.${id}`) || transmit.fill?.[id] !== undefined);
  const outside = signals.find(({ bits }) => !fitsIn(bits, message.length));
  if (outside !== undefined) return `"${outside.id}" does not lie within ${message.id}`;
  const selections = pagesFor(message, signals);
  if (selections.length > MOST_PAGES) return `it would have more than ${MOST_PAGES} pages`;
  const pages = selections.map((page) => ({
    base: baseOf(message, page, transmit),
    fields: message.signals.flatMap((signal) => {
      const list = writers.get(`${ref}.${signal.id}`);
      return list !== undefined && isInPage(signal, page, message) ? [{ routes: list }] : [];
    }),
  }));
  if (cadence.kind === 'forwarded') trigger(draft, routes, pages, position);
  return { ...base, copyOf: null, pages, counter, checksum };
}

/** A forwarded message of routed signals goes out when any message they come from has come in. */
function trigger(
  draft: Draft,
  routes: readonly PlannedRoute[],
  pages: PlannedTransmit['pages'],
  position: number,
): void {
  const messages = new Set<number>();
  for (const { fields } of pages) {
    for (const index of fields.flatMap((field) => field.routes)) {
      for (const source of routes[index]!.sources)
        if (source.kind === 'group') messages.add(draft.groups[source.group]!.message);
    }
  }
  for (const message of messages) draft.received[message]!.triggers.push(position);
}

/** Cadence of a transmit: as it says, else as the message it sends is sent by its own sender. */
export function cadenceOf(transmit: Transmit, message: Message, copied: boolean): Cadence {
  const cycleMs = transmit.cycleMs ?? message.cycleMs;
  const send = transmit.send ?? (copied ? 'forwarded' : cycleMs === undefined ? 'on-change' : sendOf(message));
  const cycleUs = cycleMs === undefined ? null : Math.max(1, microseconds(cycleMs));
  const phaseUs = microseconds(transmit.phaseMs ?? 0);
  const minGapUs = microseconds(transmit.minGapMs ?? 0);
  switch (send) {
    case 'forwarded':
      return { kind: 'forwarded' };
    case 'on-change':
      return { kind: 'on-change', minGapUs };
    case 'cyclic':
    case 'cyclic-and-on-change':
      // A cycle that nobody states cannot be kept: only changes are sent then.
      if (cycleUs === null) return { kind: 'on-change', minGapUs };
      return send === 'cyclic'
        ? { kind: 'cyclic', cycleUs, phaseUs }
        : { kind: 'cyclic-and-on-change', cycleUs, phaseUs, minGapUs };
  }
}

function sendOf({ send }: Message): 'cyclic' | 'on-change' | 'cyclic-and-on-change' {
  return send === 'on-change' || send === 'cyclic-and-on-change' ? send : 'cyclic';
}

function planWires({ pairing }: Draft, routes: readonly PlannedRoute[]): WireOutput[] {
  return [...writersOf(routes)].flatMap(([ref, list]): WireOutput[] => {
    if (pairing.find(ref)?.kind !== 'wire') return [];
    const output = routes[list[0]!]!.compiled.program.output.kind;
    return [{ ref, kind: output === 'switched-wire' ? 'switched' : 'measured', routes: list }];
  });
}
