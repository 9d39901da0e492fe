import type { Edit, Json, Pairing, Route, Step } from '../../../model/index.ts';

type RouteKey = Exclude<keyof Route, 'id'>;
export type RouteChange = { readonly [K in RouteKey]?: Route[K] | undefined };

/** The route after a change: a key given as undefined is taken away. */
export function changedRoute(route: Route, change: RouteChange): Route {
  const next: Record<string, unknown> = { ...route, ...change };
  for (const [key, value] of Object.entries(change)) if (value === undefined) delete next[key];
  return next as Route;
}

/** The edits that make a change of some keys of a route; none for a key that stays as it is. */
export function routeEdits(route: Route, change: RouteChange): readonly Edit[] {
  return (Object.entries(change) as [RouteKey, unknown][]).flatMap(([key, value]): readonly Edit[] => {
    const path = ['routes', { id: route.id }, key];
    if (value === undefined) return route[key] === undefined ? [] : [{ do: 'remove', in: 'map', path }];
    if (JSON.stringify(value) === JSON.stringify(route[key])) return [];
    return [{ do: 'set', in: 'map', path, to: value as Json }];
  });
}

export function stepsWith(steps: readonly Step[], at: number, step: Step): Step[] {
  return steps.map((old, index) => (index === at ? step : old));
}

/** The steps with one moved by one place; unchanged when it is at that end already. */
export function stepsMoved(steps: readonly Step[], at: number, by: 1 | -1): Step[] {
  const to = at + by;
  if (to < 0 || to >= steps.length) return [...steps];
  const moved = [...steps];
  [moved[at], moved[to]] = [moved[to]!, moved[at]!];
  return moved;
}

/** A step with one key set, or taken away where the value is undefined. */
export function stepWith(step: Step, key: string, value: unknown): Step {
  const next: Record<string, unknown> = { ...step, [key]: value };
  if (value === undefined) delete next[key];
  return next as Step;
}

/** A free id like the given one: `speed` → `speed-2`. */
export function freeRouteId(pairing: Pairing, like: string): string {
  const base = like.replace(/-\d+$/, '').slice(0, 110);
  let count = 2;
  while (pairing.routes.has(`${base}-${count}`)) count += 1;
  return `${base}-${count}`;
}

/** The edits that put a copy of a route behind it. */
export function duplicateEdits(
  pairing: Pairing,
  route: Route,
): { readonly id: string; readonly edits: readonly Edit[] } {
  const id = freeRouteId(pairing, route.id);
  const list = pairing.map.routes;
  const next = list[list.findIndex((other) => other.id === route.id) + 1];
  const copy = { ...route, id } as unknown as Json;
  return {
    id,
    edits: [{ do: 'insert', in: 'map', path: ['routes'], value: copy, ...(next ? { before: { id: next.id } } : {}) }],
  };
}

/** The edits that take a route out; routes that back it up lose that mark. */
export function deleteEdits(pairing: Pairing, route: Route): readonly Edit[] {
  return [
    ...pairing.map.routes
      .filter(({ backupOf }) => backupOf === route.id)
      .map(({ id }): Edit => ({ do: 'remove', in: 'map', path: ['routes', { id }, 'backupOf'] })),
    { do: 'remove', in: 'map', path: ['routes', { id: route.id }] },
  ];
}
