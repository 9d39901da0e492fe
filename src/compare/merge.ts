import { entriesByKey, saysTheSame } from './identity.ts';

/** A place where both sides changed the same thing differently; the merge kept ours. */
export interface Conflict {
  /** `routes[engine-speed].staleAfterMs`. */
  readonly path: string;
  readonly base: unknown;
  readonly ours: unknown;
  readonly theirs: unknown;
}

export interface Merged<T> {
  readonly merged: T;
  readonly conflicts: readonly Conflict[];
}

/**
 * Merges two changed versions of a document by meaning: entries of lists are known by id, layout and order do not count.
 * What only one side changed is taken over; what both changed alike is taken once; what both changed differently stays as
 * ours and is named. An entry one side removed and the other changed stays, and is named.
 */
export function mergeDocuments<T>(base: T, ours: T, theirs: T): Merged<T> {
  const conflicts: Conflict[] = [];
  const merged = mergeValue(base, ours, theirs, { path: '', listName: '', conflicts }) as T;
  return { merged, conflicts };
}

interface Where {
  readonly path: string;
  readonly listName: string;
  readonly conflicts: Conflict[];
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function mergeValue(base: unknown, ours: unknown, theirs: unknown, where: Where): unknown {
  if (saysTheSame(ours, theirs)) return ours;
  if (saysTheSame(base, ours)) return theirs;
  if (saysTheSame(base, theirs)) return ours;
  if (isObject(ours) && isObject(theirs)) return mergeObject(isObject(base) ? base : {}, ours, theirs, where);
  if (Array.isArray(ours) && Array.isArray(theirs)) {
    const lists = mergeLists(Array.isArray(base) ? base : [], ours, theirs, where);
    if (lists) return lists;
  }
  where.conflicts.push({ path: where.path, base, ours, theirs });
  return ours;
}

function mergeObject(
  base: Readonly<Record<string, unknown>>,
  ours: Readonly<Record<string, unknown>>,
  theirs: Readonly<Record<string, unknown>>,
  where: Where,
): unknown {
  const merged: Record<string, unknown> = {};
  for (const key of new Set([...Object.keys(ours), ...Object.keys(theirs)])) {
    const path = where.path === '' ? key : `${where.path}.${key}`;
    const value = mergeValue(base[key], ours[key], theirs[key], { ...where, path, listName: key });
    if (value !== undefined) merged[key] = value;
  }
  return merged;
}

/** Lists of entries with keys, merged entry by entry; null when one of them has entries without. */
function mergeLists(
  base: readonly unknown[],
  ours: readonly unknown[],
  theirs: readonly unknown[],
  where: Where,
): unknown[] | null {
  const [before, mine, yours] = [base, ours, theirs].map((list) => entriesByKey(where.listName, list));
  if (!before || !mine || !yours) return null;
  const kept = new Map<string, unknown>();
  for (const key of new Set([...mine.keys(), ...yours.keys()])) {
    const path = `${where.path}[${key.replace(/^id /, '')}]`;
    const value = mergeEntry(before.get(key), mine.get(key), yours.get(key), { ...where, path });
    if (value !== undefined) kept.set(key, value);
  }
  return inOrder([...before.keys()], [...mine.keys()], [...yours.keys()], kept);
}

function mergeEntry(base: unknown, ours: unknown, theirs: unknown, where: Where): unknown {
  if (ours === undefined || theirs === undefined) {
    const left = ours ?? theirs;
    if (base === undefined) return left;
    if (saysTheSame(base, left)) return undefined;
    where.conflicts.push({ path: where.path, base, ours, theirs });
    return left;
  }
  return mergeValue(base, ours, theirs, where);
}

/** Our order; what only they added stands after the entry it followed with them. Their order when only they moved entries. */
function inOrder(
  base: readonly string[],
  ours: readonly string[],
  theirs: readonly string[],
  kept: ReadonlyMap<string, unknown>,
): unknown[] {
  const common = (keys: readonly string[], other: readonly string[]): string =>
    keys.filter((key) => base.includes(key) && other.includes(key)).join('\n');
  const weMoved = common(ours, base) !== common(base, ours);
  const [lead, follow] = weMoved ? [ours, theirs] : [theirs, ours];
  const order = [...lead];
  const placed = new Set(lead);
  follow.forEach((key, at) => {
    if (placed.has(key)) return;
    const before = follow.slice(0, at).findLast((earlier) => placed.has(earlier));
    order.splice(before === undefined ? 0 : order.indexOf(before) + 1, 0, key);
    placed.add(key);
  });
  return order.filter((key) => kept.has(key)).map((key) => kept.get(key));
}
