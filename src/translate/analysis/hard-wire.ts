import type { Endpoint, Wire } from '../../model/index.ts';

/**
 * Level names at the source end of a conductor → at its target end; null unless both are wires of two levels.
 */
export function hardWireLevels(from: Endpoint | null, to: Endpoint | null): ReadonlyMap<string, string> | null {
  if (from?.kind !== 'wire' || to?.kind !== 'wire') return null;
  const a = levelsOf(from.wire);
  const b = levelsOf(to.wire);
  return a === null || b === null ? null : new Map([[a[0], b[0]] as const, [a[1], b[1]] as const]);
}

function levelsOf({ meaning }: Wire): readonly [string, string] | null {
  if (meaning === undefined) return ['active', 'inactive'];
  return 'active' in meaning ? [meaning.active, meaning.inactive] : null;
}
