import type { Json, Route, Step } from '../model/index.ts';
import type { Mend } from './rule.ts';

/** Inserts a step, last or before the position where it is wanted. */
export function insertStep(route: Route, at: number | null, step: Step, title: string): Mend {
  const value = step as unknown as Json;
  const count = route.steps?.length ?? 0;
  return {
    title,
    edits: [
      {
        do: 'insert',
        in: 'map',
        path: ['routes', { id: route.id }, 'steps'],
        value,
        ...(at === null || at >= count ? {} : { before: { at } }),
      },
    ],
  };
}

export function replaceStep(route: Route, at: number, step: Step, title: string): Mend {
  return {
    title,
    edits: [{ do: 'set', in: 'map', path: ['routes', { id: route.id }, 'steps', { at }], to: step as unknown as Json }],
  };
}

export function removeStep(route: Route, at: number, title: string): Mend {
  return { title, edits: [{ do: 'remove', in: 'map', path: ['routes', { id: route.id }, 'steps', { at }] }] };
}
