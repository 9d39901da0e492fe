import { entriesByKey, saysTheSame } from './identity.ts';

/** One field that differs, by its path inside the thing: `steps`, `onLoss.value`. */
export interface FieldDifference {
  readonly path: string;
  readonly from: unknown;
  readonly to: unknown;
}

const MAX_DEPTH = 3;

/** The fields in which two values differ, named as deep as helps: lists of entries with ids by their entries. */
export function differingFields(from: unknown, to: unknown, path = '', depth = 0): readonly FieldDifference[] {
  if (saysTheSame(from, to)) return [];
  if (depth < MAX_DEPTH && isObject(from) && isObject(to)) {
    return [...new Set([...Object.keys(from), ...Object.keys(to)])].flatMap((key) =>
      differingFields(from[key], to[key], path === '' ? key : `${path}.${key}`, depth + 1),
    );
  }
  if (depth < MAX_DEPTH && Array.isArray(from) && Array.isArray(to)) {
    const listName = path.split('.').at(-1) ?? '';
    const [before, after] = [entriesByKey(listName, from), entriesByKey(listName, to)];
    if (before && after && (before.size > 0 || after.size > 0)) {
      const inside = [...new Set([...before.keys(), ...after.keys()])].flatMap((key) =>
        differingFields(before.get(key), after.get(key), `${path}[${key.replace(/^id /, '')}]`, depth + 1),
      );
      return inside.length > 0 ? inside : [{ path, from, to }];
    }
  }
  return [{ path, from, to }];
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
