import type { Route } from '../document/map.ts';
import type { Pairing } from '../pairing.ts';

const known = new WeakMap<Pairing, ReadonlySet<Route>>();

/** Routes that read or write a wire of a platform. Found from the wires, so that a map of networks alone costs nothing. */
export function wiredRoutes(pairing: Pairing): ReadonlySet<Route> {
  const cached = known.get(pairing);
  if (cached) return cached;
  const { host, donor, routesTo, routesFrom } = pairing;
  const routes = new Set<Route>();
  for (const side of [host, donor]) {
    for (const { ref } of side.wires.values()) {
      for (const list of [routesTo.get(ref), routesFrom.get(ref)]) for (const route of list ?? []) routes.add(route);
    }
  }
  known.set(pairing, routes);
  return routes;
}
