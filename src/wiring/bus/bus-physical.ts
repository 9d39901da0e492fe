import {
  busJoins,
  parseRef,
  segmentOfBus,
  type Bus,
  type BusJoin,
  type InterfaceModule,
  type Pairing,
  type Port,
  type SideName,
} from '../../model/index.ts';
import { canLengthLimits, termination, type CanLengthLimits, type Termination } from './physical.ts';

/** A terminator that is on the bus in this pairing. */
export interface Terminator {
  /** `host:bcm`, `xm.A` or a harness part. */
  readonly at: string;
  readonly ohm: number;
  /** What a change of this pairing can take away: the port or the harness part; null for one of the vehicle. */
  readonly added: 'port' | 'part' | null;
  /** Option combinations it is there in. */
  readonly mask: bigint;
}

export interface Stub {
  readonly at: string;
  readonly lengthM: number;
  /** Added by this pairing's harness. */
  readonly added: boolean;
  readonly mask: bigint;
}

/** The physical layer of one bus as it will be: removed modules gone, interface module joined. Lengths in metres. */
export interface BusPhysical {
  readonly ref: string;
  readonly bitRate: number;
  readonly limits: CanLengthLimits;
  /** Of the bus alone, as its platform gives it. */
  readonly lengthM: number | null;
  /** What this pairing's terminated ports add beyond its ends. */
  readonly addedM: number;
  readonly terminators: readonly Terminator[];
  /** Whether its platform says anything about terminators. */
  readonly terminationsTold: boolean;
  /** Terminators that went with a removed module. */
  readonly removedTerminators: readonly Terminator[];
  readonly termination: Termination;
  readonly stubs: readonly Stub[];
  /** Buses that are one piece with this one, by the vehicle or by routes: their terminators and lengths count here too. */
  readonly joined: readonly string[];
}

export interface BusPhysicalOptions {
  /** Length of a port's added pair (`xm.A`), in metres, where its harness knows it. */
  readonly pairLengthM?: (port: string) => number | null;
  /** Only what is there in some of these combinations; all when absent. */
  readonly mask?: bigint;
  /** The joins of the pairing, when the caller has them. */
  readonly joins?: readonly BusJoin[];
}

/** What is on each bus: terminators that stay, of ports and of harness parts; stubs; length. */
export function busesPhysical(
  pairing: Pairing,
  { pairLengthM = () => null, mask = pairing.options.all, joins = busJoins(pairing) }: BusPhysicalOptions = {},
): readonly BusPhysical[] {
  const alone = new Map<string, Omit<BusPhysical, 'termination' | 'joined'>>();
  for (const side of [pairing.host, pairing.donor]) {
    for (const bus of side.platform.buses) {
      const one = busAlone(pairing, side.name, bus, pairLengthM);
      const there = <T extends { readonly mask: bigint }>(list: readonly T[]): T[] =>
        list.filter((entry) => (entry.mask & mask) !== 0n);
      alone.set(one.ref, { ...one, terminators: there(one.terminators), stubs: there(one.stubs) });
    }
  }
  return [...alone.values()].map((bus) => {
    const segment = segmentOfBus(joins, bus.ref, mask);
    return {
      ...bus,
      joined: segment.slice(1),
      termination: termination(terminatorsOf(segment.map((ref) => alone.get(ref)!)).map(({ ohm }) => ohm)),
    };
  });
}

/** The terminators of buses that are one piece; one that two of them name counts once. */
export function terminatorsOf(segment: readonly Pick<BusPhysical, 'terminators'>[]): readonly Terminator[] {
  return [...new Map(segment.flatMap(({ terminators }) => terminators.map((one) => [one.at, one] as const))).values()];
}

function busAlone(
  pairing: Pairing,
  side: SideName,
  bus: Bus,
  pairLengthM: (port: string) => number | null,
): Omit<BusPhysical, 'termination' | 'joined'> {
  const ref = `${side}:${bus.id}`;
  const gone = (id: string): boolean => pairing.fateOf(side, id) === 'removed';
  const maskOf = (id: string): bigint => pairing.options.maskOf(pairing.side(side).modules.get(id)?.when);
  const all = (bus.terminations ?? []).map(({ at, ohm }) => ({
    module: at,
    terminator: { at: `${side}:${at}`, ohm, added: null, mask: maskOf(at) },
  }));
  const ports = portsOn(pairing, ref, pairLengthM);
  return {
    ref,
    bitRate: bus.bitRate,
    limits: canLengthLimits(bus.dataBitRate ?? bus.bitRate),
    lengthM: bus.lengthM ?? null,
    addedM: ports.reduce((sum, { port, lengthM }) => sum + (port.terminationOhm === undefined ? 0 : (lengthM ?? 0)), 0),
    terminationsTold: bus.terminations !== undefined,
    terminators: [
      ...all.filter(({ module }) => !gone(module)).map(({ terminator }) => terminator),
      ...ports.flatMap(({ port, at, mask }): Terminator[] =>
        port.terminationOhm === undefined ? [] : [{ at, ohm: port.terminationOhm, added: 'port', mask }],
      ),
      ...partsOn(pairing, side, bus.id),
    ],
    removedTerminators: all.filter(({ module }) => gone(module)).map(({ terminator }) => terminator),
    stubs: [
      ...(bus.stubs ?? [])
        .filter(({ at }) => !gone(at))
        .map(({ at, lengthM }) => ({ at: `${side}:${at}`, lengthM, added: false, mask: maskOf(at) })),
      // A terminated port is an end of the bus, not a stub of it.
      ...ports.flatMap(({ port, at, lengthM, mask }): Stub[] =>
        lengthM === null || port.terminationOhm !== undefined ? [] : [{ at, lengthM, added: true, mask }],
      ),
    ],
  };
}

interface PortOnBus {
  readonly owner: InterfaceModule;
  readonly port: Port;
  readonly at: string;
  readonly lengthM: number | null;
  readonly mask: bigint;
}

function portsOn(pairing: Pairing, busRef: string, pairLengthM: (port: string) => number | null): PortOnBus[] {
  return [...pairing.interfaceModules.values()].flatMap((owner) =>
    owner.ports.flatMap((port): PortOnBus[] => {
      if (port.bus !== busRef) return [];
      const at = `${owner.id}.${port.id}`;
      return [{ owner, port, at, lengthM: port.stubM ?? pairLengthM(at), mask: pairing.options.maskOf(owner.when) }];
    }),
  );
}

/** Terminators among the harness parts, between the two lines of this bus. */
function partsOn(pairing: Pairing, side: SideName, busId: string): Terminator[] {
  return (pairing.map.harness?.parts ?? []).flatMap((part): Terminator[] => {
    if (part.kind !== 'terminator' || part.ohm === undefined) return [];
    const lines = new Set<string>();
    for (const ref of Object.values(part.terminals ?? {})) {
      const parsed = parseRef(ref);
      if (parsed?.side === side && parsed.name === busId && parsed.signal !== null) lines.add(parsed.signal);
    }
    if (!lines.has('high') || !lines.has('low')) return [];
    return [{ at: part.id, ohm: part.ohm, added: 'part', mask: pairing.options.maskOf(part.when) }];
  });
}
