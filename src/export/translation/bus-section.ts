import { sideRef, type Bus, type SideName } from '../../model/index.ts';
import type { Block, Cell, Row, Section } from '../document/index.ts';
import { frameIdText, joined } from '../record/index.ts';
import type { TimedBus } from './bus-timing.ts';
import type { Translation } from './translation.ts';

/** Every bus that an interface module is on: physical facts, load, and what each node may send. */
export function busSection(translation: Translation, buses: readonly TimedBus[]): Section {
  return {
    id: 'buses',
    title: 'Buses',
    startsPage: true,
    blocks: [busTable(translation, buses), transmitList(translation, buses)],
  };
}

const percent = (share: number): number => Math.round(share * 1000) / 10;

function busTable({ pairing, open }: Translation, buses: readonly TimedBus[]): Block {
  return {
    kind: 'table',
    id: 'bus-table',
    title: 'Buses',
    columns: [
      { key: 'bus', title: 'Bus', kind: 'code', weight: 24, role: 'key' },
      { key: 'title', title: 'Title', kind: 'text', weight: 20 },
      { key: 'kind', title: 'Kind', kind: 'text', weight: 7 },
      { key: 'bitRate', title: 'Bit rate', kind: 'number', weight: 8, unit: 'kbit/s' },
      { key: 'dataBitRate', title: 'Data bit rate', kind: 'number', weight: 8, unit: 'kbit/s' },
      { key: 'samplePoint', title: 'Sample point', kind: 'number', weight: 7, unit: '%' },
      { key: 'terminations', title: 'Terminators', kind: 'text', weight: 26 },
      { key: 'length', title: 'Length', kind: 'number', weight: 7, unit: 'm' },
      { key: 'port', title: 'Port of the interface', kind: 'code', weight: 10 },
      { key: 'loadPlain', title: 'Load, no stuff bits', kind: 'number', weight: 8, unit: '%', decimals: 1 },
      { key: 'loadWorst', title: 'Load, worst', kind: 'number', weight: 8, unit: '%', decimals: 1 },
    ],
    rows: buses.map(({ side, bus, ref, timing, reason }): Row => {
      const ports = pairing.map.interfaceModules.flatMap((by) =>
        by.ports.filter((port) => port.bus === ref).map((port) => `${by.id}.${port.id}`),
      );
      return {
        cells: [
          ref,
          bus.title ?? '–',
          bus.kind,
          bus.bitRate / 1000,
          bus.dataBitRate === undefined
            ? bus.kind === 'can-fd'
              ? open.decide('Data bit rate of the bus', ref)
              : 'none'
            : bus.dataBitRate / 1000,
          bus.samplePointPercent ?? open.decide('Sample point of the bus', ref),
          joined(terminatorsOf(pairing, side, bus), 'none known'),
          bus.lengthM ?? open.decide('Length of the bus', ref),
          joined(ports, 'none'),
          timing === null ? (reason ?? '–') : percent(timing.load.plain),
          timing === null ? '–' : percent(timing.load.worst),
        ],
      };
    }),
    note: 'Load counts every message with a known cycle time: what retained modules send and what the interface modules add, in all builds covered at once. Frame lengths and worst stuffing: ISO 11898-1; response times: Davis, Burns, Bril, Lukkien, Real-Time Systems 35 (2007).',
  };
}

/** Terminators as they are in this pairing: of retained modules, of ports, of harness parts. */
function terminatorsOf(pairing: Translation['pairing'], side: SideName, bus: Bus): readonly string[] {
  const ref = sideRef(side, bus.id);
  const own = (bus.terminations ?? []).map(({ at, ohm }) => {
    const removed = pairing.side(side).modules.has(at) && pairing.fateOf(side, at) === 'removed';
    return `${at} ${ohm} Ω${removed ? ' (removed with it)' : ''}`;
  });
  const ports = pairing.map.interfaceModules.flatMap((by) =>
    by.ports.flatMap((port) =>
      port.bus === ref && port.terminationOhm !== undefined ? [`${by.id}.${port.id} ${port.terminationOhm} Ω`] : [],
    ),
  );
  const parts = (pairing.map.harness?.parts ?? []).flatMap((part) =>
    part.kind === 'terminator' && Object.values(part.terminals ?? {}).some((to) => to.startsWith(`${ref}.`))
      ? [`${part.id} ${part.ohm ?? '?'} Ω (added)`]
      : [],
  );
  return [...own, ...ports, ...parts];
}

/** What each node may send on each bus, highest priority first: nothing else is allowed there. */
function transmitList({ pairing, scope }: Translation, buses: readonly TimedBus[]): Block {
  const rows = buses.flatMap(({ side, bus, byMessage }) => {
    const platform = pairing.side(side).platform;
    return platform.messages
      .filter((message) => message.bus === bus.id)
      .flatMap((message): { readonly rank: number; readonly cells: Cell[] }[] => {
        const ref = sideRef(side, message.id);
        const transmits = (pairing.transmitsOf.get(ref) ?? []).filter(({ when }) =>
          scope.holds(pairing.options.maskOf(when)),
        );
        const senders = [...(message.sender === null ? [] : [message.sender]), ...(message.otherSenders ?? [])].filter(
          (id) => pairing.side(side).modules.has(id) && pairing.fateOf(side, id) !== 'removed',
        );
        const nodes =
          transmits.length > 0
            ? transmits.map(({ by, port }) => `${by}.${port}`)
            : senders.map((id) => `${side}:${id}`);
        if (nodes.length === 0) return [];
        const timing = byMessage.get(ref);
        const period = timing?.message.periodMs ?? null;
        return [
          {
            rank: Number(message.frameId),
            cells: [
              sideRef(side, bus.id),
              frameIdText(message.frameId, message.idFormat),
              message.id,
              joined([...new Set(nodes)]),
              transmits.length > 0 ? 'interface' : 'vehicle',
              message.length,
              period ?? 'not cyclic',
              timing?.response.kind === 'bounded'
                ? Math.ceil(timing.response.responseNs / 1e3) / 1e3
                : timing
                  ? 'no bound'
                  : '–',
              timing?.meetsDeadline === false ? 'late' : timing?.meetsDeadline === true ? 'within its period' : '–',
            ],
          },
        ];
      })
      .sort((a, b) => a.rank - b.rank);
  });
  return {
    kind: 'table',
    id: 'transmit-list',
    title: 'Who may send what',
    columns: [
      { key: 'bus', title: 'Bus', kind: 'code', weight: 22 },
      { key: 'frameId', title: 'Frame id', kind: 'code', weight: 10 },
      { key: 'message', title: 'Message', kind: 'code', weight: 28, role: 'key' },
      { key: 'node', title: 'Sent by', kind: 'code', weight: 20 },
      { key: 'origin', title: 'Origin', kind: 'text', weight: 9 },
      { key: 'length', title: 'Length', kind: 'number', weight: 6, unit: 'byte' },
      { key: 'cycle', title: 'Cycle time', kind: 'number', weight: 9, unit: 'ms' },
      { key: 'response', title: 'Worst response', kind: 'number', weight: 9, unit: 'ms', decimals: 3 },
      { key: 'deadline', title: 'Deadline', kind: 'text', weight: 14 },
    ],
    rows: rows.map(({ cells }): Row => ({
      cells,
      ...(cells.at(-1) === 'late' ? { mark: { tone: 'stop', text: 'late' } as const } : {}),
    })),
  };
}
