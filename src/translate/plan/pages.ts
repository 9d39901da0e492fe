import type { Message, Signal, Transmit } from '../../model/index.ts';
import { compileField, fitsIn, occupiedBits } from '../../can/index.ts';

/** One page of a multiplexed message: the raw values of its selector fields. A plain message has one page without any. */
export type Selection = ReadonlyMap<string, bigint>;

/** More pages than this are a fault of the map, not a message. */
export const MOST_PAGES = 256;

/**
 * The pages in which the given signals are sent, in rising order of their selectors: for each multiplexed signal one page for each
 * of its selector values, through all multiplexers above it. A page that another one contains is left out.
 */
export function pagesFor(message: Message, signals: readonly Signal[]): readonly Selection[] {
  const byId = new Map(message.signals.map((signal) => [signal.id, signal]));
  const pages = new Map<string, Map<string, bigint>>();
  for (const signal of signals) {
    for (const selection of selectionsOf(signal, byId)) {
      pages.set(keyOf(selection), selection);
      if (pages.size > MOST_PAGES) return [...pages.values()];
    }
  }
  const all = [...pages.values()];
  const kept = all.filter(
    (page) => !all.some((other) => other !== page && other.size > page.size && contains(other, page)),
  );
  return kept.length === 0 ? [new Map()] : kept.toSorted(byValues);
}

function selectionsOf(signal: Signal, byId: ReadonlyMap<string, Signal>): Map<string, bigint>[] {
  const { multiplexed } = signal;
  if (multiplexed === undefined) return [new Map()];
  const parent = byId.get(multiplexed.by);
  const above = parent === undefined ? [new Map<string, bigint>()] : selectionsOf(parent, byId);
  const values = multiplexed.on.flatMap((entry) => {
    if (!Array.isArray(entry)) return [BigInt(entry)];
    const [first, last] = [BigInt(entry[0]), BigInt(entry[1])];
    const list: bigint[] = [];
    for (let value = first; value <= last && list.length <= MOST_PAGES; value += 1n) list.push(value);
    return list;
  });
  return above.flatMap((selection) => values.map((value) => new Map(selection).set(multiplexed.by, value)));
}

function keyOf(selection: Selection): string {
  return [...selection]
    .map(([id, value]) => `${id}=${value}`)
    .toSorted()
    .join('&');
}

function contains(outer: Selection, inner: Selection): boolean {
  return [...inner].every(([id, value]) => outer.get(id) === value);
}

function byValues(a: Selection, b: Selection): number {
  const [p, q] = [[...a.values()], [...b.values()]];
  for (let index = 0; index < Math.min(p.length, q.length); index += 1) {
    if (p[index] !== q[index]) return p[index]! < q[index]! ? -1 : 1;
  }
  return p.length - q.length;
}

/** Whether a signal is present in a page: every multiplexer above it selects it. */
export function isInPage(signal: Signal, page: Selection, message: Message): boolean {
  let current: Signal | undefined = signal;
  for (let depth = 0; current?.multiplexed !== undefined && depth <= message.signals.length; depth += 1) {
    const { by, on }: NonNullable<Signal['multiplexed']> = current.multiplexed;
    const value = page.get(by);
    if (value === undefined) return false;
    const selected = on.some((entry) =>
      Array.isArray(entry) ? BigInt(entry[0]) <= value && value <= BigInt(entry[1]) : BigInt(entry) === value,
    );
    if (!selected) return false;
    current = message.signals.find(({ id }) => id === by);
  }
  return true;
}

/**
 * The payload of a page before any route writes into it: unused bits, then the start value of every signal that has one, or its fill value,
 * then the selectors of the page.
 */
export function baseOf(message: Message, page: Selection, transmit: Transmit): Uint8Array {
  const bytes = new Uint8Array(message.length);
  const present = message.signals.filter(
    (signal) => isInPage(signal, page, message) && fitsIn(signal.bits, message.length),
  );
  if (transmit.unusedBits === '1') {
    const used = present.reduce((bits, signal) => bits | occupiedBits(signal.bits), 0n);
    for (let bit = 0; bit < message.length * 8; bit += 1) {
      if (((used >> BigInt(bit)) & 1n) === 0n) bytes[bit >> 3]! |= 1 << (bit & 7);
    }
  }
  const fill = new Map(Object.entries(transmit.fill ?? {}));
  for (const signal of present) {
    const raw = page.get(signal.id) ?? fill.get(signal.id) ?? signal.initial;
    if (raw === undefined) continue;
    // A float field takes its raw value as the bits it stands for.
    compileField(signal.bits, signal.number === 'signed' ? 'signed' : 'unsigned').write(bytes, BigInt(raw));
  }
  return bytes;
}
