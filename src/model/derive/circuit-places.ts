import type { Cavity } from '../document/common.ts';
import type { HarnessPart, InterfaceModule, Pin } from '../document/map.ts';
import type { Wire } from '../document/platform.ts';
import { pinRef, sideRef, type SideName } from '../reference.ts';
import type { Pairing } from '../pairing.ts';
import type { CircuitEnd } from './circuit-types.ts';

function cavityEnd(connector: string, cavity: string, joint: 'terminal' | 'tap'): CircuitEnd {
  return { kind: 'cavity', key: `${connector}/${cavity}`, connector, cavity, joint };
}

/** A cavity as a map writes it: an added connector by its id, or `side:connector`. */
export function mapCavityEnd(at: Cavity): CircuitEnd {
  return cavityEnd(at.connector, at.cavity, 'terminal');
}

/** A cavity as a platform writes it: a connector of that side. */
export function platformCavityEnd(side: SideName, at: Cavity, joint: 'terminal' | 'tap' = 'terminal'): CircuitEnd {
  return cavityEnd(sideRef(side, at.connector), at.cavity, joint);
}

/**
 * Whether a conductor of the vehicle's own harness stays in this wire's cavity: its driver and a reader are both retained,
 * and the connector is a retained module's own. The free half of a connector between two harnesses is the added harness's.
 */
export function staysConnected(pairing: Pairing, side: SideName, wire: Wire): boolean {
  const driver = wire.direction === 'out' ? wire.module : wire.driver;
  const readers = wire.direction === 'in' ? [wire.module, ...(wire.readers ?? [])] : (wire.readers ?? []);
  const stays = (id: string): boolean => pairing.side(side).modules.has(id) && pairing.fateOf(side, id) === 'retained';
  const of = pairing.side(side).connectors.get(wire.at?.connector ?? '')?.of;
  return of !== undefined && stays(of) && driver !== undefined && stays(driver) && readers.some(stays);
}

/** Where an added conductor meets a platform's wire. */
export function wireEnd(pairing: Pairing, side: SideName, wire: Wire): CircuitEnd {
  if (!wire.at) return unknownEnd(sideRef(side, wire.id));
  return platformCavityEnd(side, wire.at, staysConnected(pairing, side, wire) ? 'tap' : 'terminal');
}

export function unknownEnd(of: string): CircuitEnd {
  return { kind: 'unknown', key: `?${of}`, of };
}

export function pinEnd(pin: Pin): CircuitEnd {
  return mapCavityEnd(pin.at);
}

/** A terminal of a harness part; the two halves of an in-line connector are told apart by `/in` and `/out`. */
export function partEnd(part: HarnessPart, terminal: string): CircuitEnd {
  const slash = terminal.lastIndexOf('/');
  const half = part.kind === 'in-line-connector' && slash > 0 ? terminal.slice(slash) : '';
  const at = part.at?.[half === '' ? terminal : terminal.slice(0, slash)];
  return {
    kind: 'part',
    key: at ? `${at.connector}/${at.cavity}${half}` : `${part.id}.${terminal}`,
    part: part.id,
    terminal,
    connector: at?.connector ?? null,
    cavity: at?.cavity ?? null,
  };
}

/** A feed's cavity; unknown when the platform gives none. Null when there is no such feed. */
export function feedEnd(pairing: Pairing, ref: string): CircuitEnd | null {
  const [side, id] = split(ref);
  const feed = side && pairing.side(side).feeds.get(id);
  if (!side || !feed) return null;
  return feed.at ? platformCavityEnd(side, feed.at) : unknownEnd(ref);
}

/** A ground's cavity or stud; unknown when the platform gives neither. Null when there is no such ground. */
export function groundEnd(pairing: Pairing, ref: string): CircuitEnd | null {
  const [side, id] = split(ref);
  const ground = side && pairing.side(side).grounds.get(id);
  if (!side || !ground) return null;
  if (ground.at) return platformCavityEnd(side, ground.at);
  return ground.stud !== undefined || ground.studMm !== undefined
    ? { kind: 'stud', key: ref, ground: ref, stud: ground.stud ?? null }
    : unknownEnd(ref);
}

function split(ref: string): readonly [SideName | null, string] {
  const colon = ref.indexOf(':');
  const side = ref.slice(0, colon);
  return side === 'host' || side === 'donor' ? [side, ref.slice(colon + 1)] : [null, ref];
}

/** The place that a part's `coilBy` or `terminals` names: side:feed, side:ground, side:wire, side:bus.high or .low, module.pin. */
export function namedEnd(
  pairing: Pairing,
  ref: string,
): { readonly end: CircuitEnd; readonly what: 'feed' | 'ground' | 'wire' | 'bus' | 'pin' } | null {
  const [side, id] = split(ref);
  if (side) {
    const wire = pairing.side(side).wires.get(id);
    if (wire) return { end: wireEnd(pairing, side, wire.wire), what: 'wire' };
    const feed = feedEnd(pairing, ref);
    if (feed) return { end: feed, what: 'feed' };
    const ground = groundEnd(pairing, ref);
    if (ground) return { end: ground, what: 'ground' };
    const [busId, line] = id.split('.');
    const bus = pairing.side(side).buses.get(busId ?? '');
    if (bus && (line === 'high' || line === 'low'))
      return { end: bus.tap ? platformCavityEnd(side, bus.tap[line]) : unknownEnd(ref), what: 'bus' };
    return null;
  }
  const pin = namedPin(pairing, ref);
  return pin ? { end: pinEnd(pin.pin), what: 'pin' } : null;
}

/** The pin `module.pin` names. */
export function namedPin(pairing: Pairing, ref: string): { readonly owner: InterfaceModule; readonly pin: Pin } | null {
  for (const owner of pairing.interfaceModules.values()) {
    for (const pin of owner.pins) if (pinRef(owner.id, pin.id) === ref) return { owner, pin };
  }
  return null;
}
