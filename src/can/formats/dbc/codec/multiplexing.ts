/** Which signals of a message are present in a payload. Ranges are compared, never expanded. */
import type { DbcMessage, DbcSelectorRange, DbcSignal } from '../model.ts';
import { hasUsableLength } from './layout.ts';

export type MultiplexProblem =
  | 'multiplexer-missing'
  | 'multiplexer-ambiguous'
  | 'multiplexer-unknown'
  | 'multiplexer-unusable'
  | 'multiplexer-cycle';

/** How one signal is multiplexed. `selector` is `null` for a signal that is always present. */
export interface SignalMultiplexing {
  readonly signal: DbcSignal;
  /** Index in `message.signals` of the signal that selects it. */
  readonly selector: number | null;
  readonly ranges: readonly DbcSelectorRange[];
  readonly problem: MultiplexProblem | null;
}

const ALWAYS: readonly DbcSelectorRange[] = [];

const resolved = new WeakMap<DbcMessage, readonly SignalMultiplexing[]>();

/**
 * The multiplexing of every signal of a message, in the order of `message.signals`: from SG_MUL_VAL_ where there is one,
 * else from `m` with the message's multiplexer. A signal whose multiplexer cannot be found counts as always present;
 * one in a cycle as never present.
 */
export function multiplexingOf(message: DbcMessage): readonly SignalMultiplexing[] {
  let found = resolved.get(message);
  if (found === undefined) {
    found = resolve(message);
    resolved.set(message, found);
  }
  return found;
}

/** True when a signal of the message selects others or is selected. */
export function isMultiplexed(message: DbcMessage): boolean {
  return message.signals.some(
    (signal) => signal.isMultiplexer || signal.multiplexValue !== null || signal.extendedMultiplexing !== null,
  );
}

function resolve(message: DbcMessage): readonly SignalMultiplexing[] {
  const { signals } = message;
  if (!isMultiplexed(message))
    return signals.map((signal) => ({ signal, selector: null, ranges: ALWAYS, problem: null }));
  const byName = new Map<string, number>();
  const multiplexers: number[] = [];
  signals.forEach((signal, index) => {
    if (!byName.has(signal.name)) byName.set(signal.name, index);
    if (signal.isMultiplexer) multiplexers.push(index);
  });
  const candidates = multiplexers.length === 1 ? multiplexers : plainMultiplexers(signals, multiplexers);
  const links = signals.map((signal, index) => linkOf(signal, index, byName, candidates, signals));
  return withCyclesCut(links);
}

function linkOf(
  signal: DbcSignal,
  index: number,
  byName: ReadonlyMap<string, number>,
  multiplexers: readonly number[],
  signals: readonly DbcSignal[],
): SignalMultiplexing {
  const { extendedMultiplexing, multiplexValue } = signal;
  if (extendedMultiplexing !== null) {
    const selector = byName.get(extendedMultiplexing.selector);
    if (selector === undefined) return { signal, selector: null, ranges: ALWAYS, problem: 'multiplexer-unknown' };
    return {
      signal,
      selector,
      ranges: extendedMultiplexing.ranges,
      problem: usability(signals[selector] as DbcSignal),
    };
  }
  if (multiplexValue === null) return { signal, selector: null, ranges: ALWAYS, problem: null };
  const candidates = multiplexers.filter((candidate) => candidate !== index);
  const selector = candidates[0];
  if (selector === undefined) return { signal, selector: null, ranges: ALWAYS, problem: 'multiplexer-missing' };
  const ranges = [{ from: multiplexValue, to: multiplexValue }];
  const problem = candidates.length > 1 ? 'multiplexer-ambiguous' : usability(signals[selector] as DbcSignal);
  return { signal, selector, ranges, problem };
}

/** The multiplexers that are not multiplexed themselves: without SG_MUL_VAL_, one of them must be meant. At most three. */
function plainMultiplexers(signals: readonly DbcSignal[], multiplexers: readonly number[]): readonly number[] {
  const found: number[] = [];
  for (const index of multiplexers) {
    const candidate = signals[index] as DbcSignal;
    if (candidate.multiplexValue === null && candidate.extendedMultiplexing === null) found.push(index);
    if (found.length === 3) break;
  }
  return found;
}

function usability(selector: DbcSignal): MultiplexProblem | null {
  return selector.number === 'integer' && hasUsableLength(selector) ? null : 'multiplexer-unusable';
}

/** Marks every signal that leads back to itself; follows each link once. */
function withCyclesCut(links: readonly SignalMultiplexing[]): readonly SignalMultiplexing[] {
  const UNSEEN = 0;
  const ON_PATH = 1;
  const FREE = 2;
  const CYCLIC = 3;
  const marks = new Uint8Array(links.length);
  for (let start = 0; start < links.length; start++) {
    const path: number[] = [];
    let at: number | null = start;
    while (at !== null && marks[at] === UNSEEN) {
      marks[at] = ON_PATH;
      path.push(at);
      at = (links[at] as SignalMultiplexing).selector;
    }
    const endsIn = at === null || marks[at] === FREE ? FREE : CYCLIC;
    for (const index of path) marks[index] = endsIn;
  }
  return links.map((link, index) =>
    marks[index] === CYCLIC ? { ...link, problem: 'multiplexer-cycle' as const } : link,
  );
}

/** True when `value` lies in one of the ranges. */
export function isSelectedBy(value: bigint, ranges: readonly DbcSelectorRange[]): boolean {
  for (const range of ranges) if (value >= range.from && value <= range.to) return true;
  return false;
}

/**
 * Tells for each signal index whether it is present. `selectorValue` gives the raw value of a selector as an unsigned bit
 * pattern, or `null` when it is not known; it is asked only for selectors that are present themselves.
 */
export function presence(
  links: readonly SignalMultiplexing[],
  selectorValue: (index: number) => bigint | null,
): (index: number) => boolean {
  const UNKNOWN = 0;
  const ABSENT = 1;
  const PRESENT = 2;
  const known = new Uint8Array(links.length);
  return function isPresent(asked: number): boolean {
    // Down the chain to what is known, then back up: chains may be as long as the message has signals.
    const path: number[] = [];
    let at = asked;
    while (known[at] === UNKNOWN) {
      const link = links[at] as SignalMultiplexing;
      if (link.problem === 'multiplexer-cycle') known[at] = ABSENT;
      else if (link.selector === null) known[at] = PRESENT;
      else {
        path.push(at);
        at = link.selector;
      }
    }
    for (let i = path.length - 1; i >= 0; i--) {
      const index = path[i] as number;
      const link = links[index] as SignalMultiplexing;
      const selector = link.selector as number;
      const value = known[selector] === PRESENT ? selectorValue(selector) : null;
      known[index] = value !== null && isSelectedBy(value, link.ranges) ? PRESENT : ABSENT;
    }
    return known[asked] === PRESENT;
  };
}
