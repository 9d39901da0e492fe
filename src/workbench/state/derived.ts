import {
  indexSide,
  pair,
  deriveHarness,
  deriveNeedsAndOffers,
  type AddedHarness,
  type Circuit,
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

const harnesses = new WeakMap<Pairing, AddedHarness>();

/** The added harness of a pairing as derived, worked out once. */
export function harnessOf(pairing: Pairing): AddedHarness {
  const known = harnesses.get(pairing);
  if (known) return known;
  const harness = deriveHarness(pairing);
  harnesses.set(pairing, harness);
  return harness;
}

/** The conductor with a number; null when the harness has none. */
export function circuitOf(pairing: Pairing, id: string): Circuit | null {
  return harnessOf(pairing).circuits.find((circuit) => circuit.id === id) ?? null;
}

/** Ids of the routes that a finding's subject concerns: the route itself, those that write the signal or wire, those of the conductor. */
export function routesConcerned(pairing: Pairing, subject: string): readonly string[] {
  if (subject.startsWith('route:')) return [subject.slice('route:'.length)];
  if (subject.startsWith('circuit:')) return circuitOf(pairing, subject.slice('circuit:'.length))?.routeIds ?? [];
  return (pairing.routesTo.get(subject) ?? []).map(({ id }) => id);
}
