import { domainOfSignal } from '../../translate/index.ts';
import { formatDecimal } from '../../number/index.ts';
import type { Message, Signal } from '../../model/index.ts';
import type { Cell, Column } from '../document/index.ts';
import { joined, unitCode } from '../record/index.ts';

/** Columns of a field, whether received or sent. Numbers of documents stand as written: they are exact. */
export const FIELD_COLUMNS: readonly Column[] = [
  { key: 'number', title: 'No.', kind: 'number', weight: 4 },
  { key: 'field', title: 'Field', kind: 'code', weight: 22, role: 'key' },
  { key: 'start', title: 'Start bit', kind: 'number', weight: 5, group: 'Bits' },
  { key: 'length', title: 'Length', kind: 'number', weight: 6, unit: 'bit', group: 'Bits' },
  { key: 'order', title: 'Byte order', kind: 'text', weight: 7, group: 'Bits' },
  { key: 'kind', title: 'Number', kind: 'text', weight: 9, group: 'Bits' },
  { key: 'factor', title: 'Factor', kind: 'number', weight: 9, group: 'Physical = factor · raw + offset' },
  { key: 'offset', title: 'Offset', kind: 'number', weight: 7, group: 'Physical = factor · raw + offset' },
  { key: 'unit', title: 'Unit (UCUM)', kind: 'code', weight: 10, group: 'Physical = factor · raw + offset' },
  { key: 'least', title: 'Least', kind: 'number', weight: 8, group: 'Range' },
  { key: 'most', title: 'Most', kind: 'number', weight: 8, group: 'Range' },
  { key: 'rangeFrom', title: 'Range from', kind: 'text', weight: 8, group: 'Range' },
  { key: 'states', title: 'States by raw value', kind: 'text', weight: 26, group: 'Raw values' },
  { key: 'notAvailable', title: 'Not available', kind: 'code', weight: 14, group: 'Raw values' },
  { key: 'error', title: 'Error', kind: 'code', weight: 14, group: 'Raw values' },
  { key: 'initial', title: 'Start value', kind: 'code', weight: 9, group: 'Raw values' },
  { key: 'multiplexer', title: 'Multiplexed', kind: 'text', weight: 14, group: 'Raw values' },
];

export function fieldCells(signal: Signal, number: number): readonly Cell[] {
  const domain = domainOfSignal(signal);
  const interval = domain.kind === 'number' ? domain.interval : null;
  const bound = (end: 'lo' | 'hi'): string =>
    interval === null ? '–' : formatDecimal(interval[end], { maxSignificant: 12 });
  const scaled = domain.kind === 'number';
  return [
    number,
    signal.id,
    signal.bits.start,
    signal.bits.length,
    signal.bits.order,
    signal.number,
    scaled ? String(signal.factor) : '–',
    scaled ? String(signal.offset) : '–',
    scaled ? unitCode(signal.unit) : domain.kind,
    bound('lo'),
    bound('hi'),
    interval === null ? '–' : signal.range === undefined ? 'field' : 'declared',
    statesText(signal),
    joined((signal.notAvailable ?? []).map(rawText), 'none'),
    joined((signal.error ?? []).map(rawText), 'none'),
    signal.initial === undefined ? 'not said' : rawText(signal.initial),
    multiplexText(signal),
  ];
}

/** `0 Off, 1 On`, in rising order of raw value. */
function statesText({ states }: Signal): string {
  return joined(Object.entries(states ?? {}).map(([raw, label]) => `${raw} ${label}`));
}

/** A raw value in both forms that people compare: `255 (0xFF)`. */
export function rawText(raw: number | string | bigint): string {
  const value = BigInt(raw);
  return value < 10n ? value.toString() : `${value} (0x${value.toString(16).toUpperCase()})`;
}

export function multiplexText(signal: Signal): string {
  if (signal.multiplexer === true && signal.multiplexed === undefined) return 'selects';
  if (signal.multiplexed === undefined) return '–';
  const on = signal.multiplexed.on.map((entry) => (Array.isArray(entry) ? `${entry[0]}–${entry[1]}` : String(entry)));
  return `${signal.multiplexer === true ? 'selects; ' : ''}when ${signal.multiplexed.by} = ${on.join(', ')}`;
}

/** The fields that a reader of some fields needs too: the multiplexers above them. */
export function withSelectors(message: Message, ids: ReadonlySet<string>): ReadonlySet<string> {
  const byId = new Map(message.signals.map((signal) => [signal.id, signal]));
  const needed = new Set(ids);
  for (const id of ids) {
    for (
      let above = byId.get(id)?.multiplexed?.by;
      above !== undefined && !needed.has(above);
      above = byId.get(above)?.multiplexed?.by
    )
      needed.add(above);
  }
  return needed;
}
