import { useVirtualizer } from '@tanstack/react-virtual';
import { useMemo, useRef, useState, type ClipboardEvent, type KeyboardEvent, type MouseEvent } from 'react';
import type { Severity } from '../../../checks/index.ts';
import type { Route } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { show, select } from '../../actions/navigate.ts';
import { notify } from '../../actions/notices.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { worstByRoute } from './worst.ts';
import { Cell } from './Cell.tsx';
import { pasteTable, readTable, writeTable } from './clipboard.ts';
import { ROUTE_COLUMNS, columnOf } from './columns.ts';
import { MultiEdit } from './MultiEdit.tsx';
import './routes.css';

const ROW_PX = 28;

interface Sort {
  readonly column: string;
  readonly down: boolean;
}

const RANK: Readonly<Record<Severity, number>> = { stop: 0, fix: 1, look: 2 };

/** The routes as a table: filter, sort, edit in place or many at once, paste from and copy to a spreadsheet. */
export default function Routes() {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const findings = useWorkbench((state) => state.checked?.findings);
  const selection = useWorkbench((state) => state.selection);
  const pairing = pairingOf(documents);
  const [query, setQuery] = useState('');
  const [sort, setSort] = useState<Sort>({ column: 'id', down: false });
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [active, setActive] = useState({ row: 0, column: 0 });
  const [editing, setEditing] = useState<{ readonly text: string } | null>(null);
  const scroller = useRef<HTMLDivElement>(null);
  const worst = useMemo(() => worstByRoute(pairing, findings ?? []), [pairing, findings]);

  const rows = useMemo(() => {
    const words = query.toLowerCase().split(/\s+/).filter(Boolean);
    const matching = documents.map.routes.filter((route) => {
      if (words.length === 0) return true;
      const text = ROUTE_COLUMNS.map((column) => column.text(route, pairing))
        .join(' ')
        .toLowerCase();
      return words.every((word) => text.includes(word));
    });
    const column = columnOf(sort.column);
    const key = (route: Route): string | number => {
      if (sort.column === 'findings')
        return RANK[worst.get(route.id)?.severity ?? 'look'] + (worst.has(route.id) ? 0 : 9);
      return column.number?.(route) ?? column.text(route, pairing).toLowerCase();
    };
    const keyed = matching.map((route) => [key(route), route] as const);
    keyed.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0) * (sort.down ? -1 : 1));
    return keyed.map(([, route]) => route);
  }, [documents.map.routes, pairing, query, sort, worst]);

  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => ROW_PX,
    overscan: 12,
  });
  const activeRow = Math.min(active.row, Math.max(rows.length - 1, 0));

  const moveTo = (row: number, column: number): void => {
    const next = {
      row: Math.min(Math.max(row, 0), rows.length - 1),
      column: Math.min(Math.max(column, 0), ROUTE_COLUMNS.length - 1),
    };
    setActive(next);
    setEditing(null);
    virtual.scrollToIndex(next.row);
    const route = rows[next.row];
    if (route) select(store, `route:${route.id}`);
    scroller.current?.focus();
  };

  const commit = (text: string, down: number): void => {
    const route = rows[activeRow];
    const column = ROUTE_COLUMNS[active.column]!;
    setEditing(null);
    if (route && column.set) {
      const result = column.set(route, text, pairing);
      if ('fault' in result) notify(store, 'bad', `${route.id}, ${column.title}: ${result.fault}`);
      else change(store, `change ${column.title.toLowerCase()} of ${route.id}`, result.edits);
    }
    moveTo(activeRow + down, active.column);
  };

  const onKeyDown = (event: KeyboardEvent): void => {
    if (editing || event.ctrlKey || event.metaKey || event.altKey) {
      if ((event.ctrlKey || event.metaKey) && event.key === 'a' && !editing) {
        setChosen(new Set(rows.map(({ id }) => id)));
        event.preventDefault();
      }
      return;
    }
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? 600) / ROW_PX) - 2);
    const moves: Readonly<Record<string, readonly [number, number]>> = {
      ArrowDown: [1, 0],
      ArrowUp: [-1, 0],
      ArrowRight: [0, 1],
      ArrowLeft: [0, -1],
      PageDown: [page, 0],
      PageUp: [-page, 0],
    };
    const move = moves[event.key];
    const route = rows[activeRow];
    const column = ROUTE_COLUMNS[active.column]!;
    if (move) {
      if (event.shiftKey && route)
        setChosen((before) => new Set([...before, route.id, rows[activeRow + move[0]]?.id ?? route.id]));
      moveTo(activeRow + move[0], active.column + move[1]);
    } else if (event.key === 'Home') moveTo(0, active.column);
    else if (event.key === 'End') moveTo(rows.length - 1, active.column);
    else if (event.key === ' ' && route) toggle(route.id);
    else if (event.key === 'Escape') setChosen(new Set());
    else if ((event.key === 'Enter' || event.key === 'F2') && route) {
      if (column.set) setEditing({ text: column.text(route, pairing) });
      else show(store, `route:${route.id}`, 'loom');
    } else if (event.key === 'Delete' && column.set) commit('', 0);
    else if (event.key.length === 1 && column.set && !column.choices) setEditing({ text: event.key });
    else return;
    event.preventDefault();
  };

  const toggle = (id: string): void => {
    setChosen((before) => {
      const next = new Set(before);
      if (!next.delete(id)) next.add(id);
      return next;
    });
  };

  const onRowClick = (event: MouseEvent, row: number, column: number): void => {
    const route = rows[row]!;
    if (event.shiftKey) {
      const [from, to] = [Math.min(activeRow, row), Math.max(activeRow, row)];
      setChosen(new Set(rows.slice(from, to + 1).map(({ id }) => id)));
    } else if (event.ctrlKey || event.metaKey) toggle(route.id);
    moveTo(row, column);
  };

  const onCopy = (event: ClipboardEvent): void => {
    if (editing) return;
    const copied = chosen.size > 0 ? rows.filter(({ id }) => chosen.has(id)) : rows.slice(activeRow, activeRow + 1);
    event.clipboardData.setData('text/plain', writeTable(copied, pairing));
    event.preventDefault();
    notify(store, 'plain', `${copied.length} ${copied.length === 1 ? 'route' : 'routes'} copied`);
  };

  const onPaste = (event: ClipboardEvent): void => {
    if (editing) return;
    const table = readTable(event.clipboardData.getData('text/plain'));
    event.preventDefault();
    if (table.length === 0) return;
    const pasted = pasteTable(table, pairing, rows, { row: activeRow, column: active.column });
    if (pasted.edits.length > 0) change(store, `paste ${pasted.changed + pasted.added} routes`, pasted.edits);
    const said = `Pasted: ${pasted.changed} changed, ${pasted.added} added${pasted.faults.length > 0 ? `, ${pasted.faults.length} cells left out` : ''}`;
    notify(store, pasted.faults.length > 0 ? 'bad' : 'good', said, pasted.faults);
  };

  const sortBy = (column: string): void =>
    setSort((before) => ({ column, down: before.column === column && !before.down }));
  const template = `2.2rem 4.5rem ${ROUTE_COLUMNS.map(({ width }) => `${width}rem`).join(' ')}`;

  return (
    <div className="routes">
      <div className="routes-bar" role="toolbar" aria-label="Routes">
        <input
          className="field"
          type="search"
          aria-label="Filter the routes"
          placeholder="Filter: words of any column"
          value={query}
          onChange={(event) => setQuery(event.target.value)}
        />
        <span className="soft">
          {rows.length} of {documents.map.routes.length} routes{chosen.size > 0 ? `, ${chosen.size} chosen` : ''}
        </span>
        <MultiEdit
          chosen={rows.filter(({ id }) => chosen.has(id))}
          pairing={pairing}
          onDone={() => setChosen(new Set())}
        />
        <span className="soft push">Enter edits · Space chooses · Ctrl+C and Ctrl+V with a spreadsheet</span>
      </div>
      <div
        ref={scroller}
        className="routes-grid"
        role="grid"
        aria-label="Routes"
        aria-rowcount={rows.length + 1}
        aria-colcount={ROUTE_COLUMNS.length + 2}
        aria-multiselectable="true"
        aria-activedescendant={rows[activeRow] ? `route-cell-${rows[activeRow].id}-${active.column}` : undefined}
        tabIndex={0}
        onKeyDown={onKeyDown}
        onCopy={onCopy}
        onPaste={onPaste}
      >
        <div className="routes-head" role="row" aria-rowindex={1} style={{ gridTemplateColumns: template }}>
          <span role="columnheader" className="routes-title">
            <span className="visually-hidden">Chosen</span>
          </span>
          {[{ id: 'findings', title: 'Findings', align: 'left' as const }, ...ROUTE_COLUMNS].map(
            ({ id, title, align }) => (
              <span
                key={id}
                role="columnheader"
                aria-sort={sort.column === id ? (sort.down ? 'descending' : 'ascending') : 'none'}
                className="routes-title"
              >
                <button type="button" tabIndex={-1} style={{ textAlign: align }} onClick={() => sortBy(id)}>
                  {title}
                  {sort.column === id ? (sort.down ? ' ↓' : ' ↑') : ''}
                </button>
              </span>
            ),
          )}
        </div>
        <div style={{ height: virtual.getTotalSize(), position: 'relative' }} role="rowgroup">
          {virtual.getVirtualItems().map(({ index, start }) => {
            const route = rows[index]!;
            const found = worst.get(route.id);
            return (
              <div
                key={route.id}
                role="row"
                aria-rowindex={index + 2}
                aria-selected={chosen.has(route.id)}
                className="routes-row"
                data-current={selection === `route:${route.id}`}
                style={{ gridTemplateColumns: template, transform: `translateY(${start}px)` }}
              >
                <span role="gridcell" className="routes-cell">
                  <input
                    type="checkbox"
                    tabIndex={-1}
                    aria-label={`Choose ${route.id}`}
                    checked={chosen.has(route.id)}
                    onChange={() => toggle(route.id)}
                  />
                </span>
                <span role="gridcell" className="routes-cell">
                  {found ? (
                    <span className="severity" data-severity={found.severity}>
                      {found.severity}
                      {found.count > 1 ? ` ${found.count}` : ''}
                    </span>
                  ) : null}
                </span>
                {ROUTE_COLUMNS.map((column, at) => (
                  <Cell
                    key={column.id}
                    id={`route-cell-${route.id}-${at}`}
                    column={column}
                    route={route}
                    pairing={pairing}
                    isActive={index === activeRow && at === active.column}
                    editing={index === activeRow && at === active.column ? editing : null}
                    onPick={(event) => onRowClick(event, index, at)}
                    onEdit={() => {
                      moveTo(index, at);
                      if (column.set) setEditing({ text: column.text(route, pairing) });
                      else show(store, `route:${route.id}`, 'loom');
                    }}
                    onCommit={commit}
                    onCancel={() => moveTo(activeRow, active.column)}
                  />
                ))}
              </div>
            );
          })}
        </div>
        {rows.length === 0 ? (
          <p className="empty">
            {documents.map.routes.length === 0
              ? 'No routes yet: accept proposals in the Worklist, or paste rows with the columns Route, From and To.'
              : 'No route has these words.'}
          </p>
        ) : null}
      </div>
    </div>
  );
}
