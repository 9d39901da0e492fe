import type { CrossloomMap, Fate, InterfaceModule, Pin, Port, Route, Transmit } from './document/map.ts';
import type { Bus, Connector, Feed, Ground, Message, Module, Platform, Signal, Wire } from './document/platform.ts';
import { optionSpace, type OptionSpace } from './options.ts';
import { sideRef, signalRef, type SideName } from './reference.ts';

export interface SignalEntry {
  readonly kind: 'signal';
  readonly side: SideName;
  readonly ref: string;
  readonly message: Message;
  readonly signal: Signal;
}
export interface MessageEntry {
  readonly kind: 'message';
  readonly side: SideName;
  readonly ref: string;
  readonly message: Message;
}
export interface WireEntry {
  readonly kind: 'wire';
  readonly side: SideName;
  readonly ref: string;
  readonly wire: Wire;
}
/** What a route's `from` and `to` may name. */
export type Endpoint = SignalEntry | MessageEntry | WireEntry;

/** One platform with its parts found by id. */
export interface Side {
  readonly name: SideName;
  readonly platform: Platform;
  readonly buses: ReadonlyMap<string, Bus>;
  readonly modules: ReadonlyMap<string, Module>;
  readonly messages: ReadonlyMap<string, MessageEntry>;
  readonly wires: ReadonlyMap<string, WireEntry>;
  readonly connectors: ReadonlyMap<string, Connector>;
  readonly feeds: ReadonlyMap<string, Feed>;
  readonly grounds: ReadonlyMap<string, Ground>;
}

/** A map with both of its platforms, indexed. Everything derived starts from here. */
export interface Pairing {
  readonly map: CrossloomMap;
  readonly host: Side;
  readonly donor: Side;
  readonly options: OptionSpace;
  readonly interfaceModules: ReadonlyMap<string, InterfaceModule>;
  readonly routes: ReadonlyMap<string, Route>;
  /** Routes by what they write. */
  readonly routesTo: ReadonlyMap<string, readonly Route[]>;
  /** Routes by each source they read. */
  readonly routesFrom: ReadonlyMap<string, readonly Route[]>;
  /** Transmits by message reference. */
  readonly transmitsOf: ReadonlyMap<string, readonly Transmit[]>;
  side(name: SideName): Side;
  /** The fate of `side:module`; retained unless the map says otherwise. */
  fateOf(side: SideName, moduleId: string): Fate;
  /** The signal, message or wire a reference names; null when there is none. */
  find(ref: string): Endpoint | null;
}

function byId<T extends { readonly id: string }>(list: readonly T[]): Map<string, T> {
  return new Map(list.map((entry) => [entry.id, entry]));
}

/** Indexes one platform. */
export function indexSide(name: SideName, platform: Platform): Side {
  return {
    name,
    platform,
    buses: byId(platform.buses),
    modules: byId(platform.modules),
    messages: new Map(
      platform.messages.map((message) => [
        message.id,
        { kind: 'message', side: name, ref: sideRef(name, message.id), message },
      ]),
    ),
    wires: new Map(
      platform.wires.map((wire) => [wire.id, { kind: 'wire', side: name, ref: sideRef(name, wire.id), wire }]),
    ),
    connectors: byId(platform.connectors),
    feeds: byId(platform.feeds),
    grounds: byId(platform.grounds),
  };
}

function group<T>(list: readonly T[], keysOf: (entry: T) => readonly string[]): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const entry of list) {
    for (const key of keysOf(entry)) {
      const known = groups.get(key);
      if (known) known.push(entry);
      else groups.set(key, [entry]);
    }
  }
  return groups;
}

/** Joins a map with its platforms. Sides already indexed may be handed in again after an edit of the map alone. */
export function pair(map: CrossloomMap, host: Platform | Side, donor: Platform | Side): Pairing {
  const hostSide = 'platform' in host ? host : indexSide('host', host);
  const donorSide = 'platform' in donor ? donor : indexSide('donor', donor);
  const sideOf = (name: SideName): Side => (name === 'host' ? hostSide : donorSide);
  const found = new Map<string, Endpoint | null>();
  const find = (ref: string): Endpoint | null => {
    const known = found.get(ref);
    if (known !== undefined) return known;
    const endpoint = locate(ref, sideOf);
    found.set(ref, endpoint);
    return endpoint;
  };
  const fates = new Map(Object.entries(map.fates));
  return {
    map,
    host: hostSide,
    donor: donorSide,
    options: optionSpace(map),
    interfaceModules: byId(map.interfaceModules),
    routes: byId(map.routes),
    routesTo: group(map.routes, (route) => [route.to]),
    routesFrom: group(map.routes, ({ from }) => (from.length > 1 ? [...new Set(from)] : from)),
    transmitsOf: group(map.transmits, (transmit) => [transmit.message]),
    side: sideOf,
    fateOf: (side, moduleId) => fates.get(sideRef(side, moduleId)) ?? 'retained',
    find,
  };
}

function locate(ref: string, sideOf: (name: SideName) => Side): Endpoint | null {
  const colon = ref.indexOf(':');
  const name = ref.slice(0, colon);
  if (name !== 'host' && name !== 'donor') return null;
  const side = sideOf(name);
  const dot = ref.indexOf('.', colon);
  if (dot < 0) {
    const id = ref.slice(colon + 1);
    return side.wires.get(id) ?? side.messages.get(id) ?? null;
  }
  const message = side.messages.get(ref.slice(colon + 1, dot))?.message;
  const signalId = ref.slice(dot + 1);
  const signal = message?.signals.find(({ id }) => id === signalId);
  return message && signal
    ? { kind: 'signal', side: name, ref: signalRef(name, message.id, signal.id), message, signal }
    : null;
}

/** A pin of an interface module, if both exist. */
export function findPin(pairing: Pairing, interfaceModuleId: string | undefined, pinId: string): Pin | null {
  const owner = interfaceModuleId === undefined ? undefined : pairing.interfaceModules.get(interfaceModuleId);
  return owner?.pins.find(({ id }) => id === pinId) ?? null;
}

/** The port of an interface module on a given bus (`side:bus`), if it has one. */
export function portOnBus(owner: InterfaceModule, busRef: string): Port | null {
  return owner.ports.find(({ bus }) => bus === busRef) ?? null;
}
