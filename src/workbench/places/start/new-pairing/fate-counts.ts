import type { Derivation, Platform, SideName } from '../../../../model/index.ts';

/** What a module sends and reads, and what its fate brings about. */
export interface ModuleCounts {
  readonly sends: number;
  readonly reads: number;
  /** Needs which it has as a reader. */
  readonly lacks: number;
  /** Needs of others because it is removed. */
  readonly missed: number;
}

interface Tally {
  sends: number;
  reads: number;
  lacks: number;
  missed: number;
}

/** Counts of every module of a side. Linear in the size of the platform. */
export function moduleCounts(
  side: SideName,
  platform: Platform,
  derivation: Derivation | null,
): ReadonlyMap<string, ModuleCounts> {
  const tallies = new Map<string, Tally>(
    platform.modules.map(({ id }) => [id, { sends: 0, reads: 0, lacks: 0, missed: 0 }]),
  );
  const add = (id: string | null | undefined, what: keyof Tally): void => {
    const tally = id === null || id === undefined ? undefined : tallies.get(id);
    if (tally) tally[what] += 1;
  };
  for (const message of platform.messages) {
    const senders = [message.sender, ...(message.otherSenders ?? [])];
    for (const signal of message.signals) {
      const need = derivation?.needs.get(`${side}:${message.id}.${signal.id}`);
      for (const sender of senders) {
        add(sender, 'sends');
        if (need) add(sender, 'missed');
      }
      for (const reader of signal.readers ?? message.readers ?? []) add(reader, 'reads');
      for (const reader of need?.modules ?? []) add(reader, 'lacks');
    }
  }
  for (const wire of platform.wires) {
    const need = derivation?.needs.get(`${side}:${wire.id}`);
    const driver = wire.direction === 'out' ? wire.module : wire.driver;
    const readers = wire.direction === 'in' ? [wire.module, ...(wire.readers ?? [])] : (wire.readers ?? []);
    add(driver, 'sends');
    if (need) add(driver, 'missed');
    for (const reader of readers) add(reader, 'reads');
    for (const reader of need?.modules ?? []) add(reader, 'lacks');
  }
  return tallies;
}
