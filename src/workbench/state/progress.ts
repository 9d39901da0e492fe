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
  const leave = (key: string | undefined, mask: bigint): void => {
    if (key !== undefined) leftOut.set(key, (leftOut.get(key) ?? 0n) | mask);
  };
  for (const { signal, function: functionId, when } of pairing.map.leftOut ?? []) {
    const mask = pairing.options.maskOf(when);
    leave(signal, mask);
    leave(functionId === undefined ? undefined : `function:${functionId}`, mask);
  }
  const left = ({ ref, function: functionId }: Supply): bigint =>
    (leftOut.get(ref) ?? 0n) | (functionId === null ? 0n : (leftOut.get(`function:${functionId}`) ?? 0n));
  const open = [...derivation.needs.values()].filter((need) => {
    const routed = (pairing.routesTo.get(need.ref) ?? []).reduce(
      (mask, route) => mask | pairing.options.maskOf(route.when),
      0n,
    );
    return (need.mask & ~(routed | left(need))) !== 0n;
  });
  const progress = { needs: derivation.needs.size, met: derivation.needs.size - open.length, open };
  known.set(derivation, progress);
  return progress;
}
