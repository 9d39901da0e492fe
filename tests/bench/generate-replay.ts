import {
  type CrossloomMap,
  type Message,
  type Pairing,
  type Platform,
  type Route,
  type Signal,
  type Transmit,
  pair,
} from '../../src/model/index.ts';
import type { ReplayFrame } from '../../src/translate/index.ts';

/** Cycle times in ms, dealt out to the messages in turn (common practice on powertrain buses). */
const CYCLES = [10, 10, 20, 20, 50, 100] as const;

/** Five kinds of signal, so that a message of eight bytes is full. */
const SOURCE: readonly Omit<Signal, 'id'>[] = [
  {
    bits: { start: 0, length: 16, order: 'little' },
    number: 'unsigned',
    factor: 0.125,
    offset: 0,
    unit: '{rev}/min',
    notAvailable: [65535],
  },
  {
    bits: { start: 16, length: 16, order: 'little' },
    number: 'unsigned',
    factor: 0.01,
    offset: 0,
    unit: 'km/h',
    notAvailable: [65535],
  },
  {
    bits: { start: 32, length: 8, order: 'little' },
    number: 'unsigned',
    factor: 1,
    offset: -40,
    unit: 'Cel',
    notAvailable: [255],
  },
  { bits: { start: 40, length: 12, order: 'little' }, number: 'unsigned', factor: 0.01, offset: 0, unit: 'V' },
  { bits: { start: 52, length: 12, order: 'little' }, number: 'unsigned', factor: 0.5, offset: 0, unit: 'kPa' },
];
const TARGET: readonly Omit<Signal, 'id'>[] = [
  {
    bits: { start: 0, length: 16, order: 'little' },
    number: 'unsigned',
    factor: 0.25,
    offset: 0,
    unit: '{rev}/min',
    notAvailable: [65535],
  },
  {
    bits: { start: 16, length: 16, order: 'little' },
    number: 'unsigned',
    factor: 0.01,
    offset: 0,
    unit: '[mi_i]/h',
    notAvailable: [65535],
  },
  {
    bits: { start: 32, length: 10, order: 'little' },
    number: 'unsigned',
    factor: 0.5,
    offset: -60,
    unit: '[degF]',
    notAvailable: [1023],
  },
  { bits: { start: 42, length: 10, order: 'little' }, number: 'unsigned', factor: 0.04, offset: 0, unit: 'V' },
  { bits: { start: 52, length: 12, order: 'little' }, number: 'unsigned', factor: 0.1, offset: 0, unit: '[psi]' },
];

export interface ReplayWork {
  readonly pairing: Pairing;
  readonly frames: readonly ReplayFrame[];
  readonly routes: number;
  /** The donor messages as DBC text, for the registry's library. */
  readonly dbc: string;
}

const messagesOf = (prefix: string, first: number, count: number, signals: readonly Omit<Signal, 'id'>[]): Message[] =>
  Array.from({ length: count }, (_, k) => ({
    id: `${prefix}${k}`,
    bus: 'can',
    frameId: `0x${(first + k).toString(16).toUpperCase()}`,
    idFormat: 'standard' as const,
    length: 8,
    sender: 'a',
    cycleMs: CYCLES[k % CYCLES.length]!,
    signals: signals.map((signal, s) => ({ ...signal, id: `S${s}` })),
  }));

/** 200 routes from 40 messages into 40 messages, and so many seconds of traffic from a fixed seed. */
export function generateReplay(seconds: number): ReplayWork {
  const count = 40;
  const platform = (id: string, messages: Message[]): Platform => ({
    format: 'crossloom-platform',
    version: 1,
    id,
    title: id,
    buses: [{ id: 'can', kind: 'can', bitRate: 500_000 }],
    modules: [{ id: 'a', title: 'A' }],
    messages,
    wires: [],
    connectors: [],
    feeds: [],
    grounds: [],
  });
  const donor = messagesOf('D', 0x100, count, SOURCE);
  const host = messagesOf('H', 0x300, count, TARGET);
  const routes = host.flatMap((message, k) =>
    message.signals.map((signal, s): Route => ({
      id: `r${k}-${s}`,
      from: [`donor:D${k}.S${s}`],
      to: `host:H${k}.${signal.id}`,
      carrier: 'interface',
      by: 'xm',
      ...(SOURCE[s]!.unit === signal.unit ? {} : { steps: [{ do: 'convert' as const }] }),
      staleAfterMs: 10 * CYCLES[k % CYCLES.length]!,
      onLoss: { do: 'substitute', value: 0 },
    })),
  );
  const transmits = host.map((message): Transmit => ({
    message: `host:${message.id}`,
    by: 'xm',
    port: 'A',
    cycleMs: message.cycleMs!,
  }));
  const map: CrossloomMap = {
    format: 'crossloom-map',
    version: 1,
    id: 'bench',
    title: 'Bench',
    revision: 'A',
    host: { platform: 'h' },
    donor: { platform: 'd' },
    fates: {},
    interfaceModules: [
      {
        id: 'xm',
        title: 'XM',
        periodMs: 10,
        latencyMs: 0,
        ports: [
          { id: 'A', bus: 'host:can' },
          { id: 'B', bus: 'donor:can' },
        ],
        pins: [],
      },
    ],
    transmits,
    routes,
  };
  return {
    pairing: pair(map, platform('h', host), platform('d', donor)),
    frames: traffic(donor, seconds),
    routes: routes.length,
    dbc: dbcOf(donor),
  };
}

function traffic(messages: readonly Message[], seconds: number): ReplayWork['frames'] {
  let seed = 20_260_131;
  const random = (): number => (seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0) >>> 8;
  const moments = messages.flatMap(({ frameId, cycleMs }, k) =>
    Array.from({ length: Math.floor((seconds * 1000) / cycleMs!) }, (_, n) => ({
      timeUs: n * cycleMs! * 1000 + k * 130,
      frameId: Number(frameId),
    })),
  );
  // Made in order of time, as a log is read, so that neighbours in time are neighbours in memory.
  return moments
    .sort((a, b) => a.timeUs - b.timeUs)
    .map(({ timeUs, frameId }) => ({
      timeUs,
      bus: 'donor:can',
      frameId,
      extended: false,
      data: Uint8Array.from({ length: 8 }, () => random() & 0xff),
    }));
}

function dbcOf(messages: readonly Message[]): string {
  const lines = messages.flatMap(({ id, frameId, signals }) => [
    `BO_ ${Number(frameId)} ${id}: 8 A`,
    ...signals.map((s) => ` SG_ ${s.id} : ${s.bits.start}|${s.bits.length}@1+ (${s.factor},${s.offset}) [0|0] "x" B`),
    '',
  ]);
  return `VERSION ""\n\nNS_ :\n\nBS_:\n\nBU_: A B\n\n${lines.join('\n')}\n`;
}
