import {
  donorPlatform,
  exampleMap,
  hostPlatform,
  type MapInput,
  type MessageInput,
  type PairingDocuments,
  type PlatformInput,
  type RouteInput,
  type SignalInput,
  type TransmitInput,
} from './documents.ts';

/** What an example changes of the plain case; each part is laid over the default. */
export interface FrameCase {
  readonly source?: Partial<SignalInput>;
  readonly sourceMessage?: Partial<MessageInput>;
  readonly target?: Partial<SignalInput>;
  readonly targetMessage?: Partial<MessageInput>;
  readonly route?: Partial<RouteInput>;
  /** null: the interface module does not send the message. */
  readonly transmit?: Partial<TransmitInput> | null;
  readonly host?: Partial<PlatformInput>;
  readonly donor?: Partial<PlatformInput>;
  /** More messages, routes and transmits than the one. */
  readonly hostMessages?: readonly MessageInput[];
  readonly donorMessages?: readonly MessageInput[];
  readonly routes?: readonly RouteInput[];
  readonly transmits?: readonly TransmitInput[];
  readonly map?: Partial<MapInput>;
}

/** The signal of the plain number case: oil temperature, 1 Cel per bit from −40, 255 for not available. */
export function temperature(more: Partial<SignalInput> = {}): SignalInput {
  return {
    id: 'OilTemp',
    bits: { start: 0, length: 8, order: 'little' },
    number: 'unsigned',
    factor: 1,
    offset: -40,
    unit: 'Cel',
    range: [-40, 210],
    notAvailable: [255],
    function: 'oil-temperature',
    ...more,
  };
}

/** The signal of the plain state case: tow/haul mode, two bits. */
export function mode(more: Partial<SignalInput> = {}): SignalInput {
  return {
    id: 'TowHaul',
    bits: { start: 0, length: 2, order: 'little' },
    number: 'unsigned',
    kind: 'state',
    factor: 1,
    offset: 0,
    unit: '',
    states: { '0': 'Off', '1': 'On' },
    notAvailable: [3],
    function: 'tow-haul-mode',
    ...more,
  };
}

/** One number taken from a powertrain frame, converted by the interface module and sent in a chassis frame. */
export function numberCase(change: FrameCase = {}): PairingDocuments {
  return frameCase(change, temperature());
}

/** One state, likewise. */
export function stateCase(change: FrameCase = {}): PairingDocuments {
  return frameCase(change, mode());
}

export function donorMessage(more: Partial<MessageInput> = {}): MessageInput {
  return {
    id: 'FromEngine',
    bus: 'drive-can',
    frameId: '0x120',
    idFormat: 'standard',
    length: 8,
    sender: 'engine',
    cycleMs: 100,
    documents: ['sheet-1'],
    readers: ['old-panel'],
    signals: [],
    ...more,
  };
}

export function hostMessage(more: Partial<MessageInput> = {}): MessageInput {
  return {
    id: 'ToCluster',
    bus: 'body-can',
    frameId: '0x220',
    idFormat: 'standard',
    length: 8,
    sender: 'old-ecm',
    cycleMs: 100,
    staleAfterMs: 1000,
    documents: ['sheet-1'],
    readers: ['cluster'],
    signals: [],
    ...more,
  };
}

export function interfaceRoute(more: Partial<RouteInput> & Pick<RouteInput, 'id' | 'from' | 'to'>): RouteInput {
  return {
    carrier: 'interface',
    by: 'xm',
    staleAfterMs: 500,
    onLoss: { do: 'substitute', notAvailable: true },
    atStart: 'not-available',
    measured: true,
    ...more,
  };
}

export function transmitOf(message: string, more: Partial<TransmitInput> = {}): TransmitInput {
  return { message, by: 'xm', port: 'A', send: 'cyclic', cycleMs: 100, unusedBits: '1', ...more };
}

function frameCase(change: FrameCase, signal: SignalInput): PairingDocuments {
  const source = { ...signal, ...change.source };
  const target = { ...signal, ...change.target };
  const sent = donorMessage({ signals: [source], ...change.sourceMessage });
  const read = hostMessage({ signals: [target], ...change.targetMessage });
  const route = interfaceRoute({
    id: 'the-route',
    from: [`donor:${sent.id}.${source.id}`],
    to: `host:${read.id}.${target.id}`,
    ...change.route,
  });
  return {
    host: hostPlatform({ ...change.host, messages: [read, ...(change.hostMessages ?? [])] }),
    donor: donorPlatform({ ...change.donor, messages: [sent, ...(change.donorMessages ?? [])] }),
    map: exampleMap({
      ...change.map,
      routes: [route, ...(change.routes ?? [])],
      transmits: [
        ...(change.transmit === null ? [] : [transmitOf(`host:${read.id}`, change.transmit)]),
        ...(change.transmits ?? []),
      ],
    }),
  };
}
