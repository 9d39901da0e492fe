import { overlappingPairs, type BitField } from '../can/index.ts';
import type { Message, Signal } from '../model/index.ts';

/** Stamp per payload bit, so that the list need not be cleared between messages. */
const stamps = new Uint32Array(1024);
let stamp = 0;

/** Whether any two fields of a message could share a bit: a quick look at every bit, multiplexing left out of account. */
export function mayOverlap(signals: readonly Signal[]): boolean {
  stamp += 1;
  if (stamp === 0xffffffff) {
    stamps.fill(0);
    stamp = 1;
  }
  for (const { bits } of signals) {
    let bit = bits.start;
    for (let count = 0; count < bits.length; count += 1) {
      if (bit < 0 || bit >= stamps.length) break;
      if (stamps[bit] === stamp) return true;
      stamps[bit] = stamp;
      bit = bits.order === 'little' ? bit + 1 : (bit & 7) === 0 ? bit + 15 : bit - 1;
    }
  }
  return false;
}

/** Pairs of signals which share a bit and can be in one frame, at most ten. */
export function overlappingSignals(message: Message): readonly (readonly [Signal, Signal])[] {
  const { signals } = message;
  if (!mayOverlap(signals)) return [];
  const byId = new Map(signals.map((signal) => [signal.id, signal]));
  const pairs = overlappingPairs(
    signals.map(({ bits }): BitField => bits),
    (first, second) => together(signals[first]!, signals[second]!, byId),
    10,
  );
  return pairs.map(({ first, second }) => [signals[first]!, signals[second]!]);
}

/** Two fields are together unless some multiplexer would have to select both by values they do not share. */
function together(a: Signal, b: Signal, byId: ReadonlyMap<string, Signal>): boolean {
  const chain = selectorChain(a, byId);
  for (const [by, on] of selectorChain(b, byId)) {
    const other = chain.get(by);
    if (other && !shareValue(other, on)) return false;
  }
  return true;
}

type Ranges = readonly (readonly [bigint, bigint])[];

function selectorChain(signal: Signal, byId: ReadonlyMap<string, Signal>): ReadonlyMap<string, Ranges> {
  const chain = new Map<string, Ranges>();
  let current: Signal | undefined = signal;
  while (current?.multiplexed && !chain.has(current.multiplexed.by)) {
    const { by, on }: NonNullable<Signal['multiplexed']> = current.multiplexed;
    chain.set(
      by,
      on.map((value) => (Array.isArray(value) ? [BigInt(value[0]), BigInt(value[1])] : [BigInt(value), BigInt(value)])),
    );
    current = byId.get(by);
  }
  return chain;
}

function shareValue(a: Ranges, b: Ranges): boolean {
  return a.some(([lo, hi]) => b.some(([from, to]) => lo <= to && from <= hi));
}

/** Bytes a field needs, by its highest bit. */
export function lastByteOf({ bits }: Signal): number {
  if (bits.order === 'little') return Math.floor((bits.start + bits.length - 1) / 8);
  // Big-endian counts down within its first byte, then on from the top of the next.
  const sequential = Math.floor(bits.start / 8) * 8 + (7 - (bits.start % 8)) + bits.length - 1;
  return Math.floor(sequential / 8);
}
