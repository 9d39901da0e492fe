import type { Mismatch, MismatchKind, RouteTally } from './types.ts';

/** Gathers mismatches: the first of each kind, and how many there were. */
export interface Collector {
  add(mismatch: Mismatch): void;
  readonly listed: readonly Mismatch[];
  readonly totals: Readonly<Record<MismatchKind, number>>;
}

export function createCollector(mostListed: number): Collector {
  const totals: Record<MismatchKind, number> = { wrong: 0, late: 0, missing: 0, extra: 0, counter: 0, checksum: 0 };
  const kept = new Map<MismatchKind, Mismatch[]>();
  return {
    totals,
    get listed() {
      return [...kept.values()].flat().toSorted((a, b) => a.timeUs - b.timeUs);
    },
    add(mismatch) {
      const { kind, count } = mismatch;
      totals[kind] += count;
      const list = kept.get(kind) ?? [];
      if (list.length < mostListed) list.push(mismatch);
      kept.set(kind, list);
    },
  };
}

/** Counts of one route as they grow. */
export interface RouteCount {
  judged: number;
  wrong: number;
  late: number;
  missing: number;
  readonly notJudged: Map<string, number>;
}

export function emptyCount(): RouteCount {
  return { judged: 0, wrong: 0, late: 0, missing: 0, notJudged: new Map() };
}

export function notJudged(count: RouteCount, why: string): void {
  count.notJudged.set(why, (count.notJudged.get(why) ?? 0) + 1);
}

export function tallyOf(route: string, by: string | null, to: string, count: RouteCount): RouteTally {
  return { route, by, to, ...count, notJudged: new Map(count.notJudged) };
}
