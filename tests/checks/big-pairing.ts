import {
  FUNCTIONS,
  type CrossloomMap,
  type Message,
  type Platform,
  type Route,
  type Signal,
} from '../../src/model/index.ts';

const UNITS = ['Cel', '[degF]', 'kPa', '{rev}/min', 'km/h', '%', 'V', 'A', 'N.m', ''];
const IDS = [...FUNCTIONS.keys()];

export interface Size {
  readonly messages: number;
  readonly signalsPerMessage: number;
  readonly routes: number;
  readonly wires: number;
}

/** A pairing of stated size, the same for the same size: frames of eight one-byte signals on both sides, routed across. */
export function bigPairing({ messages, signalsPerMessage, routes, wires }: Size): {
  host: Platform;
  donor: Platform;
  map: CrossloomMap;
} {
  const routed = Math.ceil(routes / signalsPerMessage);
  const side = (name: 'host' | 'donor'): Platform => {
    const bus = name === 'host' ? 'body-can' : 'drive-can';
    const [stays, goes] = name === 'host' ? ['cluster', 'old-ecm'] : ['engine', 'old-panel'];
    return {
      format: 'crossloom-platform',
      version: 1,
      id: `big-${name}`,
      title: `Big ${name}`,
      market: 'any',
      documents: [{ id: 'd', title: 'Sheet' }],
      buses: [{ id: bus, kind: 'can', bitRate: 500000 }],
      modules: [
        { id: stays!, title: stays!, buses: [bus], software: '1', calibration: 'original' },
        { id: goes!, title: goes!, buses: [bus], software: '1' },
        { id: 'contact', title: 'contact', kind: 'switch' },
      ],
      messages: Array.from({ length: messages }, (_, at): Message => ({
        id: `M${at}`,
        bus,
        frameId: `0x${(0x1000 + at).toString(16).toUpperCase()}`,
        idFormat: 'extended',
        length: 8,
        // Frames that are routed lost their sender; the others go on as they were.
        sender: name === 'host' && at < routed ? goes! : stays!,
        cycleMs: 20 + (at % 5) * 20,
        staleAfterMs: 1000,
        readers: [name === 'host' ? stays! : goes!],
        documents: ['d'],
        signals: Array.from({ length: signalsPerMessage }, (_s, bit): Signal => signal(at, bit, signalsPerMessage)),
      })),
      wires: Array.from({ length: wires }, (_, at) => ({
        id: `w${at}`,
        title: `Wire ${at}`,
        module: name === 'host' ? stays! : 'contact',
        direction: name === 'host' ? ('in' as const) : ('out' as const),
        ...(name === 'host' ? { driver: goes! } : {}),
        electrical: {
          class: name === 'host' ? ('input-pull-up-12v' as const) : ('switched-ground' as const),
          activeLevel: 'low' as const,
        },
        meaning: { active: 'On', inactive: 'Off' },
        documents: ['d'],
        function: IDS[at % IDS.length]!,
      })),
      connectors: [],
      feeds: [],
      grounds: [],
    };
  };
  const all = Array.from({ length: routes }, (_, at): Route => {
    const message = Math.floor(at / signalsPerMessage) % messages;
    const bit = at % signalsPerMessage;
    return {
      id: `r${at}`,
      from: [`donor:M${message}.S${bit}`],
      to: `host:M${message}.S${bit}`,
      carrier: 'interface',
      by: 'xm',
      ...(at % 3 === 0 ? { steps: [{ do: 'convert' as const }] } : {}),
      ...(at % 11 === 0 ? {} : { staleAfterMs: 500 }),
      onLoss: at % 7 === 0 ? { do: 'hold' } : { do: 'substitute', notAvailable: true },
      atStart: 'not-available',
      measured: at % 2 === 0,
    };
  });
  const map: CrossloomMap = {
    format: 'crossloom-map',
    version: 1,
    id: 'big',
    title: 'Big',
    revision: 'A',
    host: { platform: 'h.platform.json' },
    donor: { platform: 'd.platform.json' },
    fates: { 'host:old-ecm': 'removed', 'donor:old-panel': 'removed' },
    options: [
      { id: 'drivetrain', choices: ['2wd', '4wd'] },
      { id: 'year', choices: ['early', 'late'] },
    ],
    interfaceModules: [
      {
        id: 'xm',
        title: 'Interface module',
        periodMs: 5,
        latencyMs: 2,
        startMs: 50,
        ports: [
          { id: 'A', bus: 'host:body-can' },
          { id: 'B', bus: 'donor:drive-can' },
        ],
        pins: [],
      },
    ],
    transmits: Array.from({ length: Math.min(messages, routed) }, (_, at) => ({
      message: `host:M${at}`,
      by: 'xm',
      port: 'A',
      send: 'cyclic' as const,
      cycleMs: 20 + (at % 5) * 20,
      unusedBits: '1' as const,
    })),
    routes: [
      ...all,
      ...Array.from({ length: wires }, (_, at): Route => ({
        id: `wire${at}`,
        from: [`donor:w${at}`],
        to: `host:w${at}`,
        carrier: 'hard-wire',
      })),
    ],
  };
  return { host: side('host'), donor: side('donor'), map };
}

function signal(message: number, at: number, count: number): Signal {
  const unit = UNITS[(message + at) % UNITS.length]!;
  const width = Math.floor(64 / count);
  const state = unit === '';
  return {
    id: `S${at}`,
    bits: { start: at * width, length: width, order: 'little' },
    number: 'unsigned',
    factor: state ? 1 : 0.5,
    offset: state ? 0 : -40,
    unit,
    ...(state ? { states: { '0': 'Off', '1': 'On' } } : {}),
    notAvailable: [2 ** width - 1],
    ...((message * count + at) % 4 === 0 ? { function: IDS[(message * count + at) % IDS.length]! } : {}),
  };
}
