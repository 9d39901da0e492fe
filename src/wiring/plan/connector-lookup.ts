import { parseRef, type Connector, type Pairing } from '../../model/index.ts';

/** Finds a connector by its reference: `side:connector`, or the id of one which the map adds. */
export function connectorFinder(pairing: Pairing): (ref: string) => Connector | null {
  const added = new Map((pairing.map.harness?.connectors ?? []).map((connector) => [connector.id, connector]));
  return (ref) => {
    const parsed = parseRef(ref);
    return parsed ? (pairing.side(parsed.side).connectors.get(parsed.name) ?? null) : (added.get(ref) ?? null);
  };
}

/** Sizes that a cavity's terminal accepts, in mm²; null when not stated. */
export function acceptsAt(
  connector: Connector | null,
  cavity: string,
): { readonly minMm2: number; readonly maxMm2: number } | null {
  return connector?.acceptsAt?.[cavity] ?? connector?.accepts ?? null;
}

/** What one contact of a cavity may carry on and on, in amperes; null when not stated. */
export function contactA(connector: Connector | null, cavity: string): number | null {
  return connector?.maxAAt?.[cavity] ?? connector?.maxA ?? null;
}
