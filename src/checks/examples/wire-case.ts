import {
  donorPlatform,
  exampleMap,
  hostPlatform,
  interfaceModule,
  type MapInput,
  type ModuleInput,
  type PairingDocuments,
  type PlatformInput,
  type RouteInput,
  type WireInput,
} from './documents.ts';

export interface WireCase {
  readonly source?: Partial<WireInput>;
  readonly target?: Partial<WireInput>;
  readonly route?: Partial<RouteInput>;
  readonly host?: Partial<PlatformInput>;
  readonly donor?: Partial<PlatformInput>;
  readonly hostWires?: readonly WireInput[];
  readonly donorWires?: readonly WireInput[];
  readonly routes?: readonly RouteInput[];
  readonly map?: Partial<MapInput>;
}

const SWITCH: ModuleInput = { id: 'range-switch', title: 'Range switch', kind: 'switch' };
const RELAY: ModuleInput = { id: 'starter-relay', title: 'Starter relay', kind: 'relay' };

/** An output of the powertrain's range switch: closed to ground in Park and Neutral. */
export function switchWire(more: Partial<WireInput> = {}): WireInput {
  return {
    id: 'range-contact',
    title: 'Park/neutral contact',
    module: 'range-switch',
    direction: 'out',
    electrical: { class: 'switched-ground', activeLevel: 'low', openV: 12, maxA: 0.5 },
    meaning: { active: 'permitted', inactive: 'not-permitted' },
    at: { connector: 'C1', cavity: '1' },
    function: 'park-neutral-starter-interlock',
    documents: ['sheet-1'],
    ...more,
  };
}

/** The coil of the chassis' starter relay, whose driver is removed. */
export function coilWire(more: Partial<WireInput> = {}): WireInput {
  return {
    id: 'relay-coil',
    title: 'Starter relay coil, ground side',
    module: 'starter-relay',
    direction: 'in',
    driver: 'old-ecm',
    electrical: { class: 'coil-to-battery', activeLevel: 'low', loadA: 0.15, suppressed: true },
    meaning: { active: 'permitted', inactive: 'not-permitted' },
    at: { connector: 'C7', cavity: '3' },
    function: 'park-neutral-starter-interlock',
    documents: ['sheet-1'],
    ...more,
  };
}

/** A switch of the powertrain wired end to end to a relay coil of the chassis. */
export function wireCase(change: WireCase = {}): PairingDocuments {
  const source = switchWire(change.source);
  const target = coilWire(change.target);
  return {
    host: hostPlatform({
      ...change.host,
      modules: [RELAY, ...(change.host?.modules ?? [])],
      wires: [target, ...(change.hostWires ?? [])],
    }),
    donor: donorPlatform({
      ...change.donor,
      modules: [SWITCH, ...(change.donor?.modules ?? [])],
      wires: [source, ...(change.donorWires ?? [])],
    }),
    map: exampleMap({
      ...change.map,
      routes: [
        {
          id: 'the-route',
          from: [`donor:${source.id}`],
          to: `host:${target.id}`,
          carrier: 'hard-wire',
          measured: true,
          ...change.route,
        },
        ...(change.routes ?? []),
      ],
    }),
  };
}

/** The interface module with an input and an output for the switch and the relay. */
export function moduleWithPins(more: Parameters<typeof interfaceModule>[0] = {}) {
  return interfaceModule({
    pins: [
      {
        id: 'in1',
        electrical: { class: 'input-pull-up-12v', activeLevel: 'low' },
        at: { connector: 'X1', cavity: '1' },
      },
      {
        id: 'out1',
        electrical: { class: 'switched-ground', activeLevel: 'low', maxA: 1 },
        at: { connector: 'X1', cavity: '2' },
      },
    ],
    ...more,
  });
}

/** The same switch and relay with the interface module between them. */
export function interfaceWireCase(change: WireCase = {}): PairingDocuments {
  return wireCase({
    ...change,
    route: {
      carrier: 'interface',
      by: 'xm',
      enters: ['in1'],
      leaves: 'out1',
      steps: [{ do: 'debounce', forMs: 20 }],
      staleAfterMs: 100,
      onLoss: { do: 'open-output' },
      atStart: 'loss-behaviour',
      ...change.route,
    },
    map: { interfaceModules: [moduleWithPins()], ...change.map },
  });
}
