import type { Change } from './change.ts';
import { differingFields } from './differences.ts';
import { entriesByKey } from './identity.ts';

export type Entry = Readonly<Record<string, unknown>>;

/** One list of a document: what its entries are, how they are referred to, and by what one is known under another name. */
export interface ComparedList {
  /** Key of the list in its document. */
  readonly list: string;
  /** What an entry is: route, wire, feed … */
  readonly what: string;
  readonly subjectOf: (entry: Entry) => string;
  /** What stays the same when an entry is renamed; null when it has nothing of the kind. */
  readonly likeness?: (entry: Entry) => unknown;
}

/** Entries added, removed, changed and renamed between two versions of a list; order does not count. */
export function listChanges(of: ComparedList, from: readonly Entry[], to: readonly Entry[]): Change[] {
  const before = (entriesByKey(of.list, from) ?? byPosition(from)) as ReadonlyMap<string, Entry>;
  const after = (entriesByKey(of.list, to) ?? byPosition(to)) as ReadonlyMap<string, Entry>;
  const renamed = renames(
    of,
    [...before].flatMap(([key, entry]) => (after.has(key) ? [] : [entry])),
    [...after].flatMap(([key, entry]) => (before.has(key) ? [] : [entry])),
  );
  const gone = new Set(renamed.values());
  const { what, subjectOf } = of;
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): Change[] => {
    const [old, now] = [before.get(key), after.get(key)];
    if (now === undefined)
      return gone.has(old!)
        ? []
        : [{ kind: 'removed', what, subject: subjectOf(old!), was: null, fields: [], consequences: [], from: old }];
    const was = old ?? renamed.get(now);
    if (was === undefined)
      return [{ kind: 'added', what, subject: subjectOf(now), was: null, fields: [], consequences: [], to: now }];
    if (old === undefined) {
      const { id: _was, ...rest } = was;
      const { id: _is, ...own } = now;
      const fields = differingFields(rest, own);
      return [
        {
          kind: 'renamed',
          what,
          subject: subjectOf(now),
          was: subjectOf(was),
          fields,
          consequences: [],
          from: was,
          to: now,
        },
      ];
    }
    const fields = differingFields(old, now);
    return fields.length === 0
      ? []
      : [{ kind: 'changed', what, subject: subjectOf(now), was: null, fields, consequences: [], from: old, to: now }];
  });
}

/** New entries by the gone one that they are under another name: alike, and one only on both sides. */
function renames({ likeness }: ComparedList, gone: readonly Entry[], come: readonly Entry[]): Map<Entry, Entry> {
  const pairs = new Map<Entry, Entry>();
  if (!likeness || gone.length === 0 || come.length === 0) return pairs;
  const byLikeness = (list: readonly Entry[]): Map<string, Entry[]> => {
    const found = new Map<string, Entry[]>();
    for (const entry of list) {
      const alike = likeness(entry);
      if (alike === null || alike === undefined) continue;
      const key = JSON.stringify(alike);
      found.set(key, [...(found.get(key) ?? []), entry]);
    }
    return found;
  };
  const candidates = byLikeness(gone);
  for (const [key, entries] of byLikeness(come)) {
    const old = candidates.get(key);
    if (old?.length === 1 && entries.length === 1) pairs.set(entries[0]!, old[0]!);
  }
  return pairs;
}

function byPosition(list: readonly Entry[]): ReadonlyMap<string, Entry> {
  return new Map(list.map((entry, at) => [String(at), entry]));
}
