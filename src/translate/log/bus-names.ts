import { type Pairing, portOnBus, sideRef } from '../../model/index.ts';
import { printable } from './printable.ts';

/** Which bus an interface name of a log stands for, and the other way round. */
export interface BusNames {
  /** `side:bus`, or null. */
  busOf(interfaceName: string): string | null;
  /** The interface name a bus is written under. */
  nameOf(bus: string): string;
  /** Every bus of the pairing, `side:bus`. */
  readonly buses: readonly string[];
}

/** A mapping that cannot be used; the message says which, and what there is. */
export class BusNamesError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'BusNamesError';
  }
}

/**
 * Interface names for a pairing, from pairs `can0=host:chassis-can`. A bus may be named without its side where only one side has it.
 * A name that no pair gives stands for the bus it spells, with or without the side. Nothing else is guessed, with one exception: where
 * the interface modules listen to a single bus and no pair is given, every name stands for it. Throws `BusNamesError`.
 */
export function busNames(pairing: Pairing, pairs: readonly string[] = []): BusNames {
  const buses = [...refsOf(pairing, 'host'), ...refsOf(pairing, 'donor')];
  const bare = new Map<string, string | null>();
  for (const bus of buses) {
    const id = bus.slice(bus.indexOf(':') + 1);
    bare.set(id, bare.has(id) ? null : bus);
  }
  const spelt = (text: string): string | null => (buses.includes(text) ? text : (bare.get(text) ?? null));
  const named = new Map<string, string>();
  const written = new Map<string, string>();
  for (const text of pairs) {
    const at = text.indexOf('=');
    const name = text.slice(0, at);
    if (at < 1 || /\s/.test(name))
      throw new BusNamesError(
        `"${printable(text)}" is no mapping: write INTERFACE=BUS, as in can0=${buses[0] ?? 'host:bus'}`,
      );
    const bus = spelt(text.slice(at + 1));
    if (bus === null)
      throw new BusNamesError(`there is no bus "${printable(text.slice(at + 1))}"; there are: ${buses.join(', ')}`);
    if (named.has(name) && named.get(name) !== bus)
      throw new BusNamesError(`interface ${printable(name)} is given two buses, ${named.get(name)} and ${bus}`);
    named.set(name, bus);
    if (!written.has(bus)) written.set(bus, name);
  }
  const heard = buses.filter((bus) => pairing.map.interfaceModules.some((module) => portOnBus(module, bus) !== null));
  const only = named.size === 0 && heard.length === 1 ? heard[0]! : null;
  return {
    buses,
    busOf: (name) => named.get(name) ?? spelt(name) ?? only,
    nameOf(bus) {
      const id = bus.slice(bus.indexOf(':') + 1);
      // A name that was given to another bus would be read back as that one.
      return written.get(bus) ?? (bare.get(id) === bus && !named.has(id) ? id : bus);
    },
  };
}

function refsOf(pairing: Pairing, side: 'host' | 'donor'): string[] {
  return [...pairing.side(side).buses.keys()].map((id) => sideRef(side, id));
}
