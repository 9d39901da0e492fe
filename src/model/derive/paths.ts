import type { HarnessPart, InterfaceModule, Route } from '../document/map.ts';
import type { Module, Wire } from '../document/platform.ts';
import { findPin, portOnBus, type Endpoint, type Pairing, type Side, type WireEntry } from '../pairing.ts';
import { otherSide, parseRef, pinRef, sideRef, type SideName } from '../reference.ts';

export type PathElementKind =
  | NonNullable<Module['kind']>
  | HarnessPart['kind']
  | 'wire'
  | 'splice'
  | 'connector'
  | 'feed'
  | 'ground'
  | 'bus'
  | 'interface'
  | 'pin'
  | 'port';

/** What an element does for the path: it originates the value, carries it, supplies power or return to it, or reads it. */
export type PathRole = 'source' | 'carries' | 'supplies' | 'reads';

/** One element which must work for the value to arrive. `ref`: `side:id`, an interface module's `xm`, `xm.in3`, or a harness part. */
export interface PathElement {
  readonly kind: PathElementKind;
  readonly ref: string;
  readonly role: PathRole;
  /** Whether firmware decides what leaves this element. */
  readonly programmable: boolean;
  readonly why: string;
}

/** The way of one source of a route to one of its readers, with every element that must work. */
export interface RoutePath {
  readonly route: string;
  readonly source: string;
  readonly reader: string | null;
  readonly elements: readonly PathElement[];
  /** A conductor end to end: nothing programmable between the source and the reader. */
  readonly hard: boolean;
  readonly backupOf: string | null;
  readonly mask: bigint;
}

/** Every path of a route: one for each source and reader. A route from or to something unknown has none. */
export function pathsOf(pairing: Pairing, route: Route): readonly RoutePath[] {
  const target = pairing.find(route.to);
  if (!target) return [];
  const by = route.by === undefined ? undefined : pairing.interfaceModules.get(route.by);
  const middle = middleOf(pairing, route, by);
  const end = targetElements(target);
  const readers = readersOf(pairing, target);
  const mask = pairing.options.maskOf(route.when);
  return route.from.flatMap((source, index): readonly RoutePath[] => {
    const entry = pairing.find(source);
    if (!entry) return [];
    const start = sourceElements(pairing, entry);
    const inward = by ? wayIn(pairing, by, entry, route, index) : [];
    const outward = by ? wayOut(by, target, route) : [];
    const carriers = [...start, ...inward, ...middle, ...outward, ...end];
    const hard = carriers.every(({ role, programmable }) => role !== 'carries' || !programmable);
    const backupOf = route.backupOf ?? null;
    if (readers.length === 0)
      return [{ route: route.id, source, reader: null, elements: carriers, hard, backupOf, mask }];
    return readers.map((reader) => ({
      route: route.id,
      source,
      reader: reader.ref,
      elements: [...carriers, reader],
      hard,
      backupOf,
      mask,
    }));
  });
}

/** Whether firmware decides what a module's outputs do; a part without a kind is taken for a control unit. */
export function isProgrammable(module: Module | undefined): boolean {
  return module === undefined || module.kind === undefined || module.kind === 'controller';
}

/** Modules on which a signal, message or wire is read, present in this pairing, as path elements. */
function readersOf(pairing: Pairing, target: Endpoint): PathElement[] {
  const side = pairing.side(target.side);
  return readerIds(target)
    .filter((id) => side.modules.has(id) && pairing.fateOf(target.side, id) !== 'removed')
    .map((id) => moduleElement(side, id, 'reads', 'it reads the value'));
}

/** Ids of the modules which read an endpoint, on its own side, whatever their fate. */
export function readerIds(entry: Endpoint): readonly string[] {
  switch (entry.kind) {
    case 'signal':
      return entry.signal.readers ?? entry.message.readers ?? [];
    case 'message': {
      const ids = new Set(entry.message.readers ?? []);
      for (const { readers } of entry.message.signals) for (const id of readers ?? []) ids.add(id);
      return [...ids];
    }
    case 'wire':
      return entry.wire.direction === 'in'
        ? [entry.wire.module, ...(entry.wire.readers ?? [])]
        : (entry.wire.readers ?? []);
  }
}

/** Ids of the modules which send or drive an endpoint, on its own side, whatever their fate. */
export function senderIds(entry: Endpoint): readonly string[] {
  if (entry.kind === 'wire') {
    const driver = entry.wire.direction === 'out' ? entry.wire.module : entry.wire.driver;
    return driver === undefined ? [] : [driver];
  }
  const { sender, otherSenders } = entry.message;
  return [...(sender === null ? [] : [sender]), ...(otherSenders ?? [])];
}

function moduleElement(side: Side, id: string, role: PathRole, why: string): PathElement {
  const module = side.modules.get(id);
  return {
    kind: module?.kind ?? 'controller',
    ref: sideRef(side.name, id),
    role,
    programmable: isProgrammable(module),
    why,
  };
}

function sourceElements(pairing: Pairing, entry: Endpoint): PathElement[] {
  const side = pairing.side(entry.side);
  if (entry.kind !== 'wire') {
    return [
      ...senderIds(entry).map((id) => moduleElement(side, id, 'source', 'it sends the value')),
      busElement(entry.side, entry.message.bus),
    ];
  }
  const sources = senderIds(entry).map((id) => moduleElement(side, id, 'source', 'it drives the wire'));
  return [...sources, ...wireElements(entry)];
}

function targetElements(entry: Endpoint): PathElement[] {
  return entry.kind === 'wire' ? wireElements(entry) : [busElement(entry.side, entry.message.bus)];
}

function busElement(side: SideName, bus: string): PathElement {
  // A bus is no firmware, but what reaches a reader over it was made by one: a network frame is never a hard wire.
  return {
    kind: 'bus',
    ref: sideRef(side, bus),
    role: 'carries',
    programmable: true,
    why: 'the value is a field of a network frame',
  };
}

function plain(kind: PathElementKind, ref: string, role: PathRole, why: string): PathElement {
  return { kind, ref, role, programmable: false, why };
}

/** The wire itself, its connectors, its feed and its ground, and what supplies its sensor. */
function wireElements(entry: WireEntry): PathElement[] {
  const { wire, side } = entry;
  const elements = [plain('wire', entry.ref, 'carries', 'the conductor')];
  if (wire.at)
    elements.push(plain('connector', connectorRef(side, wire.at.connector), 'carries', `cavity ${wire.at.cavity}`));
  for (const feed of [wire.feed, wire.electrical.supply]) {
    if (feed !== undefined) elements.push(plain('feed', sideRef(side, feed), 'supplies', 'it feeds the circuit'));
  }
  if (wire.ground !== undefined) elements.push(plain('ground', sideRef(side, wire.ground), 'supplies', 'its return'));
  elements.push(...supplyCavities(wire, side));
  return elements;
}

function supplyCavities(wire: Wire, side: SideName): PathElement[] {
  const at = [wire.electrical.supplyAt, wire.electrical.returnAt];
  return at.flatMap((cavity) =>
    cavity ? [plain('connector', connectorRef(side, cavity.connector), 'supplies', `cavity ${cavity.cavity}`)] : [],
  );
}

function connectorRef(side: SideName, connector: string): string {
  return connector.includes(':') ? connector : sideRef(side, connector);
}

function wayIn(pairing: Pairing, by: InterfaceModule, source: Endpoint, route: Route, index: number): PathElement[] {
  if (source.kind !== 'wire') {
    const port = portOnBus(by, sideRef(source.side, source.message.bus));
    return port ? [plain('port', pinRef(by.id, port.id), 'carries', 'the frame is received here')] : [];
  }
  // `enters` names the pins of the wire sources, in their order.
  const wiresBefore = route.from.slice(0, index).filter((ref) => pairing.find(ref)?.kind === 'wire').length;
  return pinElements(pairing, by, route.enters?.[wiresBefore]);
}

function wayOut(by: InterfaceModule, target: Endpoint, route: Route): PathElement[] {
  if (target.kind === 'wire') {
    const pin = by.pins.find(({ id }) => id === route.leaves);
    if (!pin) return [];
    return [
      plain('pin', pinRef(by.id, pin.id), 'carries', 'the interface module drives the wire here'),
      plain('connector', pin.at.connector, 'carries', `cavity ${pin.at.cavity}`),
    ];
  }
  const port = portOnBus(by, sideRef(target.side, target.message.bus));
  return port ? [plain('port', pinRef(by.id, port.id), 'carries', 'the frame is sent here')] : [];
}

function pinElements(pairing: Pairing, by: InterfaceModule, pinId: string | undefined): PathElement[] {
  const pin = pinId === undefined ? null : findPin(pairing, by.id, pinId);
  if (!pin) return [];
  return [
    plain('pin', pinRef(by.id, pin.id), 'carries', 'the interface module looks at the wire here'),
    plain('connector', pin.at.connector, 'carries', `cavity ${pin.at.cavity}`),
  ];
}

/** The interface module and the harness parts the route goes through. */
function middleOf(pairing: Pairing, route: Route, by: InterfaceModule | undefined): PathElement[] {
  const elements: PathElement[] = [];
  for (const id of route.via ?? []) elements.push(...viaElements(pairing, id));
  if (by) {
    elements.push({
      kind: 'interface',
      ref: by.id,
      role: 'carries',
      programmable: true,
      why: 'its firmware is in series',
    });
    if (by.feed) elements.push(plain('feed', by.feed, 'supplies', 'it feeds the interface module'));
    if (by.ground) elements.push(plain('ground', by.ground, 'supplies', 'the return of the interface module'));
  }
  return elements;
}

function viaElements(pairing: Pairing, id: string): PathElement[] {
  const harness = pairing.map.harness;
  const part = harness?.parts?.find((candidate) => candidate.id === id);
  if (!part) {
    const node = harness?.nodes.find((candidate) => candidate.id === id);
    if (node?.kind === 'splice') return [plain('splice', id, 'carries', 'joined here')];
    return node?.connector === undefined ? [] : [plain('connector', node.connector, 'carries', 'parted here')];
  }
  const joined = [...(part.coilBy === undefined ? [] : [part.coilBy]), ...Object.values(part.terminals ?? {})];
  const commander = joined.map((ref) => coilCommander(pairing, ref)).find((found) => found !== null) ?? null;
  const elements: PathElement[] = [
    {
      kind: part.kind,
      ref: part.id,
      role: 'carries',
      programmable: commander !== null,
      why: commander === null ? `${part.kind} in series` : `it is switched by ${commander}, so firmware is in series`,
    },
  ];
  for (const { connector, cavity } of Object.values(part.at ?? {})) {
    elements.push(plain('connector', connector, 'carries', `cavity ${cavity}`));
  }
  return elements;
}

/**
 * Who decides over a relay's coil by firmware: an interface module or its pin, a control unit, or a wire which one of them
 * drives for this map. Null when the coil hangs on a contact, a switch or a feed.
 */
export function coilCommander(pairing: Pairing, coilBy: string): string | null {
  const dot = coilBy.indexOf('.');
  if (pairing.interfaceModules.has(dot < 0 ? coilBy : coilBy.slice(0, dot))) return `the interface module (${coilBy})`;
  const ref = parseRef(coilBy);
  if (!ref) return null;
  const side = pairing.side(ref.side);
  if (ref.signal === null && side.modules.has(ref.name)) {
    return isProgrammable(side.modules.get(ref.name)) ? `the control unit ${coilBy}` : null;
  }
  const routed = pairing.routesTo.get(coilBy)?.find(({ carrier }) => carrier !== 'hard-wire');
  if (routed) return `the route ${routed.id} (carrier ${routed.carrier})`;
  const entry = pairing.find(coilBy);
  return entry !== null && entry.kind !== 'wire' ? `the network signal ${coilBy}` : null;
}

/** The side a route comes from, by its first known source; the other side of its target when there is none. */
export function sourceSide(pairing: Pairing, route: Route): SideName {
  for (const ref of route.from) {
    const entry = pairing.find(ref);
    if (entry) return entry.side;
  }
  return otherSide(route.to.startsWith('donor:') ? 'donor' : 'host');
}
