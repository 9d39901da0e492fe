import type { Carrier } from '../../../model/index.ts';
import type { LoomGroup, LoomRow, Strand } from './layout.ts';

export interface LoomFilter {
  readonly query: string;
  readonly carrier: Carrier | 'loose' | 'all';
  readonly onlyFindings: boolean;
  /** Option combinations to look at, as a mask; null: all. */
  readonly build: bigint | null;
}

export const NO_FILTER: LoomFilter = { query: '', carrier: 'all', onlyFindings: false, build: null };

/** The text a row is found by. */
function textOf(row: LoomRow): string {
  if (row.kind === 'loose') return `${row.end.ref} ${row.end.label} ${row.end.module}`.toLowerCase();
  const ends = [...row.left, ...row.right].map(({ ref, label, module }) => `${ref} ${label} ${module}`).join(' ');
  return `${row.route.id} ${row.title} ${row.route.function ?? ''} ${ends}`.toLowerCase();
}

/** Whether the search words all stand in a row; an empty search finds every row. */
export function isFound(row: LoomRow, query: string): boolean {
  const words = query.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return true;
  const text = textOf(row);
  return words.every((word) => text.includes(word));
}

/** Groups with the rows that pass the filters other than the search, which only dims. Groups left empty go. */
export function filterGroups(
  groups: readonly LoomGroup[],
  filter: LoomFilter,
  maskOf: (strand: Strand) => bigint,
): readonly LoomGroup[] {
  if (filter.carrier === 'all' && !filter.onlyFindings && filter.build === null) return groups;
  return groups.flatMap((group) => {
    const rows = group.rows.filter((row) => {
      if (row.kind === 'loose') return (filter.carrier === 'all' || filter.carrier === 'loose') && !filter.onlyFindings;
      if (filter.carrier !== 'all' && row.carrier !== filter.carrier) return false;
      if (filter.onlyFindings && row.worst === null) return false;
      return filter.build === null || (maskOf(row) & filter.build) !== 0n;
    });
    return rows.length === 0 ? [] : [{ ...group, rows }];
  });
}
