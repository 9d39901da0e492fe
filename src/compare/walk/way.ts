import type { PathElement, RoutePath } from '../../model/index.ts';

/** One element of the way of a route, however many of its paths it is part of. */
export interface WayElement extends PathElement {
  /** The sources whose paths go through it. */
  readonly sources: readonly string[];
  /** Cavities, for a connector; '' otherwise. */
  readonly place: string;
  /** Before (`in`) or after (`out`) what decides over the value: firmware where there is some, else one conductor all the way. */
  readonly part: 'in' | 'out';
}

/**
 * The elements of all paths of a route in the order of the way: first what is each source's own, then what they share, then the
 * readers. Each stands once; cavities of one connector that follow each other are one row.
 */
export function wayOf(paths: readonly RoutePath[]): readonly WayElement[] {
  const bySource = new Map<string, readonly PathElement[]>();
  const readers = new Map<string, PathElement>();
  for (const { source, reader, elements } of paths) {
    const carried = reader === null ? elements : elements.slice(0, -1);
    if (!bySource.has(source)) bySource.set(source, carried);
    if (reader !== null) readers.set(reader, elements.at(-1)!);
  }
  const ways = [...bySource.values()];
  const shared = sharedTail(ways);
  const rows: WayElement[] = [];
  const sources = [...bySource.keys()];
  const enter = (element: PathElement, of: readonly string[], part: WayElement['part']): void => {
    const cavity = element.kind === 'connector' ? element.why.replace(/^cavity /, '') : '';
    const last = rows.at(-1);
    if (last && cavity !== '' && last.kind === 'connector' && last.ref === element.ref && last.role === element.role) {
      const places = last.place.split(', ');
      const place = places.includes(cavity) ? last.place : [...places, cavity].join(', ');
      rows[rows.length - 1] = { ...last, place, why: `cavities ${place}`, sources: union(last.sources, of) };
      return;
    }
    const at = rows.findIndex((row) => sameElement(row, element, cavity) && row.part === part);
    if (at >= 0) rows[at] = { ...rows[at]!, sources: union(rows[at]!.sources, of) };
    else rows.push({ ...element, sources: of, place: cavity, part });
  };
  for (const [source, way] of bySource) {
    for (const element of way.slice(0, way.length - shared)) enter(element, [source], 'in');
  }
  let decided = false;
  for (const element of ways[0]?.slice(ways[0].length - shared) ?? []) {
    if (element.kind === 'interface') decided = true;
    enter(element, sources, decided ? 'out' : 'in');
  }
  const byRef = [...readers.values()].sort((a, b) => (a.ref < b.ref ? -1 : 1));
  for (const reader of byRef) enter(reader, sources, 'out');
  return rows;
}

function sharedTail(ways: readonly (readonly PathElement[])[]): number {
  const [first, ...others] = ways;
  if (!first) return 0;
  let length = 0;
  while (
    length < first.length &&
    others.every((way) => length < way.length && same(way[way.length - 1 - length]!, first[first.length - 1 - length]!))
  )
    length += 1;
  // One source alone shares everything with itself.
  return length;
}

function same(a: PathElement, b: PathElement): boolean {
  return a.kind === b.kind && a.ref === b.ref && a.role === b.role && a.why === b.why;
}

function sameElement(row: WayElement, element: PathElement, cavity: string): boolean {
  return row.kind === element.kind && row.ref === element.ref && row.role === element.role && row.place === cavity;
}

function union(a: readonly string[], b: readonly string[]): readonly string[] {
  return [...new Set([...a, ...b])];
}
