import {
  interfaceModule,
  type MapInput,
  type MessageInput,
  type PairingDocuments,
  type PlatformInput,
} from './documents.ts';
import { hostMessage, numberCase, transmitOf } from './frame-case.ts';

type BusInput = PlatformInput['buses'][number];
type PortInput = MapInput['interfaceModules'][number]['ports'][number];

/** Frames beside those of the plain number case, on the chassis bus. */
export interface CrowdedBus {
  /** How many a retained module sends, and how many the interface module. */
  readonly own: number;
  readonly added: number;
  readonly cycleMs: number;
  /** The cycle the interface module sends at, and that of the vehicle as it was built. Default: the same. */
  readonly addedMs?: number;
  readonly originalMs?: number;
  readonly idFormat?: 'standard' | 'extended';
  readonly bus?: Partial<BusInput>;
  readonly hostMessages?: readonly MessageInput[];
  readonly map?: Partial<MapInput>;
}

/** The plain number case on a chassis bus with more frames of eight bytes. */
export function crowdedBus({
  own,
  added,
  cycleMs,
  addedMs = cycleMs,
  originalMs,
  idFormat = 'standard',
  ...more
}: CrowdedBus) {
  const base = idFormat === 'standard' ? 0x300 : 0x18000000;
  const frame = (at: number, from: Partial<MessageInput>): MessageInput =>
    hostMessage({ frameId: `0x${(base + at).toString(16).toUpperCase()}`, idFormat, cycleMs, ...from });
  const sent = Array.from({ length: added }, (_, at) =>
    frame(own + at, {
      id: `Added${at}`,
      sender: 'old-ecm',
      readers: ['cluster'],
      ...(originalMs === undefined ? {} : { cycleMs: originalMs }),
    }),
  );
  return numberCase({
    host: { buses: [chassisBus(more.bus)] },
    hostMessages: [
      ...Array.from({ length: own }, (_, at) => frame(at, { id: `Own${at}`, sender: 'cluster', readers: ['old-ecm'] })),
      ...sent,
      ...(more.hostMessages ?? []),
    ],
    transmits: sent.map(({ id }) => transmitOf(`host:${id}`, { cycleMs: addedMs })),
    ...(more.map === undefined ? {} : { map: more.map }),
  });
}

/** The chassis bus of the examples. */
export function chassisBus(more: Partial<BusInput> = {}): BusInput {
  return { id: 'body-can', kind: 'can', bitRate: 500000, ...more };
}

/** The plain number case with terminated buses; the chassis bus has its two in the cluster and the body controller. */
export function copperCase(
  bus: Partial<BusInput>,
  more: { readonly map?: Partial<MapInput>; readonly host?: Partial<PlatformInput> } = {},
): PairingDocuments {
  return numberCase({
    host: {
      ...more.host,
      modules: [
        { id: 'body', title: 'Body controller', buses: ['body-can'], calibration: 'original', software: '1' },
        ...(more.host?.modules ?? []),
      ],
      buses: [chassisBus({ terminations: TWO_ENDS, lengthM: 8, ...bus }), ...(more.host?.buses ?? [])],
    },
    donor: {
      modules: [
        { id: 'gearbox', title: 'Gearbox controller', buses: ['drive-can'], calibration: 'original', software: '1' },
      ],
      buses: [
        {
          id: 'drive-can',
          kind: 'can',
          bitRate: 500000,
          terminations: [
            { at: 'engine', ohm: 120 },
            { at: 'gearbox', ohm: 120 },
          ],
        },
      ],
    },
    ...(more.map === undefined ? {} : { map: more.map }),
  });
}

export const TWO_ENDS = [
  { at: 'cluster', ohm: 120 },
  { at: 'body', ohm: 120 },
];

type HarnessInput = NonNullable<MapInput['harness']>;
type PartInput = NonNullable<HarnessInput['parts']>[number];

/** An added harness of parts alone. */
export function harnessWith(parts: PartInput[]): HarnessInput {
  return { connectors: [], parts, nodes: [], segments: [], circuits: [] };
}

/** A terminator across the two lines of the chassis bus. */
export function terminator(id: string, ohm: number): PartInput {
  return {
    id,
    title: `Terminator ${id}`,
    kind: 'terminator',
    ohm,
    terminals: { high: 'host:body-can.high', low: 'host:body-can.low' },
  };
}

/** The interface module of the examples, its port on the chassis bus changed. */
export function moduleWithPort(port: Partial<PortInput>) {
  return interfaceModule({
    ports: [
      { id: 'A', bus: 'host:body-can', ...port },
      { id: 'B', bus: 'donor:drive-can' },
    ],
  });
}
