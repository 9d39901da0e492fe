import type { Change } from '../../../compare/index.ts';
import type { LoomGroup, LoomRow, Strand } from '../loom/layout.ts';

export type RowChange = 'same' | 'added' | 'removed' | 'changed' | 'renamed';

/** One line of two looms side by side: the same thing in both revisions, or in one of them. */
export interface AlignedRow {
  readonly id: string;
  readonly before: LoomRow | null;
  readonly after: LoomRow | null;
  readonly change: RowChange;
  /** What changed, in a word: `route`, `message`, `signal` …; '' where nothing did. */
  readonly what: string;
}

export interface AlignedGroup {
  readonly id: string;
  readonly title: string;
  readonly rows: readonly AlignedRow[];
}

/** Puts the strands and loose ends of two revisions on common lines, in the order of the later one. */
export function alignLooms(
  before: readonly LoomGroup[],
  after: readonly LoomGroup[],
  changes: readonly Change[],
): readonly AlignedGroup[] {
  const bySubject = new Map(changes.map((change) => [change.subject, change]));
  const renamed = new Map(
    changes.flatMap(({ kind, was, subject }) => (kind === 'renamed' && was !== null ? [[was, subject] as const] : [])),
  );
  const afterRows = after.flatMap(({ rows }) => rows);
  const known = new Set(afterRows.map(({ id }) => id));
  // A strand that is gone lies beside the loose end it left, and one that came beside the loose end it met.
  const looseAfter = new Set(afterRows.filter(({ kind }) => kind === 'loose').map(({ id }) => id));
  const strandTo = new Map<string, string>();
  for (const row of afterRows) if (row.kind === 'strand') strandTo.set(row.route.to, row.id);
  const partnerOf = (row: LoomRow): string | null => {
    if (known.has(row.id)) return row.id;
    const now = renamed.get(row.id);
    if (now !== undefined && known.has(now)) return now;
    if (row.kind === 'strand') return looseAfter.has(row.route.to) ? row.route.to : null;
    return strandTo.get(row.id) ?? null;
  };
  const partners = new Map<string, LoomRow>();
  const placed = new Set<LoomRow>();
  for (const row of before.flatMap(({ rows }) => rows)) {
    const partner = partnerOf(row);
    if (partner === null || partners.has(partner)) continue;
    partners.set(partner, row);
    placed.add(row);
  }
  const rowOf = (old: LoomRow | null, now: LoomRow | null): AlignedRow => ({
    id: (now ?? old)!.id,
    before: old,
    after: now,
    ...changeOf(old, now, bySubject),
  });
  const titles = new Map([...before, ...after].map(({ id, title }) => [id, title]));
  const order = mergedOrder(
    before.map(({ id }) => id),
    after.map(({ id }) => id),
  );
  return order.map((id) => {
    const old = before.find((group) => group.id === id)?.rows ?? [];
    const now = after.find((group) => group.id === id)?.rows ?? [];
    const rows = now.map((row) => rowOf(partners.get(row.id) ?? null, row));
    // What is gone stands after what it stood after.
    old.forEach((row, index) => {
      if (placed.has(row)) return;
      const anchor = old.slice(0, index).findLast((other) => rows.some(({ before: is }) => is === other));
      const at = anchor === undefined ? 0 : rows.findIndex(({ before: is }) => is === anchor) + 1;
      rows.splice(at, 0, rowOf(row, null));
    });
    return { id, title: titles.get(id)!, rows };
  });
}

/** The ids of both lists, each once; those of one list alone after what they stand after there. */
function mergedOrder(before: readonly string[], after: readonly string[]): readonly string[] {
  const order = [...after];
  before.forEach((id, index) => {
    if (order.includes(id)) return;
    const anchor = before.slice(0, index).findLast((other) => order.includes(other));
    order.splice(anchor === undefined ? 0 : order.indexOf(anchor) + 1, 0, id);
  });
  return order;
}

function changeOf(
  old: LoomRow | null,
  now: LoomRow | null,
  bySubject: ReadonlyMap<string, Change>,
): Pick<AlignedRow, 'change' | 'what'> {
  if (old?.kind !== now?.kind && (old?.kind === 'strand' || now?.kind === 'strand'))
    return old?.kind === 'strand' ? { change: 'removed', what: 'route' } : { change: 'added', what: 'route' };
  if (old === null) return { change: 'added', what: 'need' };
  if (now === null) return { change: 'removed', what: 'need' };
  const own = bySubject.get(now.id);
  if (own?.kind === 'changed' || own?.kind === 'renamed') return { change: own.kind, what: own.what };
  const touched = now.kind === 'strand' ? touchedBy(now, bySubject) : null;
  return touched === null ? { change: 'same', what: '' } : { change: 'changed', what: touched };
}

/** What a strand hangs on and has changed: the message sent, a signal or wire at an end, its message. */
function touchedBy({ route }: Strand, bySubject: ReadonlyMap<string, Change>): string | null {
  const messageOf = (ref: string): string => ref.split('.')[0]!;
  const sent = bySubject.get(`transmit:${messageOf(route.to)}`);
  if (sent) return 'message';
  for (const ref of [route.to, ...route.from]) {
    const change = bySubject.get(ref) ?? bySubject.get(messageOf(ref));
    if (change) return change.what;
  }
  return null;
}

/** The groups with what differs alone; groups left empty go. */
export function differingOnly(groups: readonly AlignedGroup[]): readonly AlignedGroup[] {
  return groups.flatMap((group) => {
    const rows = group.rows.filter(({ change }) => change !== 'same');
    return rows.length === 0 ? [] : [{ ...group, rows }];
  });
}

/** How often each kind of change occurs. */
export function countChanges(groups: readonly AlignedGroup[]): Readonly<Record<RowChange, number>> {
  const counts: Record<RowChange, number> = { same: 0, added: 0, removed: 0, changed: 0, renamed: 0 };
  for (const { rows } of groups) for (const { change } of rows) counts[change] += 1;
  return counts;
}
