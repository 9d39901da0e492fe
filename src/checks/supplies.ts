import { parseRef, type Feed, type Ground, type Pairing, type SideName } from '../model/index.ts';

/** A feed with the side it belongs to. */
export interface FoundFeed {
  readonly side: SideName;
  readonly feed: Feed;
}

/** A feed as `side:feed`; null when there is none. */
export function feedAt(pairing: Pairing, ref: string | undefined): FoundFeed | null {
  const parsed = parseRef(ref ?? '');
  const feed = parsed && pairing.side(parsed.side).feeds.get(parsed.name);
  return parsed && feed ? { side: parsed.side, feed } : null;
}

/** A ground as `side:ground`; null when there is none. */
export function groundAt(
  pairing: Pairing,
  ref: string | undefined,
): { readonly side: SideName; readonly ground: Ground } | null {
  const parsed = parseRef(ref ?? '');
  const ground = parsed && pairing.side(parsed.side).grounds.get(parsed.name);
  return parsed && ground ? { side: parsed.side, ground } : null;
}

/** The module that a ground point goes with: its own, or that of the connector it lies in; null when it belongs to the vehicle. */
export function ownerOfGround(pairing: Pairing, side: SideName, ground: Ground): string | null {
  return ground.of ?? pairing.side(side).connectors.get(ground.at?.connector ?? '')?.of ?? null;
}

export function feedSubject(ref: string): string {
  return `feed:${ref}`;
}
