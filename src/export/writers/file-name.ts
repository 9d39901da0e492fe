const LONGEST = 60;

/** Part of a file name made of any text: lower-case letters, digits and hyphens, at most 60; `table` when none is left. */
export function fileNamePart(text: string): string {
  const part = text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST)
    .replace(/^-+|-+$/g, '');
  return part === '' ? 'table' : part;
}

/**
 * A name that is not taken yet, by adding -2, -3 … when it is; the taken name is noted. `taken` counts by name, so that
 * many equal names stay linear.
 */
export function freeName(name: string, taken: Map<string, number>): string {
  let count = taken.get(name) ?? 0;
  let free = name;
  while (taken.has(free)) {
    count += 1;
    free = `${name}-${count + 1}`;
  }
  taken.set(name, count);
  if (free !== name) taken.set(free, 0);
  return free;
}
