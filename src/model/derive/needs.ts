import type { Message, Signal } from '../document/platform.ts';
import type { SideName } from '../reference.ts';
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

type Found = Map<string, Supply>;

/**
 * What must be supplied and what is on offer on both sides. Linear in the size of the platforms; each of the two is worked out when
 * it is first asked for.
 */
export function deriveNeedsAndOffers(pairing: Pairing): Derivation {
  let needs: Found | null = null;
  let offers: Found | null = null;
  return {
    get needs() {
      return (needs ??= derive(pairing, 'needs'));
    },
    get offers() {
      return (offers ??= derive(pairing, 'offers'));
    },
  };
}

function derive(pairing: Pairing, what: 'needs' | 'offers'): Found {
  const found: Found = new Map();
  for (const side of [pairing.host, pairing.donor]) {
    const isPresent = presence(pairing, side);
    for (const message of side.platform.messages) addMessage(pairing, side, message, isPresent, what, found);
    addWires(pairing, side, what, found);
  }
  return found;
}

function present(pairing: Pairing, side: Side, moduleId: string): boolean {
  return side.modules.has(moduleId) && pairing.fateOf(side.name, moduleId) !== 'removed';
}

/** `present` for one side, kept for each module: a network names few modules, many times. */
function presence(pairing: Pairing, side: Side): (moduleId: string) => boolean {
  const known = new Map<string, boolean>();
  return (moduleId) => {
    let is = known.get(moduleId);
    if (is === undefined) known.set(moduleId, (is = present(pairing, side, moduleId)));
    return is;
  };
}

function addMessage(
  pairing: Pairing,
  side: Side,
  message: Message,
  isPresent: (moduleId: string) => boolean,
  what: 'needs' | 'offers',
  found: Found,
): void {
  const senders =
    message.otherSenders === undefined
      ? message.sender === null
        ? NOBODY
        : [message.sender]
      : [...(message.sender === null ? [] : [message.sender]), ...message.otherSenders];
  const sending = senders.filter(isPresent);
  if (what === 'offers' && sending.length === 0) return;
  const derivable = senders.length > 0 && sending.length === 0;
  const messageMask = message.when === undefined ? pairing.options.all : pairing.options.maskOf(message.when);
  const messageReaders = (message.readers ?? NOBODY).filter(isPresent);
  const prefix = `${side.name}:${message.id}`;
  // Worded once for the signals that share the readers of their message.
  const offered = what === 'offers' ? `${sending.join(', ')} sends it and is retained` : '';
  const lost = (readers: readonly string[]): string =>
    `${senders.join(', ')} is removed; ${readers.join(', ')} reads it`;
  const lostHere = what === 'needs' && derivable ? lost(messageReaders) : '';
  if (message.signals.length === 0) {
    if (what === 'needs' && (!derivable || messageReaders.length === 0)) return;
    found.set(prefix, {
      ref: prefix,
      kind: 'message',
      side: side.name,
      function: message.function ?? null,
      modules: what === 'offers' ? sending : messageReaders,
      by: 'derived',
      mask: messageMask,
      because: what === 'offers' ? offered : lostHere,
    });
    return;
  }
  for (const signal of message.signals) {
    const declared = what === 'needs' && signal.need !== undefined;
    if (what === 'needs' && (declared ? signal.need === false : !derivable || isFrameField(message, signal))) continue;
    if (what === 'offers' && isFrameField(message, signal)) continue;
    const readers = signal.readers === undefined ? messageReaders : signal.readers.filter(isPresent);
    if (what === 'needs' && !declared && readers.length === 0) continue;
    const ref = `${prefix}.${signal.id}`;
    found.set(ref, {
      ref,
      kind: 'signal',
      side: side.name,
      function: signal.function ?? message.function ?? null,
      modules: what === 'offers' ? sending : readers,
      by: declared ? 'declared' : 'derived',
      mask: signal.when === undefined ? messageMask : messageMask & pairing.options.maskOf(signal.when),
      because:
        what === 'offers'
          ? offered
          : declared
            ? 'the platform declares it needed'
            : readers === messageReaders
              ? lostHere
              : lost(readers),
    });
  }
}

const NOBODY: readonly string[] = [];

function addWires(pairing: Pairing, side: Side, what: 'needs' | 'offers', found: Found): void {
  for (const { wire, ref } of side.wires.values()) {
    const driver = wire.direction === 'out' ? wire.module : wire.driver;
    const base = {
      ref,
      kind: 'wire',
      side: side.name,
      function: wire.function ?? null,
      mask: pairing.options.maskOf(wire.when),
    } as const;
    const driven = driver !== undefined && present(pairing, side, driver);
    if (what === 'offers') {
      if (!driven) continue;
      found.set(ref, { ...base, modules: [driver], by: 'derived', because: `${driver} drives it and is retained` });
      continue;
    }
    const readers = (wire.direction === 'in' ? [wire.module, ...(wire.readers ?? [])] : (wire.readers ?? [])).filter(
      (id) => present(pairing, side, id),
    );
    if (wire.need !== undefined) {
      if (wire.need)
        found.set(ref, { ...base, modules: readers, by: 'declared', because: 'the platform declares it needed' });
    } else if (driver !== undefined && !driven && readers.length > 0) {
      found.set(ref, {
        ...base,
        modules: readers,
        by: 'derived',
        because: `${driver} is removed; ${readers.join(', ')} is wired to it`,
      });
    } else if (driver === undefined && pairing.fateOf(side.name, wire.module) === 'added') {
      found.set(ref, {
        ...base,
        modules: [wire.module],
        by: 'derived',
        because: `${wire.module} is added; nothing drives this input`,
      });
    }
  }
}
