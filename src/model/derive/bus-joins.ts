import type { Route } from '../document/map.ts';
import type { Bus } from '../document/platform.ts';
import type { Pairing } from '../pairing.ts';
import { sideRef, type SideName } from '../reference.ts';

/** A bus of one side. `ref` is `side:bus`. */
export interface JoinedBus {
  readonly side: SideName;
  readonly bus: Bus;
  readonly ref: string;
}

/**
 * Two buses that are one pair of conductors, `a` and `b` in the order of their references for a join by routes: because the
 * vehicle is built so (`joinedWith`, no routes), or because routes have the carrier bus from one to the other with no interface
 * module between. `mask`: the option combinations it holds for.
 */
export interface BusJoin {
  readonly a: JoinedBus;
  readonly b: JoinedBus;
  readonly routes: readonly Route[];
  readonly mask: bigint;
}

/** Joins which the vehicles have, then those which routes ask for, each pair of buses once. */
export function busJoins(pairing: Pairing): readonly BusJoin[] {
  return [...builtJoins(pairing), ...routeJoins(pairing)];
}

function builtJoins(pairing: Pairing): BusJoin[] {
  const joins = new Map<string, BusJoin>();
  for (const { name: side, buses } of [pairing.host, pairing.donor]) {
    for (const bus of buses.values()) {
      for (const other of bus.joinedWith ?? []) {
        const with_ = buses.get(other);
        if (!with_ || with_ === bus) continue;
        const key = joinKey(sideRef(side, bus.id), sideRef(side, other));
        if (joins.has(key)) continue;
        const at = (one: Bus): JoinedBus => ({ side, bus: one, ref: sideRef(side, one.id) });
        joins.set(key, { a: at(bus), b: at(with_), routes: [], mask: pairing.options.all });
      }
    }
  }
  return [...joins.values()];
}

/**
 * Joins which routes ask for, where the vehicle has none and no interface module forwards the frame. `a` is the bus of the first such
 * route's source.
 */
export function routeJoins(pairing: Pairing): readonly BusJoin[] {
  const joins = new Map<string, { a: JoinedBus; b: JoinedBus; routes: Set<Route>; mask: bigint }>();
  for (const route of pairing.map.routes) {
    if (route.carrier !== 'bus' || route.by !== undefined) continue;
    const target = busOf(pairing, route.to);
    for (const ref of route.from) {
      const source = busOf(pairing, ref);
      if (!source || !target || source.ref === target.ref) continue;
      if (isBuiltJoined(source, target) || isForwarded(pairing, route.to, source.ref)) continue;
      const key = joinKey(source.ref, target.ref);
      const mask = pairing.options.maskOf(route.when);
      const join = joins.get(key);
      if (join) {
        join.routes.add(route);
        join.mask |= mask;
      } else joins.set(key, { a: source, b: target, routes: new Set([route]), mask });
    }
  }
  return [...joins.values()].map((join) => ({ ...join, routes: [...join.routes] }));
}

/** Names a pair of buses, whichever comes first: `donor:a=host:b`. */
export function joinKey(a: string, b: string): string {
  return [a, b].sort().join('=');
}

function isBuiltJoined(a: JoinedBus, b: JoinedBus): boolean {
  if (a.side !== b.side) return false;
  return (a.bus.joinedWith?.includes(b.bus.id) ?? false) || (b.bus.joinedWith?.includes(a.bus.id) ?? false);
}

function isForwarded(pairing: Pairing, to: string, sourceBus: string): boolean {
  const target = pairing.find(to);
  if (!target || target.kind === 'wire') return false;
  return (pairing.transmitsOf.get(sideRef(target.side, target.message.id)) ?? []).some(
    ({ send, by }) =>
      send === 'forwarded' && pairing.interfaceModules.get(by)?.ports.some(({ bus }) => bus === sourceBus) === true,
  );
}

function busOf(pairing: Pairing, ref: string): JoinedBus | null {
  const endpoint = pairing.find(ref);
  if (!endpoint || endpoint.kind === 'wire') return null;
  const bus = pairing.side(endpoint.side).buses.get(endpoint.message.bus);
  return bus ? { side: endpoint.side, bus, ref: sideRef(endpoint.side, bus.id) } : null;
}

/** The buses which are one piece with the given one in some of the combinations of `mask`, itself first. */
export function segmentOfBus(joins: readonly BusJoin[], ref: string, mask: bigint): readonly string[] {
  const names = [ref];
  const seen = new Set(names);
  for (let at = 0; at < names.length; at += 1) {
    for (const { a, b, mask: holds } of joins) {
      if ((holds & mask) === 0n) continue;
      const other = a.ref === names[at] ? b.ref : b.ref === names[at] ? a.ref : null;
      if (other !== null && !seen.has(other)) {
        seen.add(other);
        names.push(other);
      }
    }
  }
  return names;
}
