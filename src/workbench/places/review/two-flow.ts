import { moduleAt, type Flow, type FlowRow } from '../loom/flow.ts';
import type { LoomGroup, LoomRow } from '../loom/layout.ts';
import type { AlignedGroup, AlignedRow } from './align.ts';

/** Heights in px. */
export const TWO_LINE = 22;
const HEADING = 30;
const GAP = 6;

/** One line of the two looms: a heading over both, or a row with the same place in each. */
export type TwoRow =
  | {
      readonly kind: 'heading';
      readonly id: string;
      readonly y: number;
      readonly height: number;
      readonly group: AlignedGroup;
    }
  | {
      readonly kind: 'row';
      readonly id: string;
      readonly y: number;
      readonly height: number;
      readonly row: AlignedRow;
    };

export interface TwoFlow {
  readonly rows: readonly TwoRow[];
  readonly height: number;
  readonly before: Flow;
  readonly after: Flow;
}

/** Sets aligned groups one below the other; each half gets its own rows at the common places. */
export function flowOfTwo(groups: readonly AlignedGroup[]): TwoFlow {
  const rows: TwoRow[] = [];
  const halves = { before: [] as FlowRow[], after: [] as FlowRow[] };
  let y = 0;
  for (const group of groups) {
    rows.push({ kind: 'heading', id: `group:${group.id}`, y, height: HEADING, group });
    y += HEADING;
    const last: Record<'before' | 'after', LoomRow | null> = { before: null, after: null };
    for (const row of group.rows) {
      const height = Math.max(row.before?.lines ?? 1, row.after?.lines ?? 1) * TWO_LINE;
      rows.push({ kind: 'row', id: row.id, y, height, row });
      for (const half of ['before', 'after'] as const) {
        const own = row[half];
        if (own) halves[half].push(flowRow(group, own, last[half], y));
        last[half] = own;
      }
      y += height;
    }
    y += GAP;
  }
  return { rows, height: y, before: flow(halves.before, y), after: flow(halves.after, y) };
}

function flowRow(group: AlignedGroup, row: LoomRow, before: LoomRow | null, y: number): FlowRow {
  const isNew = (edge: 'left' | 'right'): boolean => {
    const own = moduleAt(row, edge);
    return own !== '' && (before === null || moduleAt(before, edge) !== own);
  };
  return {
    kind: 'row',
    id: row.id,
    y,
    height: row.lines * TWO_LINE,
    row,
    group: plainGroup(group),
    tabLeft: isNew('left'),
    tabRight: isNew('right'),
  };
}

/** A group as the loom knows it, without counts: the heading is drawn over both halves. */
function plainGroup({ id, title }: AlignedGroup): LoomGroup {
  return {
    id,
    title,
    rows: [],
    byCarrier: { 'hard-wire': 0, interface: 0, bus: 0 },
    loose: 0,
    worst: null,
    findings: 0,
  };
}

function flow(rows: readonly FlowRow[], height: number): Flow {
  return { rows, height, lineHeight: TWO_LINE, indexOf: new Map(rows.map(({ id }, at) => [id, at])) };
}
