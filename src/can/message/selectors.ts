/** A set of raw integers given by ranges, both ends included. */
export interface Selectors {
  has(raw: bigint | number): boolean;
}

/**
 * Prepares selector ranges for look-up by binary search. `span` is 2^length of the selecting field: a negative raw value is also looked
 * up by its unsigned bits, because files write the selectors of a signed field either way. Ranges are never expanded.
 */
export function selectorsOf(ranges: readonly (readonly [bigint, bigint])[], span: bigint): Selectors {
  const sorted = ranges
    .map(([a, b]) => (a <= b ? { lo: a, hi: b } : { lo: b, hi: a }))
    .sort((a, b) => (a.lo < b.lo ? -1 : a.lo > b.lo ? 1 : 0));
  const merged: { lo: bigint; hi: bigint }[] = [];
  for (const range of sorted) {
    const last = merged.at(-1);
    if (last !== undefined && range.lo <= last.hi + 1n) {
      if (range.hi > last.hi) last.hi = range.hi;
    } else merged.push({ ...range });
  }
  const narrow = merged.every(({ lo, hi }) => isSafe(lo) && isSafe(hi));
  const lo = narrow ? merged.map((range) => Number(range.lo)) : [];
  const hi = narrow ? merged.map((range) => Number(range.hi)) : [];
  const within = (raw: bigint | number): boolean => {
    if (typeof raw === 'number' && narrow) return search(lo, hi, raw);
    const whole = typeof raw === 'bigint' ? raw : Number.isInteger(raw) ? BigInt(raw) : null;
    return whole !== null && merged.some((range) => range.lo <= whole && whole <= range.hi);
  };
  return {
    has: (raw) => {
      if (within(raw)) return true;
      if (!(raw < 0)) return false;
      return typeof raw === 'bigint' ? within(raw + span) : Number.isInteger(raw) && within(BigInt(raw) + span);
    },
  };
}

function search(lo: readonly number[], hi: readonly number[], raw: number): boolean {
  let from = 0;
  let to = lo.length;
  while (from < to) {
    const middle = (from + to) >> 1;
    if (hi[middle]! < raw) from = middle + 1;
    else to = middle;
  }
  return from < lo.length && lo[from]! <= raw;
}

function isSafe(n: bigint): boolean {
  return n <= BigInt(Number.MAX_SAFE_INTEGER) && n >= -BigInt(Number.MAX_SAFE_INTEGER);
}
