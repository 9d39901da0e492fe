import type { Edit, Json, PathStep, Route, Transmit } from '../model/index.ts';
import type { Mend } from './rule.ts';

/** Sets one field of a route. */
export function setRoute(route: Route, field: keyof Route & string, to: Json, title: string): Mend {
  return { title, edits: [{ do: 'set', in: 'map', path: ['routes', { id: route.id }, field], to }] };
}

/** Takes a route out of the map. */
export function removeRoute(route: Route, title = `take out the route ${route.id}`): Mend {
  return { title, edits: [{ do: 'remove', in: 'map', path: ['routes', { id: route.id }] }] };
}

export function removeField(route: Route, field: keyof Route & string, title: string): Mend {
  return { title, edits: [{ do: 'remove', in: 'map', path: ['routes', { id: route.id }, field] }] };
}

/** Sets one field of a transmit. */
export function setTransmit(transmit: Transmit, field: readonly string[], to: Json, title: string): Mend {
  const entry: PathStep = { key: 'message', is: transmit.message };
  return { title, edits: [{ do: 'set', in: 'map', path: ['transmits', entry, ...field], to }] };
}

export function mendBy(title: string, ...edits: readonly Edit[]): Mend {
  return { title, edits };
}
