import type { CrossloomMap, Message, Platform, Route, Signal, Transmit } from '../../src/model/index.ts';

export interface Generated {
  readonly map: CrossloomMap;
  readonly host: Platform;
  readonly donor: Platform;
}

const SIGNALS_A_MESSAGE = 8;

function signal(index: number, readers: string[]): Signal {
  const numeric = index % 4 !== 0;
  return {
    id: `Signal${index}`,
    title: `Signal number ${index}`,
    bits: { start: (index % SIGNALS_A_MESSAGE) * 8, length: 8, order: 'little' },
    number: 'unsigned',
    factor: numeric ? 0.5 : 1,
    offset: numeric ? -40 : 0,
    unit: numeric ? 'Cel' : '',
    ...(numeric
      ? { range: [-40, 86] as [number, number], notAvailable: [255] }
      : { states: { '0': 'Off', '1': 'On', '3': 'Not available' }, notAvailable: [3] }),
    readers,
  };
}

/** One platform: messages by turns from a module that goes and one that stays. */
function platform(id: string, signals: number, needed: number, extended: boolean): Platform {
  const messages = Array.from({ length: signals / SIGNALS_A_MESSAGE }, (_, at): Message => {
    const goes = at % 2 === 0;
    const isRead = !goes || (at / 2) * SIGNALS_A_MESSAGE < needed;
    return {
      id: `Message${at}`,
      bus: `bus${at % 4}`,
      frameId: `0x${(extended ? 0x18000000 + at : at).toString(16).toUpperCase()}`,
      idFormat: extended || at > 0x7ff ? 'extended' : 'standard',
      length: 8,
      sender: goes ? 'removed-unit' : 'kept-unit',
      cycleMs: 100,
      staleAfterMs: 500,
      signals: Array.from({ length: SIGNALS_A_MESSAGE }, (_s, n) =>
        signal(at * SIGNALS_A_MESSAGE + n, isRead ? [goes ? 'kept-unit' : 'removed-unit'] : []),
      ),
      documents: ['doc'],
    };
  });
  return {
    format: 'crossloom-platform',
    version: 1,
    id,
    title: `Generated platform ${id}`,
    documents: [{ id: 'doc', title: 'Generated' }],
    buses: Array.from({ length: 4 }, (_, at) => ({ id: `bus${at}`, kind: 'can' as const, bitRate: 500000 })),
    modules: [
      { id: 'removed-unit', title: 'Unit that goes', buses: ['bus0', 'bus1', 'bus2', 'bus3'] },
      { id: 'kept-unit', title: 'Unit that stays', buses: ['bus0', 'bus1', 'bus2', 'bus3'] },
    ],
    messages,
    wires: [],
    connectors: [],
    feeds: [],
    grounds: [],
  };
}

/** A pairing of stated size: as many signals on each side, as many routes from donor to host. */
export function generateMap(signalsASide: number, routes: number): Generated {
  const host = platform('host', signalsASide, routes, false);
  const donor = platform('donor', signalsASide, 0, true);
  const wanted = host.messages.filter(({ sender }) => sender === 'removed-unit');
  const offered = donor.messages.filter(({ sender }) => sender === 'kept-unit');
  const used = new Set<number>();
  const list = Array.from({ length: routes }, (_, at): Route => {
    const [message, n] = [Math.floor(at / SIGNALS_A_MESSAGE) % wanted.length, at % SIGNALS_A_MESSAGE];
    used.add(message);
    const target = wanted[message]!;
    const source = offered[message]!;
    return {
      id: `route-${at}`,
      from: [`donor:${source.id}.${source.signals[n]!.id}`],
      to: `host:${target.id}.${target.signals[n]!.id}`,
      carrier: 'interface',
      by: 'xm',
      steps: [],
      staleAfterMs: 500,
      onLoss: { do: 'substitute', notAvailable: true },
      atStart: 'not-available',
      note: 'generated',
    };
  });
  const transmits = [...used].map((at): Transmit => {
    const message = wanted[at]!;
    return { message: `host:${message.id}`, by: 'xm', port: `H${message.bus.slice(3)}`, cycleMs: 100, fill: {} };
  });
  const map: CrossloomMap = {
    format: 'crossloom-map',
    version: 1,
    id: 'generated',
    title: 'Generated pairing',
    revision: 'A',
    host: { platform: 'host.platform.json' },
    donor: { platform: 'donor.platform.json' },
    fates: { 'host:removed-unit': 'removed', 'donor:removed-unit': 'removed' },
    interfaceModules: [
      {
        id: 'xm',
        title: 'Interface module',
        periodMs: 10,
        latencyMs: 2,
        ports: Array.from({ length: 4 }, (_, at) => [
          { id: `H${at}`, bus: `host:bus${at}` },
          { id: `D${at}`, bus: `donor:bus${at}` },
        ]).flat(),
        pins: [],
      },
    ],
    transmits,
    routes: list,
  };
  return { map, host, donor };
}
