import { CrossloomMap, Platform, pair, type Pairing } from '../../src/model/index.ts';

type Loose = Record<string, unknown>;

/** A platform of given parts, read through the schema, so that a fixture which the product would refuse fails here. */
export function platformOf(id: string, parts: Loose): Platform {
  return Platform.parse({
    format: 'crossloom-platform',
    version: 1,
    id,
    title: id,
    buses: [],
    modules: [],
    messages: [],
    wires: [],
    connectors: [],
    feeds: [],
    grounds: [],
    ...parts,
  });
}

export function mapOf(parts: Loose): CrossloomMap {
  return CrossloomMap.parse({
    format: 'crossloom-map',
    version: 1,
    id: 'small',
    title: 'Small pairing for tests',
    revision: 'A',
    host: { platform: 'host.platform.json' },
    donor: { platform: 'donor.platform.json' },
    fates: {},
    interfaceModules: [],
    transmits: [],
    routes: [],
    ...parts,
  });
}

export const hostParts: Loose = {
  buses: [
    {
      id: 'chassis-can',
      kind: 'can',
      bitRate: 500000,
      terminations: [
        { at: 'bcm', ohm: 120 },
        { at: 'cluster', ohm: 120 },
      ],
      lengthM: 9.5,
      tap: { high: { connector: 'C1', cavity: '1' }, low: { connector: 'C1', cavity: '2' }, module: 'bcm' },
    },
  ],
  modules: [
    { id: 'bcm', title: 'Body control module', buses: ['chassis-can'] },
    { id: 'cluster', title: 'Instrument cluster', buses: ['chassis-can'] },
    { id: 'ecm', title: 'Engine control module', buses: ['chassis-can'] },
    { id: 'starter-relay', title: 'Starter relay' },
    { id: 'reverse-lamps', title: 'Reverse lamps' },
  ],
  wires: [
    {
      id: 'starter-inhibit',
      title: 'Starter relay coil, ground side',
      module: 'starter-relay',
      direction: 'in',
      driver: 'ecm',
      electrical: { class: 'coil-to-battery', loadA: 0.15 },
      at: { connector: 'C9', cavity: '85' },
      conductor: { size: '0.5mm2', colour: 'WH-BU' },
      function: 'park-neutral-starter-interlock',
    },
    {
      id: 'pn-display',
      title: 'Park/neutral input of the body control module',
      module: 'bcm',
      direction: 'in',
      driver: 'ecm',
      electrical: { class: 'input-pull-up-12v', pullOhm: 1000 },
      at: { connector: 'C1', cavity: '7' },
    },
    {
      id: 'reverse-lamp',
      title: 'Reverse lamps',
      module: 'reverse-lamps',
      direction: 'in',
      driver: 'ecm',
      electrical: { class: 'lamp', loadA: 3.5, inrushA: 30 },
      at: { connector: 'C9', cavity: '4' },
      function: 'reverse-lamp-command',
    },
    {
      id: 'coolant-gauge',
      title: 'Coolant temperature sender input',
      module: 'cluster',
      direction: 'in',
      driver: 'ecm',
      electrical: {
        class: 'input-analogue-pull-up',
        pullOhm: 2200,
        pullToV: 5,
        returnAt: { connector: 'C3', cavity: '6' },
      },
      at: { connector: 'C3', cavity: '5' },
      function: 'coolant-temperature',
    },
  ],
  connectors: [
    { id: 'C1', title: 'BCM', of: 'bcm', cavities: ['1', '2', '7', '8'] },
    { id: 'C3', title: 'Cluster', of: 'cluster', cavities: ['5', '6', '7'], sealed: true, plug: 'PLUG-1' },
    { id: 'C9', title: 'Fuse and relay box', cavities: ['3', '4', '5', '85'] },
  ],
  feeds: [
    { id: 'F12', kind: 'ignition', fuseA: 10, at: { connector: 'C9', cavity: '3' } },
    { id: 'F14', kind: 'battery', fuseA: 20, at: { connector: 'C9', cavity: '5' } },
  ],
  grounds: [{ id: 'G101', stud: 'left front rail', studMm: 8, torqueNm: 12 }],
};

export const donorParts: Loose = {
  buses: [
    {
      id: 'powertrain-can',
      kind: 'can',
      bitRate: 250000,
      tap: { high: { connector: 'D1', cavity: 'A' }, low: { connector: 'D1', cavity: 'B' } },
    },
  ],
  modules: [
    { id: 'tcm', title: 'Transmission control module', buses: ['powertrain-can'] },
    { id: 'sensor-ect', title: 'Coolant sensor', kind: 'sensor' },
  ],
  wires: [
    {
      id: 'park-neutral',
      title: 'Park/neutral contact',
      module: 'tcm',
      direction: 'out',
      electrical: { class: 'switched-ground', maxA: 0.5 },
      meaning: { active: 'Park or Neutral', inactive: 'In gear' },
      at: { connector: 'D2', cavity: '14' },
      function: 'park-neutral-starter-interlock',
    },
    {
      id: 'reverse-contact',
      title: 'Reverse contact',
      module: 'tcm',
      direction: 'out',
      electrical: { class: 'switched-ground', maxA: 0.5 },
      at: { connector: 'D2', cavity: '15' },
      function: 'reverse-lamp-command',
    },
    {
      id: 'coolant-sensor',
      title: 'Coolant sensor',
      module: 'sensor-ect',
      direction: 'out',
      electrical: { class: 'thermistor', ohm: [150, 100000], returnAt: { connector: 'D3', cavity: '2' } },
      at: { connector: 'D3', cavity: '1' },
      function: 'coolant-temperature',
    },
  ],
  connectors: [
    { id: 'D1', title: 'Bus stub', cavities: ['A', 'B'] },
    { id: 'D2', title: 'TCM', of: 'tcm', cavities: ['14', '15', '16'] },
    { id: 'D3', title: 'Coolant sensor', cavities: ['1', '2'] },
  ],
};

export const mapParts: Loose = {
  fates: { 'host:ecm': 'removed' },
  interfaceModules: [
    {
      id: 'xm',
      title: 'Interface module',
      periodMs: 10,
      latencyMs: 2,
      maxA: 1.5,
      ports: [
        {
          id: 'A',
          bus: 'host:chassis-can',
          at: { high: { connector: 'X1', cavity: '1' }, low: { connector: 'X1', cavity: '2' } },
        },
        {
          id: 'B',
          bus: 'donor:powertrain-can',
          at: { high: { connector: 'X1', cavity: '3' }, low: { connector: 'X1', cavity: '4' } },
        },
      ],
      pins: [
        {
          id: 'in3',
          electrical: { class: 'input-pull-up-12v', pullOhm: 2200 },
          at: { connector: 'X1', cavity: '8' },
        },
        { id: 'out1', electrical: { class: 'switched-ground', maxA: 0.5 }, at: { connector: 'X1', cavity: '9' } },
      ],
      feed: 'host:F12',
      feedAt: { connector: 'X1', cavity: '5' },
      ground: 'host:G101',
      groundAt: { connector: 'X1', cavity: '6' },
    },
  ],
  routes: [
    {
      id: 'park-neutral',
      from: ['donor:park-neutral'],
      to: 'host:starter-inhibit',
      carrier: 'hard-wire',
    },
    {
      id: 'park-neutral-copy',
      from: ['donor:park-neutral'],
      to: 'host:pn-display',
      carrier: 'hard-wire',
      conductor: { colour: 'YE', size: '0.75mm2' },
    },
    {
      id: 'reverse-lamp',
      from: ['donor:reverse-contact'],
      to: 'host:reverse-lamp',
      carrier: 'interface',
      by: 'xm',
      enters: ['in3'],
      leaves: 'out1',
      via: ['k1'],
    },
    { id: 'coolant', from: ['donor:coolant-sensor'], to: 'host:coolant-gauge', carrier: 'hard-wire' },
  ],
  harness: {
    serviceM: 0.1,
    connectors: [
      {
        id: 'X1',
        title: 'Interface module',
        of: 'xm',
        cavities: ['1', '2', '3', '4', '5', '6', '7', '8', '9'],
        accepts: { minMm2: 0.35, maxMm2: 1.5 },
        sealed: true,
        terminal: 'T-064-S',
        seal: 'S-1',
        plug: 'PLUG-1',
        part: 'XH-9',
      },
    ],
    parts: [
      {
        id: 'k1',
        title: 'Reverse lamp relay',
        kind: 'relay',
        coilBy: 'xm.out1',
        ohm: 90,
        suppressed: true,
        terminals: { '30': 'host:F14', '85': 'host:F12' },
      },
    ],
    nodes: [],
    segments: [],
    circuits: [{ id: '101', of: 'route:park-neutral/1', conductor: { size: '1mm2' }, label: 'P/N' }],
  },
};

/**
 * The harness with ways (metres):
 *   nC9 –0.9– b1 –1.2– b2 –0.4– nX1
 *   nC1 –0.5– b1, nC3 –0.8– b1, nG –0.3– b1, nK –0.2– b1; nD1 –0.6– b2, nD2 –0.7– b2, nD3 –1.0– b2
 */
export const routedHarness: Loose = {
  ...(mapParts.harness as Loose),
  nodes: [
    { id: 'nC1', kind: 'connector', connector: 'host:C1' },
    { id: 'nC3', kind: 'connector', connector: 'host:C3' },
    { id: 'nC9', kind: 'connector', connector: 'host:C9' },
    { id: 'nG', kind: 'stud', ground: 'host:G101' },
    { id: 'nK', kind: 'part', part: 'k1' },
    { id: 'nX1', kind: 'connector', connector: 'X1' },
    { id: 'nD1', kind: 'connector', connector: 'donor:D1' },
    { id: 'nD2', kind: 'connector', connector: 'donor:D2' },
    { id: 'nD3', kind: 'connector', connector: 'donor:D3' },
    { id: 'b1', kind: 'branch' },
    { id: 'b2', kind: 'branch' },
  ],
  segments: [
    { from: 'nC9', to: 'b1', lengthM: 0.9, covering: 'convoluted tube' },
    { from: 'b1', to: 'b2', lengthM: 1.2, covering: 'convoluted tube' },
    { from: 'b2', to: 'nX1', lengthM: 0.4 },
    { from: 'nC1', to: 'b1', lengthM: 0.5 },
    { from: 'nC3', to: 'b1', lengthM: 0.8 },
    { from: 'nG', to: 'b1', lengthM: 0.3 },
    { from: 'nK', to: 'b1', lengthM: 0.2 },
    { from: 'nD1', to: 'b2', lengthM: 0.6 },
    { from: 'nD2', to: 'b2', lengthM: 0.7 },
    { from: 'nD3', to: 'b2', lengthM: 1 },
  ],
};

/** The small pairing, with parts of the map replaced. */
export function smallPairing(change: Loose = {}, host: Loose = {}, donor: Loose = {}): Pairing {
  return pair(
    mapOf({ ...mapParts, ...change }),
    platformOf('host', { ...hostParts, ...host }),
    platformOf('donor', { ...donorParts, ...donor }),
  );
}
