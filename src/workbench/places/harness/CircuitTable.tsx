import { useVirtualizer } from '@tanstack/react-virtual';
import { useEffect, useRef, type KeyboardEvent } from 'react';
import type { Finding } from '../../../checks/index.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';
import { useWorkbench } from '../../state/store.ts';
import { Badge, NO_BADGES } from './Badge.tsx';
import { CIRCUIT_COLUMNS, type CircuitColumn, type CircuitSort } from './circuit-columns.ts';
import { Swatch } from './Swatch.tsx';

const ROW_REM = 1.75;
const FOUND_REM = 3.6;
const PIXELS_PER_REM = 16;

interface CircuitTableProps {
  readonly rows: readonly ShownConductor[];
  readonly total: number;
  readonly current: string | null;
  readonly concerned: ReadonlySet<string>;
  readonly findings: ReadonlyMap<string, readonly Finding[]>;
  readonly sort: CircuitSort;
  readonly hasBuilds: boolean;
  readonly onSort: (column: string) => void;
  readonly onCurrent: (key: string) => void;
  readonly onEnter: () => void;
  readonly onSearch: () => void;
}

/** The circuits, drawn only where they are seen; the current one follows the selection of the window. */
export function CircuitTable(props: CircuitTableProps) {
  const { rows, current, concerned, findings, sort, hasBuilds } = props;
  const scroller = useRef<HTMLDivElement>(null);
  const zoom = useWorkbench((state) => state.zoom);
  const rowPx = ROW_REM * PIXELS_PER_REM * zoom;
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => rowPx,
    // The head stands before the rows, and stays over them.
    scrollMargin: rowPx,
    scrollPaddingStart: rowPx,
    overscan: 8,
  });
  useEffect(() => virtual.measure(), [virtual, rowPx]);
  const at = rows.findIndex(({ facts }) => facts.key === current);
  useEffect(() => {
    if (at >= 0) virtual.scrollToIndex(at, { align: 'auto' });
  }, [virtual, at]);

  const goTo = (index: number): void => {
    const row = rows[Math.min(Math.max(index, 0), rows.length - 1)];
    if (row) props.onCurrent(row.facts.key);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.target !== event.currentTarget || event.ctrlKey || event.metaKey || event.altKey) return;
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? 0) / rowPx) - 2);
    const moves: Readonly<Record<string, number>> = {
      ArrowDown: at + 1,
      j: at + 1,
      ArrowUp: at - 1,
      k: at - 1,
      PageDown: at + page,
      PageUp: at - page,
      Home: 0,
      End: rows.length - 1,
    };
    const to = moves[event.key];
    if (to !== undefined) goTo(to);
    else if (event.key === 'Enter' && at >= 0) props.onEnter();
    else if (event.key === '/') props.onSearch();
    else return;
    event.preventDefault();
  };

  const columns = hasBuilds ? CIRCUIT_COLUMNS : CIRCUIT_COLUMNS.filter(({ id }) => id !== 'builds');
  const template = `${FOUND_REM}rem ${columns.map(({ width, grows }) => `minmax(${width}rem, ${grows === 0 ? `${width}rem` : `${grows}fr`})`).join(' ')}`;
  const narrowest = columns.reduce((sum, { width }) => sum + width, FOUND_REM);
  return (
    <div
      ref={scroller}
      className="circuit-table"
      role="grid"
      aria-label="Circuits"
      aria-rowcount={rows.length + 1}
      aria-colcount={columns.length + 1}
      aria-activedescendant={at >= 0 ? `circuit-row-${at}` : undefined}
      tabIndex={0}
      style={{ ['--table-width' as string]: `${narrowest}rem` }}
      onKeyDown={onKeyDown}
    >
      <div className="circuit-head" role="row" aria-rowindex={1} style={{ gridTemplateColumns: template }}>
        {[{ id: 'findings', title: 'Found', isNumber: false }, ...columns].map((column) => (
          <Title key={column.id} column={column} sort={sort} onSort={props.onSort} />
        ))}
      </div>
      <div role="rowgroup" style={{ height: virtual.getTotalSize(), position: 'relative' }}>
        {virtual.getVirtualItems().map(({ index, start }) => {
          const shown = rows[index]!;
          const { key } = shown.facts;
          return (
            <div
              key={key}
              id={`circuit-row-${index}`}
              role="row"
              aria-rowindex={index + 2}
              aria-selected={key === current}
              className="circuit-row"
              data-circuit={shown.conductor.circuit.id}
              data-concerned={concerned.has(key) || undefined}
              style={{ gridTemplateColumns: template, transform: `translateY(${start - rowPx}px)`, height: rowPx }}
              onClick={() => props.onCurrent(key)}
            >
              <span role="gridcell">
                <Badge findings={findings.get(key) ?? NO_BADGES} isReachable={false} />
              </span>
              {columns.map((column) => (
                <Cell key={column.id} column={column} shown={shown} />
              ))}
            </div>
          );
        })}
      </div>
      {rows.length === 0 ? (
        <p className="circuit-none">
          {props.total === 0
            ? 'This build has no circuit: choose another, or all.'
            : `None of the ${props.total} circuits has these words. Take words away, or the filter by findings.`}
        </p>
      ) : null}
    </div>
  );
}

function Title({
  column: { id, title, isNumber },
  sort,
  onSort,
}: {
  readonly column: Pick<CircuitColumn, 'id' | 'title' | 'isNumber'>;
  readonly sort: CircuitSort;
  readonly onSort: (column: string) => void;
}) {
  const isSorted = sort.column === id;
  return (
    <span role="columnheader" aria-sort={isSorted ? (sort.down ? 'descending' : 'ascending') : 'none'}>
      <button type="button" tabIndex={-1} className={isNumber ? 'number' : undefined} onClick={() => onSort(id)}>
        {title}
        {isSorted ? (sort.down ? ' ↓' : ' ↑') : ''}
      </button>
    </span>
  );
}

function Cell({ column, shown }: { readonly column: CircuitColumn; readonly shown: ShownConductor }) {
  const text = column.text(shown);
  const isOver = column.id === 'drop' && shown.conductor.sizeFaults.includes('drop');
  return (
    <span
      role="gridcell"
      className={column.isNumber ? 'number' : undefined}
      data-column={column.id}
      data-over={isOver || undefined}
      title={text}
    >
      {column.id === 'colour' ? <Swatch colour={text} /> : text}
    </span>
  );
}
