import type { LoomGroup, LoomRow } from './layout.ts';

/** Heights in px at zoom 1. */
export const LINE_HEIGHT = 22;
const GROUP_HEIGHT = 32;
const GROUP_GAP = 10;

/** Below this zoom names no longer fit: the cloth is shown without them, and a group's title stands beside its rows. */
export const NAMES_FROM_ZOOM = 0.55;
const LEAST_LINE = 1.4;
const LEAST_RIBBON = 17;

/** One row as it lies on the cloth: where it begins and how tall it is. */
export type FlowRow =
  | {
      readonly kind: 'group';
      readonly id: string;
      readonly y: number;
      readonly height: number;
      readonly group: LoomGroup;
      readonly folded: boolean;
      /** Height of the group with its rows. */
      readonly block: number;
    }
  | {
      readonly kind: 'row';
      readonly id: string;
      readonly y: number;
      readonly height: number;
      readonly row: LoomRow;
      readonly group: LoomGroup;
      /** A tab stands beside the first row of a run of one module, at each edge. */
      readonly tabLeft: boolean;
      readonly tabRight: boolean;
    };

export interface Flow {
  readonly rows: readonly FlowRow[];
  readonly height: number;
  readonly lineHeight: number;
  readonly indexOf: ReadonlyMap<string, number>;
}

/** The module whose tab stands beside a row at an edge; '' when nothing hangs there. */
export function moduleAt(row: LoomRow, edge: 'left' | 'right'): string {
  if (row.kind === 'loose') return (row.end.side === 'host') === (edge === 'left') ? row.end.module : '';
  return row[edge][0]?.module ?? '';
}

/** Sets the groups one below the other; a folded group is its ribbon alone. Heights follow the zoom. */
export function flowOf(groups: readonly LoomGroup[], folded: ReadonlySet<string>, zoom = 1): Flow {
  const rows: FlowRow[] = [];
  const indexOf = new Map<string, number>();
  const lineHeight = Math.max(LEAST_LINE, LINE_HEIGHT * zoom);
  const heading = zoom < NAMES_FROM_ZOOM ? Math.max(2, 8 * zoom) : GROUP_HEIGHT * zoom;
  let y = 0;
  for (const group of groups) {
    const isFolded = folded.has(group.id);
    const height = isFolded ? Math.max(LEAST_RIBBON, GROUP_HEIGHT * zoom) : heading;
    const lines = isFolded ? 0 : group.rows.reduce((sum, row) => sum + row.lines, 0);
    const id = `group:${group.id}`;
    indexOf.set(id, rows.length);
    rows.push({ kind: 'group', id, y, height, group, folded: isFolded, block: height + lines * lineHeight });
    y += height;
    if (!isFolded) y = addRows(rows, indexOf, group, y, lineHeight);
    y += GROUP_GAP * zoom;
  }
  return { rows, height: y, lineHeight, indexOf };
}

function addRows(
  rows: FlowRow[],
  indexOf: Map<string, number>,
  group: LoomGroup,
  from: number,
  lineHeight: number,
): number {
  let y = from;
  let before: LoomRow | null = null;
  for (const row of group.rows) {
    const isNew = (edge: 'left' | 'right'): boolean => {
      const own = moduleAt(row, edge);
      return own !== '' && (before === null || moduleAt(before, edge) !== own);
    };
    const height = row.lines * lineHeight;
    indexOf.set(row.id, rows.length);
    rows.push({ kind: 'row', id: row.id, y, height, row, group, tabLeft: isNew('left'), tabRight: isNew('right') });
    y += height;
    before = row;
  }
  return y;
}

/** Index of the first row that touches a stretch of the cloth, and of the first after it (binary search). */
export function visibleRows<T extends { readonly y: number; readonly height: number }>(
  { rows }: { readonly rows: readonly T[] },
  top: number,
  bottom: number,
): readonly [number, number] {
  const firstFrom = (limit: (row: T) => boolean): number => {
    let low = 0;
    let high = rows.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (limit(rows[middle]!)) high = middle;
      else low = middle + 1;
    }
    return low;
  };
  return [firstFrom(({ y, height }) => y + height > top), firstFrom(({ y }) => y >= bottom)];
}

/** The zoom at which the whole cloth is as tall as the view; within the ends of the zoom. */
export function zoomToFit(
  groups: readonly LoomGroup[],
  folded: ReadonlySet<string>,
  viewHeight: number,
  [least, most]: readonly [number, number],
): number {
  let low = least;
  let high = most;
  for (let turn = 0; turn < 24; turn += 1) {
    const middle = (low + high) / 2;
    if (flowOf(groups, folded, middle).height > viewHeight) high = middle;
    else low = middle;
  }
  return low;
}
