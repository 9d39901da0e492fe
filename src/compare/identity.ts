/** By what an entry of a list is known, where it is not its `id`; the last key of the path names the list. */
const KEYS: Readonly<Record<string, readonly string[]>> = {
  transmits: ['message', 'by'],
  leftOut: ['signal', 'function'],
  waivers: ['rule', 'subject'],
  review: ['step', 'by'],
  signOffs: ['by', 'role', 'on'],
  classes: ['function'],
  segments: ['from', 'to'],
  terminations: ['at'],
  stubs: ['at'],
  imports: ['bus'],
};

type Entry = Readonly<Record<string, unknown>>;

function isEntry(value: unknown): value is Entry {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The key of an entry in the list named; null when it has none. */
export function keyOfEntry(listName: string, entry: unknown): string | null {
  if (!isEntry(entry)) return null;
  if (typeof entry['id'] === 'string') return `id ${entry['id']}`;
  const keys = KEYS[listName];
  if (!keys) return null;
  const values = keys.map((key) => entry[key]);
  return values.every((value) => value === undefined) ? null : JSON.stringify(values);
}

/** The entries of a list by their keys; null when an entry has no key or two have the same: then the list is one value. */
export function entriesByKey(listName: string, list: readonly unknown[]): ReadonlyMap<string, unknown> | null {
  const found = new Map<string, unknown>();
  for (const entry of list) {
    const key = keyOfEntry(listName, entry);
    if (key === null || found.has(key)) return null;
    found.set(key, entry);
  }
  return found;
}

/** Whether two values say the same; the order of keys does not count, that of lists does. */
export function saysTheSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (Array.isArray(a) && Array.isArray(b))
    return a.length === b.length && a.every((entry, at) => saysTheSame(entry, b[at]));
  if (!isEntry(a) || !isEntry(b)) return false;
  const keys = Object.keys(a).filter((key) => a[key] !== undefined);
  return (
    keys.length === Object.keys(b).filter((key) => b[key] !== undefined).length &&
    keys.every((key) => Object.hasOwn(b, key) && saysTheSame(a[key], b[key]))
  );
}
