import type { z } from 'zod';
import { CrossloomMap, Platform, type PairingDocuments } from '../../model/index.ts';

export type PlatformInput = z.input<typeof Platform>;
export type MapInput = z.input<typeof CrossloomMap>;
export type MessageInput = PlatformInput['messages'][number];
export type SignalInput = MessageInput['signals'][number];
export type WireInput = PlatformInput['wires'][number];
export type RouteInput = MapInput['routes'][number];
export type TransmitInput = MapInput['transmits'][number];
export type ModuleInput = PlatformInput['modules'][number];

const SHEET = { id: 'sheet-1', title: 'Wiring and message sheet 1' };

/** What the interface module of the examples hangs on. */
const FEED: PlatformInput['feeds'][number] = {
  id: 'F1',
  title: 'Added electronics',
  kind: 'battery',
  fuseA: 5,
  loadA: 0,
  documents: ['sheet-1'],
};
const GROUND: PlatformInput['grounds'][number] = {
  id: 'G1',
  title: 'Dash panel',
  kind: 'power',
  stud: 'G1',
  studMm: 6,
  documents: ['sheet-1'],
};

/** A chassis with an old engine controller to be removed, and a cluster that stays. */
export function hostPlatform(more: Partial<PlatformInput> = {}): Platform {
  return Platform.parse({
    format: 'crossloom-platform',
    version: 1,
    id: 'small-chassis',
    title: 'A small chassis',
    market: 'any',
    documents: [SHEET],
    buses: [{ id: 'body-can', kind: 'can', bitRate: 500000 }],
    messages: [],
    wires: [],
    connectors: [],
    ...more,
    feeds: [FEED, ...(more.feeds ?? [])],
    grounds: [GROUND, ...(more.grounds ?? [])],
    modules: [
      { id: 'old-ecm', title: 'Old engine controller', buses: ['body-can'], software: '1' },
      { id: 'cluster', title: 'Instrument cluster', buses: ['body-can'], calibration: 'original', software: '1' },
      ...(more.modules ?? []),
    ],
  } satisfies PlatformInput);
}

/** A powertrain with its engine controller, whose own instrument panel is removed. */
export function donorPlatform(more: Partial<PlatformInput> = {}): Platform {
  return Platform.parse({
    format: 'crossloom-platform',
    version: 1,
    id: 'small-powertrain',
    title: 'A small powertrain',
    market: 'any',
    documents: [SHEET],
    buses: [{ id: 'drive-can', kind: 'can', bitRate: 500000 }],
    messages: [],
    wires: [],
    connectors: [],
    feeds: [],
    grounds: [],
    ...more,
    modules: [
      { id: 'engine', title: 'Engine controller', buses: ['drive-can'], calibration: 'original', software: '1' },
      { id: 'old-panel', title: 'Old instrument panel', buses: ['drive-can'], software: '1' },
      ...(more.modules ?? []),
    ],
  } satisfies PlatformInput);
}

/** A map of the two with one interface module `xm`: port A on the chassis bus, port B on the powertrain's. */
export function exampleMap(more: Partial<MapInput> = {}): CrossloomMap {
  const { fates, interfaceModules, ...rest } = more;
  return CrossloomMap.parse({
    format: 'crossloom-map',
    version: 1,
    id: 'small-pairing',
    title: 'A small pairing',
    revision: 'A',
    host: { platform: 'host.platform.json' },
    donor: { platform: 'donor.platform.json' },
    transmits: [],
    routes: [],
    ...rest,
    fates: { 'host:old-ecm': 'removed', 'donor:old-panel': 'removed', ...fates },
    interfaceModules: interfaceModules ?? [interfaceModule()],
  } satisfies MapInput);
}

type InterfaceInput = MapInput['interfaceModules'][number];

/** The interface module of the examples. */
export function interfaceModule(more: Partial<InterfaceInput> = {}): InterfaceInput {
  return {
    id: 'xm',
    title: 'Interface module',
    periodMs: 5,
    latencyMs: 2,
    startMs: 50,
    minV: 5.5,
    maxA: 0.5,
    sleepMa: 0.5,
    transientProtected: true,
    reverseProtected: true,
    feed: 'host:F1',
    ground: 'host:G1',
    ports: [
      { id: 'A', bus: 'host:body-can' },
      { id: 'B', bus: 'donor:drive-can' },
    ],
    pins: [],
    ...more,
  };
}

export type { PairingDocuments };
