import { deriveNeedsAndOffers, type Derivation, type Pairing, type Supply } from '../../model/index.ts';
import { draftRoute, type Draft } from './draft.ts';
import { offerBook, rankOffers, type RankedOffer } from './rank.ts';

/** One offer for a need, with the route it would become. */
export interface Proposal extends RankedOffer {
  readonly draft: Draft;
}

/** What could meet one need that nothing meets yet. */
export interface NeedProposals {
  readonly need: Supply;
  /** Combinations in which nothing meets it. */
  readonly unmet: bigint;
  /** Best first; those that can be routed before those that cannot. */
  readonly proposals: readonly Proposal[];
}

/** Combinations in which no route and no left-out entry answers a need. */
export function unmetMask(pairing: Pairing, need: Supply): bigint {
  const routed = (pairing.routesTo.get(need.ref) ?? []).reduce(
    (mask, route) => mask | pairing.options.maskOf(route.when),
    0n,
  );
  const left = (pairing.map.leftOut ?? []).reduce(
    (mask, entry) =>
      entry.signal === need.ref || (entry.function !== undefined && entry.function === need.function)
        ? mask | pairing.options.maskOf(entry.when)
        : mask,
    0n,
  );
  return need.mask & ~(routed | left);
}

/** For each need — those still open, or all of them —: ranked offers with reasons and complete draft routes. */
export function propose(
  pairing: Pairing,
  derivation: Derivation = deriveNeedsAndOffers(pairing),
  which: 'open' | 'all' = 'open',
): readonly NeedProposals[] {
  const book = offerBook(pairing, derivation.offers.values());
  return [...derivation.needs.values()].flatMap((need) => {
    const unmet = unmetMask(pairing, need);
    if (unmet === 0n && which === 'open') return [];
    return [{ need, unmet, proposals: proposalsFor(pairing, book, need) }];
  });
}

function proposalsFor(pairing: Pairing, book: ReturnType<typeof offerBook>, need: Supply): readonly Proposal[] {
  const all = rankOffers(pairing, book, need).map((ranked): Proposal => ({
    ...ranked,
    draft: draftRoute(pairing, need, ranked.offer),
  }));
  return [...all.filter(({ draft }) => draft.route !== null), ...all.filter(({ draft }) => draft.route === null)];
}
