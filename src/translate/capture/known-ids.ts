import { type Combination, type Pairing, type SideName, holds, portOnBus, sideRef } from '../../model/index.ts';

/** What a frame id on a bus is to the map. */
export type KnownId =
  /** Sent by a module that stays, or by one nobody names. */
  | { readonly kind: 'known' }
  /** Of a message whose senders are all removed, and that no interface module sends. */
  | { readonly kind: 'orphan'; readonly message: string }
  | { readonly kind: 'unknown' };

/** Looks up frame ids on the buses that the interface modules of a build are connected to; null for other buses. */
export function knownIds(
  pairing: Pairing,
  combination: Combination,
): (bus: string, frameId: number, extended: boolean) => KnownId | null {
  const buses = new Map<string, Map<string, KnownId>>();
  const there = pairing.map.interfaceModules.filter(({ when }) => when === undefined || holds(when, combination));
  const sent = new Set(
    pairing.map.transmits
      .filter(({ by, when }) => there.some(({ id }) => id === by) && (when === undefined || holds(when, combination)))
      .map(({ message }) => message),
  );
  for (const side of ['host', 'donor'] as const) {
    for (const { id } of pairing.side(side).platform.buses) {
      const bus = sideRef(side, id);
      if (there.some((module) => portOnBus(module, bus) !== null)) buses.set(bus, idsOn(pairing, side, id, sent));
    }
  }
  return (bus, frameId, extended) => {
    const ids = buses.get(bus);
    if (ids === undefined) return null;
    return ids.get(keyOf(frameId, extended)) ?? { kind: 'unknown' };
  };
}

function keyOf(frameId: number, extended: boolean): string {
  return `${extended ? 'x' : ''}${frameId}`;
}

function idsOn(pairing: Pairing, side: SideName, busId: string, sent: ReadonlySet<string>): Map<string, KnownId> {
  const { buses, platform } = pairing.side(side);
  const joined = new Set([busId, ...(buses.get(busId)?.joinedWith ?? [])]);
  const ids = new Map<string, KnownId>();
  for (const { id, bus, frameId, idFormat, sender, otherSenders = [] } of platform.messages) {
    if (!joined.has(bus)) continue;
    const message = sideRef(side, id);
    const senders = [...(sender === null ? [] : [sender]), ...otherSenders];
    const gone = senders.length > 0 && senders.every((module) => pairing.fateOf(side, module) === 'removed');
    const key = keyOf(Number(frameId), idFormat === 'extended');
    if (!gone || sent.has(message)) ids.set(key, { kind: 'known' });
    else if (!ids.has(key)) ids.set(key, { kind: 'orphan', message });
  }
  // A message may be sent on another bus than the one its platform has it on.
  for (const ref of sent) {
    const end = pairing.find(ref);
    if (end?.kind === 'message')
      ids.set(keyOf(Number(end.message.frameId), end.message.idFormat === 'extended'), { kind: 'known' });
  }
  return ids;
}
