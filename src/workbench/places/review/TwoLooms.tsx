import { useEffect, useId, useLayoutEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react';
import type { Pairing } from '../../../model/index.ts';
import { moduleAt, visibleRows, type FlowRow } from '../loom/flow.ts';
import { busesOfStrands, columnsOf, type Columns } from '../loom/geometry.ts';
import { LooseRow } from '../loom/LooseRow.tsx';
import { counted } from '../loom/names.ts';
import { StrandRow, type RowLook } from '../loom/StrandRow.tsx';
import { Underlay } from '../loom/Underlay.tsx';
import { countChanges, type AlignedGroup, type RowChange } from './align.ts';
import { ChangeMark } from './marks.tsx';
import { TWO_LINE, flowOfTwo, type TwoFlow, type TwoRow } from './two-flow.ts';

/** Width between the halves, where it says what happened, in px. */
const GUTTER = 150;
const LEAST_HALF = 470;
/** Wide halves have room for more of the modules' names. */
const WIDE_HALF = 760;
const MARGIN = 300;

interface TwoLoomsProps {
  readonly groups: readonly AlignedGroup[];
  readonly before: Pairing;
  readonly after: Pairing;
  /** The row that is current; null: none. */
  readonly current: string | null;
  readonly onCurrent: (id: string) => void;
}

/** The earlier revision at the left, this one at the right, the same thing on the same line, and between them what happened. */
export function TwoLooms({ groups, before, after, current, onCurrent }: TwoLoomsProps) {
  const treeId = useId();
  const scroller = useRef<HTMLDivElement>(null);
  const [view, setView] = useState({ width: 1200, height: 400, top: 0 });
  const flow = useMemo(() => flowOfTwo(groups), [groups]);
  const half = Math.max(LEAST_HALF, Math.floor((view.width - GUTTER) / 2));
  const beforeColumns = useHalfColumns(groups, 'before', before, half);
  const afterColumns = useHalfColumns(groups, 'after', after, half);

  useLayoutEffect(() => {
    const element = scroller.current!;
    const measure = (): void =>
      setView((old) => ({ ...old, width: element.clientWidth, height: element.clientHeight }));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  useEffect(() => {
    const row = flow.rows.find(({ id }) => id === current);
    const element = scroller.current;
    if (!row || !element) return;
    const room = element.clientHeight - EDGE - row.height;
    if (row.y < element.scrollTop) element.scrollTop = Math.max(0, row.y - 40);
    else if (row.y > element.scrollTop + room) element.scrollTop = row.y - room + 40;
  }, [current, flow]);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const step =
      event.key === 'ArrowDown' || event.key === 'j' ? 1 : event.key === 'ArrowUp' || event.key === 'k' ? -1 : 0;
    if (step === 0) return;
    const rows = flow.rows.filter(({ kind }) => kind === 'row');
    const at = rows.findIndex(({ id }) => id === current);
    const next = rows[Math.min(rows.length - 1, Math.max(0, at + step))];
    if (next) onCurrent(next.id);
    event.preventDefault();
  };
  const [first, end] = visibleRows(flow, view.top - MARGIN, view.top + view.height + MARGIN);
  const shown = flow.rows.slice(first, end);
  const isShown = shown.some(({ id }) => id === current);
  const width = half * 2 + GUTTER;
  return (
    <div
      className="two-looms cloth"
      data-named
      ref={scroller}
      onScroll={(event) => {
        const top = Math.floor(event.currentTarget.scrollTop / 120) * 120;
        if (top !== view.top) setView((old) => ({ ...old, top }));
      }}
    >
      <div className="two-heads" style={{ width }}>
        <HalfHead title="Earlier revision" pairing={before} columns={beforeColumns} width={half} />
        <p className="two-gutter-head" style={{ width: GUTTER }}>
          what happened
        </p>
        <HalfHead title="This revision" pairing={after} columns={afterColumns} width={half} />
      </div>
      <div className="two-body" style={{ width, height: flow.height }}>
        <Half
          label={`Strands of the earlier revision ${before.map.revision}`}
          side="before"
          rows={shown}
          flow={flow}
          columns={beforeColumns}
          left={0}
          width={half}
          current={current}
          onCurrent={onCurrent}
          treeId={`${treeId}-before`}
        />
        <div className="two-gutter" style={{ left: half, width: GUTTER }} aria-hidden="true">
          {shown.map((row) =>
            row.kind === 'row' ? (
              <div
                key={row.id}
                className="gutter-row"
                data-current={row.id === current || undefined}
                style={{ transform: `translateY(${row.y}px)`, height: row.height, lineHeight: `${TWO_LINE}px` }}
                onClick={() => onCurrent(row.id)}
              >
                <ChangeMark change={row.row.change} what={row.row.what} />
              </div>
            ) : null,
          )}
        </div>
        <Half
          label={`Strands of this revision ${after.map.revision}`}
          side="after"
          rows={shown}
          flow={flow}
          columns={afterColumns}
          left={half + GUTTER}
          width={half}
          current={current}
          onCurrent={onCurrent}
          treeId={`${treeId}-after`}
          keyboard={{ onKeyDown, active: isShown && current !== null ? `${treeId}-after-${current}` : undefined }}
        />
        {shown.map((row) => (row.kind === 'heading' ? <Heading key={row.id} row={row} /> : null))}
      </div>
    </div>
  );
}

const EDGE = 60;

function useHalfColumns(
  groups: readonly AlignedGroup[],
  side: 'before' | 'after',
  pairing: Pairing,
  width: number,
): Columns {
  return useMemo(() => {
    const strands = groups.flatMap(({ rows }) =>
      rows.flatMap(({ [side]: row }) => (row?.kind === 'strand' ? [row] : [])),
    );
    const room = { leastWidth: LEAST_HALF, tab: width < WIDE_HALF ? 68 : 104, leastLabel: 112 };
    return columnsOf(width, 1, true, [...pairing.interfaceModules.keys()], busesOfStrands(strands), room);
  }, [groups, side, pairing, width]);
}

function HalfHead({
  title,
  pairing,
  columns,
  width,
}: {
  readonly title: string;
  readonly pairing: Pairing;
  readonly columns: Columns;
  readonly width: number;
}) {
  return (
    <div className="two-head" style={{ width }}>
      <p className="two-title">
        {title} <strong>{pairing.map.revision}</strong>
      </p>
      <div className="cloth-head">
        <p className="side-title" data-side="host">
          <span className="side-word">host</span>
        </p>
        {[...columns.bands].map(([id, [from, to]]) => (
          <p key={id} className="band-title" style={{ left: from, width: to - from }}>
            <strong>{id}</strong>
          </p>
        ))}
        <p className="side-title" data-side="donor">
          <span className="side-word">donor</span>
        </p>
      </div>
    </div>
  );
}

function Heading({ row }: { readonly row: TwoRow & { readonly kind: 'heading' } }) {
  const counts = countChanges([row.group]);
  return (
    <div className="two-heading" style={{ transform: `translateY(${row.y}px)`, height: row.height }}>
      <span className="group-title">{row.group.title}</span>
      <span className="two-counts">
        {(['added', 'removed', 'changed', 'renamed'] as const).map((change) =>
          counts[change] === 0 ? null : (
            <span key={change}>
              {counts[change]} {change}
            </span>
          ),
        )}
        {counts.same === 0 ? null : <span className="soft">{counted(counts.same, 'strand')} the same</span>}
      </span>
    </div>
  );
}

interface HalfProps {
  readonly label: string;
  readonly side: 'before' | 'after';
  readonly rows: readonly TwoRow[];
  readonly flow: TwoFlow;
  readonly columns: Columns;
  readonly left: number;
  readonly width: number;
  readonly current: string | null;
  readonly onCurrent: (id: string) => void;
  readonly treeId: string;
  readonly keyboard?: { readonly onKeyDown: (event: KeyboardEvent) => void; readonly active: string | undefined };
}

/** One revision's strands on the common lines; a line on which it has nothing says so. */
function Half({ label, side, rows, flow, columns, left, width, current, onCurrent, treeId, keyboard }: HalfProps) {
  const own = flow[side];
  const only = rows.flatMap((row) => (row.kind === 'row' ? [row] : []));
  return (
    <div
      className="two-half cloth-body"
      role="tree"
      aria-label={label}
      tabIndex={keyboard ? 0 : undefined}
      aria-activedescendant={keyboard?.active}
      onKeyDown={keyboard?.onKeyDown}
      style={{ left, width, height: flow.height, fontSize: 11.5 }}
    >
      <Underlay flow={own} columns={columns} />
      {only.map((row) => {
        const at = own.indexOf.get(row.row[side]?.id ?? '');
        const flowRow = at === undefined ? undefined : own.rows[at];
        const isCurrent = row.id === current;
        return (
          <div key={row.id} role="none" onClick={() => onCurrent(row.id)} data-half={row.row.change}>
            {flowRow?.kind === 'row' ? (
              <HalfRow
                flowRow={flowRow}
                change={row.row.change}
                what={row.row.what}
                side={side}
                columns={columns}
                isCurrent={isCurrent}
                domId={`${treeId}-${row.id}`}
                position={(at ?? 0) + 1}
                siblings={own.rows.length}
              />
            ) : (
              <div
                className="two-nothing"
                data-current={isCurrent || undefined}
                style={{ transform: `translateY(${row.y}px)`, height: row.height, lineHeight: `${TWO_LINE}px` }}
              >
                {side === 'before' ? 'was not there' : 'is not there any more'}
              </div>
            )}
          </div>
        );
      })}
    </div>
  );
}

function HalfRow({
  flowRow,
  change,
  what,
  side,
  columns,
  isCurrent,
  domId,
  position,
  siblings,
}: {
  readonly flowRow: FlowRow & { readonly kind: 'row' };
  readonly change: RowChange;
  readonly what: string;
  readonly side: 'before' | 'after';
  readonly columns: Columns;
  readonly isCurrent: boolean;
  readonly domId: string;
  readonly position: number;
  readonly siblings: number;
}) {
  const { row, y, height, tabLeft, tabRight } = flowRow;
  const look = useMemo<RowLook>(
    () => ({
      y,
      height,
      columns,
      lineHeight: TWO_LINE,
      named: true,
      isConcerned: isCurrent,
      isCursor: false,
      isDim: false,
      tabLeft: tabLeft ? moduleAt(row, 'left') : null,
      tabRight: tabRight ? moduleAt(row, 'right') : null,
      domId,
      position,
      siblings,
      change: change === 'same' ? null : { kind: `${side}-${change}`, words: `${what} ${change}`.trim() },
    }),
    [y, height, columns, isCurrent, tabLeft, tabRight, row, domId, position, siblings, change, what, side],
  );
  return row.kind === 'strand' ? <StrandRow strand={row} look={look} /> : <LooseRow loose={row} look={look} />;
}
