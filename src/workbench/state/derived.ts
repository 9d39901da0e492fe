import {
  indexSide,
  pair,
  deriveNeedsAndOffers,
  type Derivation,
  type Pairing,
  type PairingDocuments,
  type Platform,
  type Side,
  type SideName,
} from '../../model/index.ts';

const sides = new WeakMap<Platform, Map<SideName, Side>>();

function sideOf(name: SideName, platform: Platform): Side {
  const known = sides.get(platform)?.get(name);
  if (known) return known;
  const side = indexSide(name, platform);
  const held = sides.get(platform) ?? new Map<SideName, Side>();
  held.set(name, side);
  sides.set(platform, held);
  return side;
}

const pairings = new WeakMap<PairingDocuments, Pairing>();

/** The documents joined and indexed; worked out once for each state of the documents. */
export function pairingOf(documents: PairingDocuments): Pairing {
  const known = pairings.get(documents);
  if (known) return known;
  const pairing = pair(documents.map, sideOf('host', documents.host), sideOf('donor', documents.donor));
  pairings.set(documents, pairing);
  return pairing;
}

const derivations = new WeakMap<Pairing, Derivation>();

/** Needs and offers of a pairing, worked out once. */
export function derivationOf(pairing: Pairing): Derivation {
  const known = derivations.get(pairing);
  if (known) return known;
  const derivation = deriveNeedsAndOffers(pairing);
  derivations.set(pairing, derivation);
  return derivation;
}
