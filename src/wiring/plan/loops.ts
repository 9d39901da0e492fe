import type { Circuit } from '../../model/index.ts';

/**
 * Conductors whose drop counts with each: the stub of its splice, the hops in line with it, and its return. By key; each
 * list holds the conductor itself first.
 */
export function loopsOf(circuits: readonly Circuit[]): ReadonlyMap<string, readonly string[]> {
  const byKey = new Map(circuits.map((circuit) => [circuit.key, circuit]));
  const stubOf = new Map<string, string>();
  for (const circuit of circuits) {
    if (circuit.kind !== 'splice-stub') continue;
    for (const end of [circuit.from, circuit.to]) if (end.kind === 'splice') stubOf.set(end.splice, circuit.key);
  }
  const named = new Map<string, string>();
  for (const circuit of circuits) for (const key of [circuit.key, ...circuit.otherKeys]) named.set(key, circuit.key);
  return new Map(
    circuits.map((circuit) => {
      const loop = new Set([circuit.key]);
      const add = (key: string | undefined): void => {
        const found = key === undefined ? undefined : named.get(key);
        if (found === undefined) return;
        loop.add(found);
        for (const end of ends(byKey.get(found)!)) if (end !== null) loop.add(stubOf.get(end) ?? found);
      };
      add(circuit.key);
      for (const key of returnsOf(circuit)) add(key);
      for (const key of hopsBeside(circuit)) {
        // Past a coil the current is another one: only hops that carry the same are in line.
        const hop = byKey.get(named.get(key) ?? '');
        if (hop && hop.loadA === circuit.loadA) add(key);
      }
      return [circuit.key, [...loop]];
    }),
  );
}

function ends({ from, to }: Circuit): (string | null)[] {
  return [from, to].map((end) => (end.kind === 'splice' ? end.splice : null));
}

function keysOf(circuit: Circuit): string[] {
  return [circuit.key, ...circuit.otherKeys];
}

/** Keys of the conductors that bring its current back. */
function returnsOf(circuit: Circuit): string[] {
  return keysOf(circuit).flatMap((key) => {
    if (key.startsWith('feed:')) return [`ground:${key.slice(5)}`];
    if (key.endsWith('/supply')) return [`${key.slice(0, -7)}/return`];
    return key.endsWith('/return') ? [`${key.slice(0, -7)}/supply`] : [];
  });
}

/** Keys of the hops before and after it: `route:x/2` lies between `route:x/1` and `route:x/3`. */
function hopsBeside(circuit: Circuit): string[] {
  return keysOf(circuit).flatMap((key) => {
    const hop = /^(.*)\/(\d+)$/.exec(key);
    return hop ? [`${hop[1]}/${Number(hop[2]) - 1}`, `${hop[1]}/${Number(hop[2]) + 1}`] : [];
  });
}
