import {
  donorPlatform,
  exampleMap,
  hostPlatform,
  interfaceModule,
  type MapInput,
  type PairingDocuments,
  type PlatformInput,
  type RouteInput,
  type WireInput,
} from './documents.ts';

type ConnectorInput = PlatformInput['connectors'][number];
type HarnessInput = NonNullable<MapInput['harness']>;
type CircuitInput = HarnessInput['circuits'][number];

/** What an example changes of the plain harness; each part is laid over the default. */
export interface HarnessCase {
  readonly source?: Partial<WireInput>;
  readonly target?: Partial<WireInput>;
  readonly route?: Partial<RouteInput>;
  /** Connector of the chassis and of the powertrain at the two ends. */
  readonly from?: Partial<ConnectorInput>;
  readonly to?: Partial<ConnectorInput>;
  readonly circuit?: Partial<CircuitInput>;
  readonly circuits?: readonly CircuitInput[];
  readonly segment?: Partial<HarnessInput['segments'][number]>;
  readonly harness?: Partial<HarnessInput>;
  readonly hostWires?: readonly WireInput[];
  readonly donorWires?: readonly WireInput[];
  readonly routes?: readonly RouteInput[];
  readonly host?: Partial<PlatformInput>;
  readonly donor?: Partial<PlatformInput>;
  readonly map?: Partial<MapInput>;
}

/** A connector with four cavities for 0.35 to 2.5 mm², of which nothing is left open. */
export function fourWay(id: string, more: Partial<ConnectorInput> = {}): ConnectorInput {
  return {
    id,
    title: `Connector ${id}`,
    cavities: ['1', '2', '3', '4'],
    accepts: { minMm2: 0.35, maxMm2: 2.5 },
    maxA: 15,
    part: `${id}-F`,
    mate: `${id}-M`,
    terminal: 'T28',
    contacts: 'socket',
    key: 'A',
    view: 'wire-side',
    sealed: false,
    zone: `zone of ${id}`,
    documents: ['sheet-1'],
    ...more,
  };
}

/** A switch of the chassis that closes to ground. */
export function buttonWire(more: Partial<WireInput> = {}): WireInput {
  return {
    id: 'button',
    title: 'Heater idle-up button',
    module: 'idle-button',
    direction: 'out',
    electrical: { class: 'switched-ground', activeLevel: 'low', contact: 'normally-open', maxA: 0.05 },
    meaning: { active: 'On', inactive: 'Off' },
    at: { connector: 'C7', cavity: '1' },
    ground: 'G1',
    function: 'heater-idle-up',
    documents: ['sheet-1'],
    ...more,
  };
}

/** An input of the powertrain's engine controller with a pull-up. */
export function inputWire(more: Partial<WireInput> = {}): WireInput {
  return {
    id: 'idle-in',
    title: 'Idle-up input',
    module: 'engine',
    direction: 'in',
    driver: 'old-panel',
    electrical: {
      class: 'input-pull-up-12v',
      activeLevel: 'low',
      contact: 'normally-open',
      thresholdLowV: 3,
      thresholdHighV: 6,
      pullOhm: 2200,
      pullToV: 12,
    },
    meaning: { active: 'On', inactive: 'Off' },
    at: { connector: 'C1', cavity: '1' },
    function: 'heater-idle-up',
    documents: ['sheet-1'],
    ...more,
  };
}

/** One switch of the chassis wired to one input of the powertrain: connectors, two metres of harness, one conductor. */
export function harnessCase(change: HarnessCase = {}): PairingDocuments {
  const source = buttonWire(change.source);
  const target = inputWire(change.target);
  return {
    host: hostPlatform({
      ...change.host,
      modules: [{ id: 'idle-button', title: 'Idle-up button', kind: 'switch' }, ...(change.host?.modules ?? [])],
      wires: [source, ...(change.hostWires ?? [])],
      connectors: [fourWay('C7', change.from), ...(change.host?.connectors ?? [])],
    }),
    donor: donorPlatform({
      ...change.donor,
      wires: [target, ...(change.donorWires ?? [])],
      connectors: [fourWay('C1', { contacts: 'pin', key: 'B', ...change.to }), ...(change.donor?.connectors ?? [])],
    }),
    map: exampleMap({
      interfaceModules: [],
      ...change.map,
      routes: [
        {
          id: 'the-route',
          from: [`host:${source.id}`],
          to: `donor:${target.id}`,
          carrier: 'hard-wire',
          measured: true,
          ...change.route,
        },
        ...(change.routes ?? []),
      ],
      harness: {
        connectors: [],
        ...change.harness,
        nodes: [
          { id: 'n7', kind: 'connector', connector: 'host:C7' },
          { id: 'n1', kind: 'connector', connector: 'donor:C1' },
          ...(change.harness?.nodes ?? []),
        ],
        segments: [
          { id: 's1', from: 'n7', to: 'n1', lengthM: 2, maxC: 85, ...change.segment },
          ...(change.harness?.segments ?? []),
        ],
        circuits: [
          {
            id: '101',
            of: 'route:the-route/1',
            label: '101 IDLE-UP',
            ...change.circuit,
            conductor: { size: '0.5mm2', colour: 'BU', ...change.circuit?.conductor },
          },
          ...(change.circuits ?? []),
        ],
      },
    }),
  };
}

/** What a load draws by the plain harness: a contact to battery behind the feed F2, on a coil or lamp of the powertrain. */
export interface LoadCase extends HarnessCase {
  readonly loadA: number;
  readonly fuseA: number | null;
}

/** A contact of the chassis that switches a feed to a load of the powertrain. */
export function loadCase({ loadA, fuseA, ...change }: LoadCase): PairingDocuments {
  return harnessCase({
    ...change,
    source: {
      id: 'contact',
      title: 'Contact to battery',
      electrical: { class: 'switched-battery', activeLevel: 'high', contact: 'normally-open', maxA: 30 },
      feed: 'F2',
      ground: undefined,
      function: undefined,
      ...change.source,
    },
    target: {
      id: 'load',
      title: 'Purge heater',
      electrical: { class: 'coil-to-ground', activeLevel: 'high', loadA, suppressed: true },
      function: undefined,
      ...change.target,
    },
    host: {
      ...change.host,
      feeds: [
        { id: 'F2', title: 'Heater', kind: 'ignition', fuseA, loadA: 0, documents: ['sheet-1'] },
        ...(change.host?.feeds ?? []),
      ],
    },
  });
}

type InterfaceInput = MapInput['interfaceModules'][number];

export interface SupplyCase extends HarnessCase {
  readonly module?: Partial<InterfaceInput>;
  /** The feed which supplies the module. */
  readonly feed?: Partial<PlatformInput['feeds'][number]>;
  readonly ground?: Partial<PlatformInput['grounds'][number]>;
}

/** The switch and the input of the plain harness with the interface module between them, supplied from the chassis. */
export function supplyCase({ module, feed, ground, ...change }: SupplyCase = {}): PairingDocuments {
  return harnessCase({
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
    host: {
      ...change.host,
      feeds: [
        {
          id: 'F2',
          title: 'Added electronics',
          kind: 'battery',
          fuseA: 5,
          loadA: 0,
          at: { connector: 'C7', cavity: '3' },
          documents: ['sheet-1'],
          ...feed,
        },
        ...(change.host?.feeds ?? []),
      ],
      grounds: [
        {
          id: 'G2',
          title: 'Dash panel',
          kind: 'power',
          at: { connector: 'C7', cavity: '4' },
          documents: ['sheet-1'],
          ...ground,
        },
        ...(change.host?.grounds ?? []),
      ],
    },
    map: {
      ...change.map,
      interfaceModules: [
        interfaceModule({
          ports: [],
          pins: [
            {
              id: 'in1',
              electrical: { class: 'input-pull-up-12v', activeLevel: 'low', pullOhm: 2200, pullToV: 12 },
              at: { connector: 'XM1', cavity: '1' },
            },
            {
              id: 'out1',
              electrical: { class: 'switched-ground', activeLevel: 'low', maxA: 1 },
              at: { connector: 'XM1', cavity: '2' },
            },
          ],
          feed: 'host:F2',
          feedAt: { connector: 'XM1', cavity: '3' },
          ground: 'host:G2',
          groundAt: { connector: 'XM1', cavity: '4' },
          ...module,
        }),
      ],
    },
    harness: {
      ...change.harness,
      connectors: [fourWay('XM1', { key: 'C', documents: undefined }), ...(change.harness?.connectors ?? [])],
      nodes: [{ id: 'nx', kind: 'connector', connector: 'XM1' }, ...(change.harness?.nodes ?? [])],
      segments: [{ id: 's2', from: 'n7', to: 'nx', lengthM: 1, maxC: 85 }, ...(change.harness?.segments ?? [])],
    },
    circuit: { of: 'pin:xm.in1', ...change.circuit },
  });
}
