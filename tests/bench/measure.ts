/** One row of the bench: a ratio, so that it holds on any machine. */
export interface BenchRow {
  readonly work: string;
  readonly against: string;
  readonly ratio: number;
  readonly target?: number;
  /** Which way is better; lower unless said. */
  readonly better?: 'lower' | 'higher';
  readonly note?: string;
}

/** Keeps results alive, so that no work is optimised away. */
export let lastResult: unknown;

/** Median milliseconds of each work, the works taking turns, after two rounds of warming up. */
export function medians(rounds: number, works: readonly (() => unknown)[]): number[] {
  const times: number[][] = works.map(() => []);
  for (let round = -2; round < rounds; round += 1) {
    works.forEach((work, at) => {
      const started = performance.now();
      lastResult = work();
      const elapsed = performance.now() - started;
      if (round >= 0) times[at]!.push(elapsed);
    });
  }
  return times.map((list) => list.sort((a, b) => a - b)[list.length >> 1]!);
}
