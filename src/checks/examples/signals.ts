import {
  donorPlatform,
  exampleMap,
  hostPlatform,
  type MapInput,
  type PairingDocuments,
  type PlatformInput,
  type RouteInput,
  type SignalInput,
} from './documents.ts';
import { donorMessage, hostMessage, interfaceRoute, transmitOf } from './frame-case.ts';

/** A one-bit signal which bears a function. */
export function bit(
  id: string,
  functionId: string | undefined,
  start = 0,
  more: Partial<SignalInput> = {},
): SignalInput {
  return {
    id,
    bits: { start, length: 1, order: 'little' },
    number: 'unsigned',
    factor: 1,
    offset: 0,
    unit: '',
    states: { '0': 'Off', '1': 'On' },
    ...(functionId === undefined ? {} : { function: functionId }),
    ...more,
  };
}

/** A one-byte number. */
export function byte(
  id: string,
  functionId: string | undefined,
  unit: string,
  start = 0,
  more: Partial<SignalInput> = {},
): SignalInput {
  return {
    id,
    bits: { start, length: 8, order: 'little' },
    number: 'unsigned',
    factor: 1,
    offset: 0,
    unit,
    range: [0, 250],
    notAvailable: [255],
    ...(functionId === undefined ? {} : { function: functionId }),
    ...more,
  };
}

/** Where a function is on offer, and where it is wanted. */
export interface FlowCase {
  /** Signals which the powertrain sends and the chassis wants; each gets a route of its id in lower case. */
  readonly toHost?: readonly SignalInput[];
  /** Likewise from chassis to powertrain. */
  readonly toDonor?: readonly SignalInput[];
  readonly unrouted?: readonly string[];
  readonly route?: (id: string) => Partial<RouteInput>;
  readonly host?: Partial<PlatformInput>;
  readonly donor?: Partial<PlatformInput>;
  readonly routes?: readonly RouteInput[];
  readonly map?: Partial<MapInput>;
}

/** Frames in both directions through the interface module, one signal for each function. */
export function flowCase({
  toHost = [],
  toDonor = [],
  unrouted = [],
  route,
  host,
  donor,
  routes = [],
  map,
}: FlowCase): PairingDocuments {
  const lay = (signals: readonly SignalInput[]): SignalInput[] =>
    signals.map((signal, at) => ({ ...signal, bits: { ...signal.bits, start: at * 8 } }));
  const routed = (signals: readonly SignalInput[], from: string, to: string): RouteInput[] =>
    signals
      .filter(({ id }) => !unrouted.includes(id))
      .map(({ id }) =>
        interfaceRoute({ id: id.toLowerCase(), from: [`${from}.${id}`], to: `${to}.${id}`, ...route?.(id) }),
      );
  const hasHost = toHost.length > 0;
  const hasDonor = toDonor.length > 0;
  return {
    host: hostPlatform({
      ...host,
      messages: [
        ...(hasHost ? [hostMessage({ signals: lay(toHost) })] : []),
        ...(hasDonor
          ? [
              hostMessage({
                id: 'FromCluster',
                frameId: '0x230',
                sender: 'cluster',
                readers: ['old-ecm'],
                signals: lay(toDonor),
              }),
            ]
          : []),
        ...(host?.messages ?? []),
      ],
    }),
    donor: donorPlatform({
      ...donor,
      messages: [
        ...(hasHost ? [donorMessage({ signals: lay(toHost) })] : []),
        ...(hasDonor
          ? [
              donorMessage({
                id: 'ToEngine',
                frameId: '0x130',
                sender: 'old-panel',
                readers: ['engine'],
                staleAfterMs: 1000,
                signals: lay(toDonor),
              }),
            ]
          : []),
        ...(donor?.messages ?? []),
      ],
    }),
    map: exampleMap({
      ...map,
      routes: [
        ...routed(toHost, 'donor:FromEngine', 'host:ToCluster'),
        ...routed(toDonor, 'host:FromCluster', 'donor:ToEngine'),
        ...routes,
      ],
      transmits: [
        ...(hasHost ? [transmitOf('host:ToCluster')] : []),
        ...(hasDonor ? [transmitOf('donor:ToEngine', { port: 'B' })] : []),
        ...(map?.transmits ?? []),
      ],
    }),
  };
}
