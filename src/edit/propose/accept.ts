import { applyEdits, pair, type Edit, type Pairing, type Route, type Supply } from '../../model/index.ts';
import { draftRoute } from './draft.ts';
import type { NeedProposals } from './propose.ts';

/** A proposal that became a route. */
export interface Accepted {
  readonly need: Supply;
  readonly route: Route;
  /** What the draft leaves for a person to decide. */
  readonly open: readonly string[];
}

export interface Acceptance {
  /** All edits in their order, ready to be one change. */
  readonly edits: readonly Edit[];
  readonly accepted: readonly Accepted[];
  /** Needs whose best proposal could no longer be drafted once the others were in the map, and why. */
  readonly refused: readonly { readonly need: Supply; readonly reason: string }[];
}

/**
 * Accepts the best proposal of every need in the list that scores at least `least` and can be routed. Each is drafted against
 * the map as the ones before leave it, so that no two share an id, a pin or a transmit.
 * @param onProgress called with the part that is done, 0 to 1.
 */
export function acceptBest(
  pairing: Pairing,
  needs: readonly NeedProposals[],
  least: number,
  onProgress: (fraction: number) => void = () => undefined,
): Acceptance {
  const edits: Edit[] = [];
  const accepted: Accepted[] = [];
  const refused: { need: Supply; reason: string }[] = [];
  let current = pairing;
  needs.forEach(({ need, proposals }, index) => {
    const best = proposals[0];
    if (!best?.draft.route || best.score < least) return;
    const draft = draftRoute(current, need, best.offer);
    if (draft.route === null) {
      refused.push({ need, reason: draft.open[0] ?? 'it cannot be drafted any more' });
      return;
    }
    const { map } = applyEdits(
      { map: current.map, host: current.host.platform, donor: current.donor.platform },
      draft.edits,
    );
    current = pair(map, current.host, current.donor);
    edits.push(...draft.edits);
    accepted.push({ need, route: draft.route, open: draft.open });
    if (index % 32 === 0) onProgress(index / needs.length);
  });
  return { edits, accepted, refused };
}
