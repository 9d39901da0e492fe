import type { RangeEntry } from './types.ts';

/** A function of whole numbers by ranges: rising, not overlapping. `gap` is for every number in none of them; null: no value. */
export interface RangeTable<T> {
  readonly ranges: readonly { readonly lo: bigint; readonly hi: bigint; readonly out: T | null }[];
  readonly gap: T | null;
}

/** The same ranges with every output replaced. */
export function mapRanges<T, U>(table: RangeTable<T>, to: (out: T) => U | null): RangeTable<U> {
  const through = (out: T | null): U | null => (out === null ? null : to(out));
  return { ranges: table.ranges.map(({ lo, hi, out }) => ({ lo, hi, out: through(out) })), gap: through(table.gap) };
}

/** Every output that occurs, each once, in order of first occurrence. */
export function outputsOf<T>({ ranges, gap }: RangeTable<T>): readonly T[] {
  const outputs = new Set<T>();
  for (const { out } of ranges) if (out !== null) outputs.add(out);
  if (gap !== null) outputs.add(gap);
  return [...outputs];
}

/** Joins neighbouring ranges of one output, and leaves out those that say what the gap says. */
export function compactRanges({ ranges, gap }: RangeTable<bigint>): readonly RangeEntry[] {
  const compact: RangeEntry[] = [];
  for (const range of ranges) {
    if (range.out === gap) continue;
    const before = compact.at(-1);
    if (before !== undefined && before.hi + 1n === range.lo && before.out === range.out) {
      compact[compact.length - 1] = { ...before, hi: range.hi };
    } else compact.push(range);
  }
  return compact;
}

/** The output for a number; null: no value. */
export function rangeValue({ ranges, gap }: RangeTable<bigint>, x: bigint): bigint | null {
  let low = 0;
  let high = ranges.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const range = ranges[middle]!;
    if (x < range.lo) high = middle - 1;
    else if (x > range.hi) low = middle + 1;
    else return range.out;
  }
  return gap;
}
