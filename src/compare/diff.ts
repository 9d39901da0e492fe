import type { DocumentName, Edit, EditPath, Json, PathStep } from '../model/index.ts';
import { entriesByKey, saysTheSame } from './identity.ts';

/**
 * The edits which turn one revision of a document into another: `applyEdits(before, diffDocuments(name, before, after))` reads
 * as `after`, the order of its lists included. Entries of lists are known by id or key, so that an entry which only moved is
 * not told as a change of all its neighbours; a list whose entries have no keys is one value. The reverse is the same with the
 * two revisions changed over.
 */
export function diffDocuments<T extends object>(name: DocumentName, before: T, after: T): readonly Edit[] {
  const edits: Edit[] = [];
  diffObject(before as Entry, after as Entry, [], { name, edits });
  return edits;
}

type Entry = Readonly<Record<string, unknown>>;

interface Target {
  readonly name: DocumentName;
  readonly edits: Edit[];
}

function isEntry(value: unknown): value is Entry {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function diffObject(before: Entry, after: Entry, path: EditPath, to: Target): void {
  for (const key of Object.keys(before))
    if (before[key] !== undefined && after[key] === undefined)
      to.edits.push({ do: 'remove', in: to.name, path: [...path, key] });
  for (const key of Object.keys(after)) {
    if (after[key] === undefined) continue;
    const at = [...path, key];
    if (before[key] === undefined) to.edits.push({ do: 'set', in: to.name, path: at, to: after[key] as Json });
    else diffValue(before[key], after[key], at, key, to);
  }
}

function diffValue(before: unknown, after: unknown, path: EditPath, listName: string, to: Target): void {
  if (before === after) return;
  if (isEntry(before) && isEntry(after)) {
    diffObject(before, after, path, to);
    return;
  }
  if (Array.isArray(before) && Array.isArray(after) && diffList(before, after, path, listName, to)) return;
  if (!saysTheSame(before, after)) to.edits.push({ do: 'set', in: to.name, path, to: after as Json });
}

/** A list of entries with keys, entry by entry; false when it has to be taken as one value. */
function diffList(
  before: readonly unknown[],
  after: readonly unknown[],
  path: EditPath,
  listName: string,
  to: Target,
): boolean {
  const [old, now] = [entriesByKey(listName, before), entriesByKey(listName, after)];
  if (!old || !now) return false;
  const [was, is] = [[...old.keys()], [...now.keys()]];
  const stays = keepingTheirOrder(was, is);
  // What goes, and what moves, is taken out from the end, so that positions before it hold.
  for (let at = was.length - 1; at >= 0; at -= 1)
    if (!stays.has(was[at]!)) to.edits.push({ do: 'remove', in: to.name, path: [...path, stepOf(before[at], at)] });
  is.forEach((key, at) => {
    if (stays.has(key)) return;
    // Everything before this place stands as it will; what follows it first among those that stayed is its neighbour.
    const next = is.slice(at + 1).find((later) => stays.has(later));
    const edit = { do: 'insert', in: to.name, path, value: now.get(key) as Json } as const;
    to.edits.push(next === undefined ? edit : { ...edit, before: { at } });
  });
  is.forEach((key, at) => {
    if (stays.has(key)) diffValue(old.get(key), now.get(key), [...path, stepOf(after[at], at)], '', to);
  });
  return true;
}

function stepOf(entry: unknown, at: number): PathStep {
  const id = isEntry(entry) ? entry['id'] : undefined;
  return typeof id === 'string' ? { id } : { at };
}

/** The most keys common to both lists that stand in the same order in each: the longest increasing run of positions. */
function keepingTheirOrder(before: readonly string[], after: readonly string[]): ReadonlySet<string> {
  const position = new Map(before.map((key, at) => [key, at]));
  const common = after.filter((key) => position.has(key));
  const places = common.map((key) => position.get(key)!);
  const ends: number[] = [];
  const previous = new Array<number>(places.length).fill(-1);
  places.forEach((place, at) => {
    let [low, high] = [0, ends.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (places[ends[middle]!]! < place) low = middle + 1;
      else high = middle;
    }
    if (low > 0) previous[at] = ends[low - 1]!;
    ends[low] = at;
  });
  const kept = new Set<string>();
  for (let at = ends.at(-1) ?? -1; at >= 0; at = previous[at]!) kept.add(common[at]!);
  return kept;
}
