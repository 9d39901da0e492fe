import { parseRef, type AddedHarness, type Pairing, type SideName } from '../../model/index.ts';
import { canLengthLimits, termination, type CanLengthLimits, type Termination } from './physical.ts';

/** A terminator that is on the bus in this pairing. */
export interface Terminator {
  /** `host:bcm`, `xm.A` or a harness part. */
  readonly at: string;
  readonly ohm: number;
}

export interface Stub {
  readonly at: string;
  readonly lengthM: number;
  /** Added by this pairing's harness. */
  readonly added: boolean;
}

/** The physical layer of one bus as it will be: removed modules gone, interface module joined. Lengths in metres. */
export interface BusPhysical {
  readonly ref: string;
  readonly bitRate: number;
  readonly limits: CanLengthLimits;
  readonly lengthM: number | null;
  readonly terminators: readonly Terminator[];
  /** Terminators that went with a removed module. */
  readonly removedTerminators: readonly Terminator[];
  readonly termination: Termination;
  readonly stubs: readonly Stub[];
  /** Buses which routes join to this one without a module between: their terminators and lengths count here too. */
  readonly joined: readonly string[];
}

/**
 * What is on each bus: terminators that stay, of ports and of harness parts; stubs; length. `pairLengthM` gives the length of
 * a port's added pair where the harness knows it.
 */
export function busesPhysical(
  pairing: Pairing,
  harness: AddedHarness,
  pairLengthM: (port: string) => number | null = () => null,
): readonly BusPhysical[] {
  const joins = joinsOf(harness);
  const alone = new Map<string, Omit<BusPhysical, 'termination' | 'joined'>>();
  for (const side of [pairing.host, pairing.donor]) {
    for (const bus of side.platform.buses) {
      const ref = `${side.name}:${bus.id}`;
      const all = (bus.terminations ?? []).map(({ at, ohm }) => ({ at: `${side.name}:${at}`, ohm, module: at }));
      const gone = (id: string): boolean => pairing.fateOf(side.name, id) === 'removed';
      const added = addedTo(pairing, ref, pairLengthM);
      alone.set(ref, {
        ref,
        bitRate: bus.bitRate,
        limits: canLengthLimits(bus.dataBitRate ?? bus.bitRate),
        lengthM: bus.lengthM ?? null,
        terminators: [
          ...all.filter(({ module }) => !gone(module)).map(({ at, ohm }) => ({ at, ohm })),
          ...added.terminators,
          ...partsOn(pairing, side.name, bus.id),
        ],
        removedTerminators: all.filter(({ module }) => gone(module)).map(({ at, ohm }) => ({ at, ohm })),
        stubs: [
          ...(bus.stubs ?? [])
            .filter(({ at }) => !gone(at))
            .map(({ at, lengthM }) => ({ at: `${side.name}:${at}`, lengthM, added: false })),
          ...added.stubs,
        ],
      });
    }
  }
  return [...alone.values()].map((bus) => {
    const joined = [...(joins.get(bus.ref) ?? [])].filter((ref) => alone.has(ref));
    const all = [bus, ...joined.map((ref) => alone.get(ref)!)];
    return {
      ...bus,
      joined,
      termination: termination(all.flatMap(({ terminators }) => terminators.map(({ ohm }) => ohm))),
    };
  });
}

function addedTo(
  pairing: Pairing,
  busRef: string,
  pairLengthM: (port: string) => number | null,
): { readonly terminators: Terminator[]; readonly stubs: Stub[] } {
  const terminators: Terminator[] = [];
  const stubs: Stub[] = [];
  for (const owner of pairing.interfaceModules.values()) {
    for (const port of owner.ports) {
      if (port.bus !== busRef) continue;
      const at = `${owner.id}.${port.id}`;
      if (port.terminationOhm !== undefined) terminators.push({ at, ohm: port.terminationOhm });
      const lengthM = port.stubM ?? pairLengthM(at);
      // A terminated port is an end of the bus, not a stub of it.
      if (lengthM !== null && port.terminationOhm === undefined) stubs.push({ at, lengthM, added: true });
    }
  }
  return { terminators, stubs };
}

/** Terminators among the harness parts, joined to a line of this bus. */
function partsOn(pairing: Pairing, side: SideName, busId: string): Terminator[] {
  return (pairing.map.harness?.parts ?? []).flatMap((part) => {
    if (part.kind !== 'terminator' || part.ohm === undefined) return [];
    const joinsBus = Object.values(part.terminals ?? {}).some((ref) => {
      const parsed = parseRef(ref);
      return parsed?.side === side && parsed.name === busId;
    });
    return joinsBus ? [{ at: part.id, ohm: part.ohm }] : [];
  });
}

/** Buses joined by pairs of the added harness: `join:a=b/high`. */
function joinsOf(harness: AddedHarness): Map<string, Set<string>> {
  const joins = new Map<string, Set<string>>();
  for (const { key } of harness.circuits) {
    const match = /^join:(.+)=(.+)\/high$/.exec(key);
    if (!match) continue;
    const [, a, b] = match as unknown as [string, string, string];
    joins.set(a, (joins.get(a) ?? new Set()).add(b));
    joins.set(b, (joins.get(b) ?? new Set()).add(a));
  }
  return joins;
}
