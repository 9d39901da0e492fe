import type { Message, Signal } from '../document/platform.ts';
import { sideRef, signalRef, type SideName } from '../reference.ts';
import type { Pairing, Side } from '../pairing.ts';

/** Something a retained module lacks, or a retained sender provides. `mask` tells for which option combinations. */
export interface Supply {
  readonly ref: string;
  readonly kind: 'signal' | 'message' | 'wire';
  readonly side: SideName;
  readonly function: string | null;
  /** Modules of that side: the retained readers of a need; the retained sender of an offer. */
  readonly modules: readonly string[];
  /** `declared` when the platform overrides the derivation with `need` or a wire's direction. */
  readonly by: 'derived' | 'declared';
  readonly mask: bigint;
  /** Why it is one, in words. */
  readonly because: string;
}

export interface Derivation {
  readonly needs: ReadonlyMap<string, Supply>;
  readonly offers: ReadonlyMap<string, Supply>;
}

/** Fields that the sender of a frame makes afresh: never needs, they are regenerated. */
export function isFrameField(message: Message, signal: Signal): boolean {
  return (
    signal.multiplexer === true ||
    message.protection?.counter === signal.id ||
    message.protection?.checksum === signal.id
  );
}

/** What must be supplied and what is on offer on both sides. Linear in the size of the platforms. */
export function deriveNeedsAndOffers(pairing: Pairing): Derivation {
  const needs = new Map<string, Supply>();
  const offers = new Map<string, Supply>();
  for (const side of [pairing.host, pairing.donor]) {
    addNetwork(pairing, side, needs, offers);
    addWires(pairing, side, needs, offers);
  }
  return { needs, offers };
}

function present(pairing: Pairing, side: Side, moduleId: string): boolean {
  return side.modules.has(moduleId) && pairing.fateOf(side.name, moduleId) !== 'removed';
}

function addNetwork(pairing: Pairing, side: Side, needs: Map<string, Supply>, offers: Map<string, Supply>): void {
  for (const message of side.platform.messages) {
    const senders = [...(message.sender === null ? [] : [message.sender]), ...(message.otherSenders ?? [])];
    const sending = senders.filter((id) => present(pairing, side, id));
    const messageMask = pairing.options.maskOf(message.when);
    if (message.signals.length === 0) {
      const readers = (message.readers ?? []).filter((id) => present(pairing, side, id));
      const ref = sideRef(side.name, message.id);
      const base = {
        ref,
        kind: 'message',
        side: side.name,
        function: message.function ?? null,
        by: 'derived',
        mask: messageMask,
      } as const;
      if (sending.length > 0) {
        offers.set(ref, { ...base, modules: sending, because: `${sending.join(', ')} sends it and is retained` });
      } else if (readers.length > 0 && senders.length > 0) {
        needs.set(ref, {
          ...base,
          modules: readers,
          because: `${senders.join(', ')} is removed; ${readers.join(', ')} reads it`,
        });
      }
      continue;
    }
    for (const signal of message.signals) {
      const readers = (signal.readers ?? message.readers ?? []).filter((id) => present(pairing, side, id));
      const ref = signalRef(side.name, message.id, signal.id);
      const mask = signal.when ? messageMask & pairing.options.maskOf(signal.when) : messageMask;
      const functionId = signal.function ?? message.function ?? null;
      const base = { ref, kind: 'signal', side: side.name, function: functionId, mask } as const;
      if (signal.need !== undefined) {
        if (signal.need)
          needs.set(ref, { ...base, modules: readers, by: 'declared', because: 'the platform declares it needed' });
      } else if (sending.length === 0 && senders.length > 0 && readers.length > 0 && !isFrameField(message, signal)) {
        needs.set(ref, {
          ...base,
          modules: readers,
          by: 'derived',
          because: `${senders.join(', ')} is removed; ${readers.join(', ')} reads it`,
        });
      }
      if (sending.length > 0 && !isFrameField(message, signal)) {
        offers.set(ref, {
          ...base,
          modules: sending,
          by: 'derived',
          because: `${sending.join(', ')} sends it and is retained`,
        });
      }
    }
  }
}

function addWires(pairing: Pairing, side: Side, needs: Map<string, Supply>, offers: Map<string, Supply>): void {
  for (const { wire, ref } of side.wires.values()) {
    const ownerPresent = present(pairing, side, wire.module);
    const driver = wire.direction === 'out' ? wire.module : wire.driver;
    const readers = (wire.direction === 'in' ? [wire.module, ...(wire.readers ?? [])] : (wire.readers ?? [])).filter(
      (id) => present(pairing, side, id),
    );
    const base = {
      ref,
      kind: 'wire',
      side: side.name,
      function: wire.function ?? null,
      mask: pairing.options.maskOf(wire.when),
    } as const;
    const driven = driver !== undefined && present(pairing, side, driver);
    if (wire.need !== undefined) {
      if (wire.need)
        needs.set(ref, { ...base, modules: readers, by: 'declared', because: 'the platform declares it needed' });
    } else if (driver !== undefined && !driven && readers.length > 0) {
      needs.set(ref, {
        ...base,
        modules: readers,
        by: 'derived',
        because: `${driver} is removed; ${readers.join(', ')} is wired to it`,
      });
    } else if (driver === undefined && ownerPresent && pairing.fateOf(side.name, wire.module) === 'added') {
      needs.set(ref, {
        ...base,
        modules: [wire.module],
        by: 'derived',
        because: `${wire.module} is added; nothing drives this input`,
      });
    }
    if (driven) {
      offers.set(ref, { ...base, modules: [driver], by: 'derived', because: `${driver} drives it and is retained` });
    }
  }
}
