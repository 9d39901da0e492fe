// A pairing made of just the signals, wires and messages that one test needs. Not a test itself.
import {
  type CrossloomMap,
  type InterfaceModule,
  type Message,
  type Pairing,
  type Platform,
  type Route,
  type Signal,
  type Step,
  type Transmit,
  type Wire,
  pair,
} from '../../src/model/index.ts';

export function signal(part: Partial<Signal> & { id: string }): Signal {
  return {
    bits: { start: 0, length: 8, order: 'little' },
    number: 'unsigned',
    factor: 1,
    offset: 0,
    unit: '',
    ...part,
  };
}

export function message(part: Partial<Message> & { id: string }, signals: Signal[]): Message {
  return {
    bus: 'bus',
    frameId: '0x100',
    idFormat: 'standard',
    length: 8,
    sender: 'sender',
    cycleMs: 10,
    ...part,
    signals,
  };
}

export function wire(part: Partial<Wire> & { id: string }): Wire {
  return {
    title: part.id,
    module: 'sender',
    direction: 'out',
    electrical: { class: 'switched-ground' },
    ...part,
  };
}

function platform(id: string, messages: Message[], wires: Wire[]): Platform {
  return {
    format: 'crossloom-platform',
    version: 1,
    id,
    title: id,
    buses: [{ id: 'bus', kind: 'can', bitRate: 500_000 }],
    modules: [
      { id: 'sender', title: 'Sender' },
      { id: 'reader', title: 'Reader' },
    ],
    messages,
    wires,
    connectors: [],
    feeds: [],
    grounds: [],
  };
}

export interface Bench {
  readonly donor?: { messages?: Message[]; wires?: Wire[] };
  readonly host?: { messages?: Message[]; wires?: Wire[] };
  readonly routes: Route[];
  readonly transmits?: Transmit[];
  readonly interfaceModules?: InterfaceModule[];
}

export const XM: InterfaceModule = {
  id: 'xm',
  title: 'Interface module',
  periodMs: 10,
  latencyMs: 0,
  ports: [
    { id: 'A', bus: 'host:bus' },
    { id: 'B', bus: 'donor:bus' },
  ],
  pins: [],
};

export function benchPairing(bench: Bench): Pairing {
  const map: CrossloomMap = {
    format: 'crossloom-map',
    version: 1,
    id: 'bench',
    title: 'Bench',
    revision: 'A',
    host: { platform: 'host.platform.json' },
    donor: { platform: 'donor.platform.json' },
    fates: {},
    interfaceModules: bench.interfaceModules ?? [XM],
    transmits: bench.transmits ?? [],
    routes: bench.routes,
  };
  return pair(
    map,
    platform('host', bench.host?.messages ?? [], bench.host?.wires ?? []),
    platform('donor', bench.donor?.messages ?? [], bench.donor?.wires ?? []),
  );
}

/** One route from donor signals (each in a message of its own, M0, M1 …) to one host signal. */
export function routeBetween(
  from: (Signal | Wire)[],
  to: Signal | Wire,
  steps: Step[] | undefined,
  more: Partial<Route> = {},
): { pairing: Pairing; route: Route } {
  const isWire = (end: Signal | Wire): end is Wire => 'electrical' in end;
  const refs = from.map((end, index) => (isWire(end) ? `donor:${end.id}` : `donor:M${index}.${end.id}`));
  const route: Route = {
    id: 'route',
    from: refs,
    to: isWire(to) ? `host:${to.id}` : `host:T.${to.id}`,
    carrier: 'interface',
    by: 'xm',
    ...(steps === undefined ? {} : { steps }),
    ...more,
  };
  const donorMessages = from.flatMap((end, index) =>
    isWire(end)
      ? []
      : [message({ id: `M${index}`, frameId: `0x${(0x100 + index).toString(16).toUpperCase()}` }, [end])],
  );
  const pairing = benchPairing({
    donor: { messages: donorMessages, wires: from.filter(isWire) },
    host: isWire(to) ? { wires: [to] } : { messages: [message({ id: 'T', frameId: '0x200' }, [to])] },
    routes: [route],
  });
  return { pairing, route };
}
