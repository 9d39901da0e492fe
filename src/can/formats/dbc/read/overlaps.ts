/**
 * Which signals of a message share bits. Signals that can never be present together (other values of the same multiplexer)
 * may; all others may not. Each pair that clashes is reported once, at the later of the two, for its first shared bit.
 */
import { quoted } from '../faults.ts';
import { forEachBit, hasUsableLength } from '../codec/layout.ts';
import { isMultiplexed, multiplexingOf } from '../codec/multiplexing.ts';
import type { SignalMultiplexing } from '../codec/multiplexing.ts';
import type { DbcSelectorRange, DbcSignal } from '../model.ts';
import { report } from './reading.ts';
import type { MessageEntry, Reading } from './reading.ts';

/** Beyond this many bytes no overlap is looked for. */
const MAX_CHECKED_BYTES = 8192;

/** Steps spent on comparing multiplexed sets in one file: enough for thousands of sets a message, a second at most. */
const MAX_STEPS = 50_000_000;

/** Most 32-bit words of bit sets held for one message. */
const MAX_SET_WORDS = 1 << 22;

/** One array for all messages: which signal claims a bit, marked with the turn it was claimed in. */
export interface OverlapChecker {
  readonly claims: Int32Array;
  /** First claim number of the message at hand; smaller ones are left from messages before. */
  base: number;
  stepsLeft: number;
}

export function createOverlapChecker(): OverlapChecker {
  return { claims: new Int32Array(8 * MAX_CHECKED_BYTES).fill(-1), base: 0, stepsLeft: MAX_STEPS };
}

/** Reports the overlaps in one message. */
export function checkOverlaps(r: Reading, entry: MessageEntry, checker: OverlapChecker): void {
  const { message } = entry;
  if (message.signals.length < 2) return;
  const bitLimit = 8 * Math.min(message.lengthBytes, MAX_CHECKED_BYTES);
  if (!isMultiplexed(message)) {
    claim(
      r,
      entry,
      checker,
      bitLimit,
      message.signals.map((_, index) => index),
    );
    return;
  }
  const sets = signalSets(entry);
  for (const set of sets) claim(r, entry, checker, bitLimit, set.members);
  if ((sets.length * bitLimit) / 32 > MAX_SET_WORDS) {
    report(r, 'overlap-not-checked', entry.offset, quoted(message.name));
    return;
  }
  for (const set of sets) set.bits = bitsOfSet(entry, bitLimit, set.members);
  compareSets(r, entry, checker, sets, bitLimit);
}

/** Marks the bits of signals that are all present together; reports a bit that is taken. */
function claim(
  r: Reading,
  entry: MessageEntry,
  checker: OverlapChecker,
  bitLimit: number,
  members: readonly number[],
): void {
  const { signals } = entry.message;
  const { claims } = checker;
  const base = checker.base;
  for (const index of members) {
    const signal = signals[index] as DbcSignal;
    if (!hasUsableLength(signal)) continue;
    let reported = false;
    forEachBit(signal, (bit) => {
      if (bit >= bitLimit) return;
      const claimed = claims[bit] as number;
      if (claimed >= base && !reported) {
        reported = true;
        reportOverlap(r, entry, claimed - base, index);
      } else if (claimed < base) claims[bit] = base + index;
    });
  }
  checker.base += signals.length;
  if (checker.base > 1 << 30) {
    claims.fill(-1);
    checker.base = 0;
  }
}

function reportOverlap(r: Reading, entry: MessageEntry, first: number, second: number): void {
  const { signals } = entry.message;
  const later = Math.max(first, second);
  const names = [signals[Math.min(first, second)], signals[later]].map((signal) => quoted((signal as DbcSignal).name));
  report(r, 'signals-overlap', entry.signalOffsets[later] as number, names[0], names[1]);
}

/** Signals under the same condition, and the bits they fill. */
interface SignalSet {
  readonly condition: readonly Condition[];
  readonly members: number[];
  bits: Uint32Array;
}

interface Condition {
  readonly selector: number;
  readonly ranges: readonly DbcSelectorRange[];
}

const NO_BITS = new Uint32Array(0);

/** Chains longer than this are compared by their last links only. */
const MAX_CHAIN = 16;

function signalSets(entry: MessageEntry): SignalSet[] {
  const links = multiplexingOf(entry.message);
  const sets = new Map<string, SignalSet>();
  links.forEach((link, index) => {
    if (link.problem === 'multiplexer-cycle') return;
    // The selector fixes the rest of the chain, so its index and the signal's own ranges tell conditions apart.
    const key =
      link.selector === null ? '' : `${link.selector}:${link.ranges.map(({ from, to }) => `${from}-${to}`).join()}`;
    const set = sets.get(key);
    if (set === undefined) sets.set(key, { condition: conditionOf(links, index), members: [index], bits: NO_BITS });
    else set.members.push(index);
  });
  return [...sets.values()];
}

function conditionOf(links: readonly SignalMultiplexing[], index: number): Condition[] {
  const condition: Condition[] = [];
  let link = links[index];
  while (link !== undefined && link.selector !== null && condition.length < MAX_CHAIN) {
    condition.push({ selector: link.selector, ranges: link.ranges });
    link = links[link.selector];
  }
  return condition;
}

function bitsOfSet(entry: MessageEntry, bitLimit: number, members: readonly number[]): Uint32Array {
  const bits = new Uint32Array(Math.ceil(bitLimit / 32));
  for (const index of members) {
    const signal = entry.message.signals[index] as DbcSignal;
    if (!hasUsableLength(signal)) continue;
    forEachBit(signal, (bit) => {
      if (bit < bitLimit) bits[bit >> 5] = (bits[bit >> 5] as number) | (1 << (bit & 31));
    });
  }
  return bits;
}

function compareSets(
  r: Reading,
  entry: MessageEntry,
  checker: OverlapChecker,
  sets: readonly SignalSet[],
  bitLimit: number,
): void {
  for (let i = 1; i < sets.length; i++) {
    const b = sets[i] as SignalSet;
    for (let j = 0; j < i; j++) {
      const a = sets[j] as SignalSet;
      checker.stepsLeft -= a.bits.length + rangePairs(a.condition, b.condition);
      if (checker.stepsLeft < 0) {
        report(r, 'overlap-not-checked', entry.offset, quoted(entry.message.name));
        return;
      }
      if (!canMeet(a.condition, b.condition) || !shareBits(a.bits, b.bits)) continue;
      checker.stepsLeft -= 64 * (a.members.length + b.members.length);
      reportShared(r, entry, a, b, bitLimit);
    }
  }
}

/** How many ranges {@link canMeet} compares at most. */
function rangePairs(a: readonly Condition[], b: readonly Condition[]): number {
  let pairs = 0;
  for (const one of a)
    for (const other of b) pairs += one.selector === other.selector ? one.ranges.length * other.ranges.length : 1;
  return pairs;
}

function shareBits(a: Uint32Array, b: Uint32Array): boolean {
  for (let i = 0; i < a.length; i++) if (((a[i] as number) & (b[i] as number)) !== 0) return true;
  return false;
}

/** False when some multiplexer would need two values at once. */
function canMeet(a: readonly Condition[], b: readonly Condition[]): boolean {
  for (const one of a) {
    for (const other of b) {
      if (one.selector === other.selector && !rangesMeet(one.ranges, other.ranges)) return false;
    }
  }
  return true;
}

function rangesMeet(a: readonly DbcSelectorRange[], b: readonly DbcSelectorRange[]): boolean {
  for (const one of a) for (const other of b) if (one.from <= other.to && other.from <= one.to) return true;
  return false;
}

/** Reports each pair of signals of two sets that share bits. */
function reportShared(r: Reading, entry: MessageEntry, a: SignalSet, b: SignalSet, bitLimit: number): void {
  const owner = new Map<number, number>();
  for (const index of a.members) {
    forEachUsableBit(entry, index, bitLimit, (bit) => {
      if (!owner.has(bit)) owner.set(bit, index);
    });
  }
  for (const index of b.members) {
    const clashes = new Set<number>();
    forEachUsableBit(entry, index, bitLimit, (bit) => {
      const other = owner.get(bit);
      if (other !== undefined) clashes.add(other);
    });
    for (const other of clashes) reportOverlap(r, entry, other, index);
  }
}

function forEachUsableBit(entry: MessageEntry, index: number, bitLimit: number, visit: (bit: number) => void): void {
  const signal = entry.message.signals[index] as DbcSignal;
  if (!hasUsableLength(signal)) return;
  forEachBit(signal, (bit) => {
    if (bit < bitLimit) visit(bit);
  });
}
