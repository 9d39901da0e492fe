import { useVirtualizer } from '@tanstack/react-virtual';
import { useEffect, useId, useRef, type KeyboardEvent, type ReactNode } from 'react';
import { useWorkbench } from '../state/store.ts';
import './row-list.css';

/** One line of a list: a heading over others, or an entry that can be current and marked. */
export interface ListRow {
  readonly key: string;
  readonly isHeading: boolean;
  /** In rem. */
  readonly height: number;
  readonly draw: () => ReactNode;
}

interface RowListProps {
  readonly label: string;
  readonly rows: readonly ListRow[];
  readonly current: string | null;
  readonly onCurrent: (key: string) => void;
  readonly marked: ReadonlySet<string>;
  readonly onMarked: (marked: ReadonlySet<string>) => void;
  /** Keys of the place itself; true: taken. */
  readonly onKey: (key: string, event: KeyboardEvent) => boolean;
}

const PIXELS_PER_REM = 16;

/**
 * A list of any length, drawn only where it is seen. One stop of the Tab key; inside, arrows or j/k move, Home and End jump,
 * Space marks, Shift with a move marks on the way, Escape takes the marks away.
 */
export function RowList({ label, rows, current, onCurrent, marked, onMarked, onKey }: RowListProps) {
  const id = useId();
  const scroller = useRef<HTMLDivElement>(null);
  const zoom = useWorkbench((state) => state.zoom);
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: (index) => rows[index]!.height * PIXELS_PER_REM * zoom,
    getItemKey: (index) => rows[index]!.key,
    overscan: 12,
  });
  useEffect(() => virtual.measure(), [virtual, zoom, rows]);
  // A place that was gone to by key has no focus yet: its list takes it.
  useEffect(() => {
    const active = document.activeElement;
    if (active === null || active === document.body || active.tagName === 'MAIN')
      scroller.current?.focus({ preventScroll: true });
  }, []);
  const at = rows.findIndex(({ key }) => key === current);
  useEffect(() => {
    if (at >= 0) virtual.scrollToIndex(at, { align: 'auto' });
  }, [virtual, at]);

  const entryFrom = (from: number, step: 1 | -1): number => {
    let index = from;
    while (index >= 0 && index < rows.length && rows[index]!.isHeading) index += step;
    return index >= 0 && index < rows.length ? index : -1;
  };
  const moveBy = (count: number, extends_: boolean): void => {
    const step = count > 0 ? 1 : -1;
    let index = at;
    for (let moved = 0; moved < Math.abs(count); moved += 1) {
      const next = entryFrom(index + step, step);
      if (next < 0) break;
      index = next;
    }
    goTo(index, extends_);
  };
  const goTo = (index: number, extends_: boolean): void => {
    const row = rows[index];
    if (!row) return;
    if (extends_) onMarked(new Set([...marked, ...(current === null ? [] : [current]), row.key]));
    onCurrent(row.key);
  };
  const toggle = (key: string): void => {
    const next = new Set(marked);
    if (!next.delete(key)) next.add(key);
    onMarked(next);
  };

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.target !== event.currentTarget || event.ctrlKey || event.metaKey || event.altKey) return;
    const page = Math.max(1, Math.floor((scroller.current?.clientHeight ?? 0) / (2.5 * PIXELS_PER_REM * zoom)));
    if (!move(event, page) && !onKey(event.key, event)) return;
    event.preventDefault();
  };
  const move = ({ key, shiftKey }: KeyboardEvent, page: number): boolean => {
    if (key === 'ArrowDown' || key === 'j' || key === 'J') moveBy(1, shiftKey);
    else if (key === 'ArrowUp' || key === 'k' || key === 'K') moveBy(-1, shiftKey);
    else if (key === 'PageDown') moveBy(page, shiftKey);
    else if (key === 'PageUp') moveBy(-page, shiftKey);
    else if (key === 'Home') goTo(entryFrom(0, 1), false);
    else if (key === 'End') goTo(entryFrom(rows.length - 1, -1), false);
    else if (key === ' ' && at >= 0) toggle(rows[at]!.key);
    else if (key === 'Escape' && marked.size > 0) onMarked(new Set());
    else return false;
    return true;
  };

  const shown = virtual.getVirtualItems();
  const isShown = shown.some(({ index }) => index === at);
  return (
    <div
      ref={scroller}
      className="row-list"
      role="grid"
      aria-label={label}
      aria-rowcount={rows.length}
      aria-multiselectable="true"
      aria-activedescendant={at >= 0 && isShown ? `${id}-${at}` : undefined}
      tabIndex={0}
      onKeyDown={onKeyDown}
    >
      <div className="row-list-inside" role="presentation" style={{ height: virtual.getTotalSize() }}>
        {shown.map(({ index, start, size, key }) => {
          const row = rows[index]!;
          const isMarked = marked.has(row.key);
          return (
            <div
              key={key}
              id={`${id}-${index}`}
              role="row"
              aria-rowindex={index + 1}
              aria-selected={row.isHeading ? undefined : isMarked}
              className={row.isHeading ? 'row-heading' : 'row-entry'}
              data-current={index === at || undefined}
              data-marked={isMarked || undefined}
              style={{ transform: `translateY(${start}px)`, height: size }}
              onClick={(event) => {
                if (row.isHeading) return;
                if (event.ctrlKey || event.metaKey) toggle(row.key);
                else if (event.shiftKey && at >= 0) onMarked(new Set([...marked, ...keysBetween(rows, at, index)]));
                if (!event.shiftKey) onCurrent(row.key);
              }}
            >
              <div role="gridcell" className="row-cell">
                {row.draw()}
              </div>
            </div>
          );
        })}
      </div>
    </div>
  );
}

function keysBetween(rows: readonly ListRow[], a: number, b: number): readonly string[] {
  return rows
    .slice(Math.min(a, b), Math.max(a, b) + 1)
    .filter(({ isHeading }) => !isHeading)
    .map(({ key }) => key);
}
