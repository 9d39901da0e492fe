import {
  deriveNeedsAndOffers,
  type Derivation,
  type Endpoint,
  type Pairing,
  type Route,
  type Side,
} from '../model/index.ts';
import type { RouteAnalysis } from '../translate/index.ts';
import type { BusMemory } from './bus-types.ts';

/** Results that hold as long as both platforms are the same objects. */
export interface PlatformMemory {
  readonly host: Side;
  readonly donor: Side;
  readonly analyses: WeakMap<Route, RouteAnalysis>;
  readonly functionIds: WeakMap<Route, { readonly id: string | null }>;
  derivation: { readonly of: Pairing; readonly is: Derivation } | null;
  buses: BusMemory | null;
}

const bearersOfSide = new WeakMap<Side, ReadonlyMap<string, readonly Endpoint[]>>();

/** The signals, messages and wires of a side by the function they bear; worked out once for each side. */
export function collectBearers(side: Side): ReadonlyMap<string, readonly Endpoint[]> {
  const known = bearersOfSide.get(side);
  if (known) return known;
  const found = new Map<string, Endpoint[]>();
  const add = (id: string, entry: Endpoint): void => {
    const list = found.get(id);
    if (list) list.push(entry);
    else found.set(id, [entry]);
  };
  for (const entry of side.messages.values()) {
    const { message } = entry;
    if (message.function !== undefined) add(message.function, entry);
    for (const signal of message.signals) {
      if (signal.function === undefined) continue;
      add(signal.function, { kind: 'signal', side: side.name, ref: `${entry.ref}.${signal.id}`, message, signal });
    }
  }
  for (const entry of side.wires.values()) if (entry.wire.function !== undefined) add(entry.wire.function, entry);
  bearersOfSide.set(side, found);
  return found;
}

/** An empty memory for the platforms of a pairing. */
export function newMemory(pairing: Pairing): PlatformMemory {
  const { host, donor } = pairing;
  return { host, donor, analyses: new WeakMap(), functionIds: new WeakMap(), derivation: null, buses: null };
}

/** Needs and offers, taken over while fates and options are the same objects. */
export function derivationOf(pairing: Pairing, memory: PlatformMemory): Derivation {
  const known = memory.derivation;
  if (
    known &&
    known.of.map.fates === pairing.map.fates &&
    known.of.map.options === pairing.map.options &&
    known.of.map.impossible === pairing.map.impossible
  ) {
    return known.is;
  }
  const is = deriveNeedsAndOffers(pairing);
  memory.derivation = { of: pairing, is };
  return is;
}
