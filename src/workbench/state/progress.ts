import type { Derivation, Pairing, Supply } from '../../model/index.ts';

export interface Progress {
  readonly needs: number;
  /** Needs which a route meets, or which are left out with a reason, in every combination. */
  readonly met: number;
  readonly open: readonly Supply[];
}

const known = new WeakMap<Derivation, Progress>();

/** How far the work is: needs met of needs. */
export function progressOf(pairing: Pairing, derivation: Derivation): Progress {
  const done = known.get(derivation);
  if (done) return done;
  const leftOut = new Map<string, bigint>();
  for (const { signal, when } of pairing.map.leftOut ?? []) {
    if (signal !== undefined) leftOut.set(signal, (leftOut.get(signal) ?? 0n) | pairing.options.maskOf(when));
  }
  const open = [...derivation.needs.values()].filter((need) => {
    const routed = (pairing.routesTo.get(need.ref) ?? []).reduce(
      (mask, route) => mask | pairing.options.maskOf(route.when),
      0n,
    );
    return (need.mask & ~(routed | (leftOut.get(need.ref) ?? 0n))) !== 0n;
  });
  const progress = { needs: derivation.needs.size, met: derivation.needs.size - open.length, open };
  known.set(derivation, progress);
  return progress;
}
