import {
  useEffect,
  useId,
  useImperativeHandle,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  type KeyboardEvent,
  type MouseEvent,
  type Ref,
} from 'react';
import type { Pairing } from '../../../model/index.ts';
import { ClothFoot, ClothHead } from './ClothEdges.tsx';
import { NAMES_FROM_ZOOM, moduleAt, visibleRows, type Flow, type FlowRow } from './flow.ts';
import { columnsOf } from './geometry.ts';
import { GroupRow } from './GroupRow.tsx';
import { actionOfKey, type KeyAction } from './keys.ts';
import { LooseRow } from './LooseRow.tsx';
import type { ReviewDoubt } from './review-note.tsx';
import { moduleTitle } from './names.ts';
import { StrandRow, type RowLook } from './StrandRow.tsx';
import { Underlay } from './Underlay.tsx';
import { useDragToPan } from './use-drag-to-pan.ts';

export interface ClothHandle {
  reveal(id: string): void;
  focus(): void;
  viewHeight(): number;
}

interface ClothProps {
  readonly ref: Ref<ClothHandle>;
  readonly flow: Flow;
  readonly pairing: Pairing;
  readonly buses: readonly string[];
  readonly zoom: number;
  readonly cursor: string | null;
  readonly concerned: ReadonlySet<string>;
  /** Ids of the rows the search found; null: no search. */
  readonly found: ReadonlySet<string> | null;
  /** What reviewers ask or object to, by row. */
  readonly doubts: ReadonlyMap<string, ReviewDoubt>;
  readonly firstScrollTop: number;
  readonly onScrollTop: (top: number) => void;
  readonly onAction: (action: KeyAction) => void;
  readonly onPick: (id: string) => void;
  readonly onZoom: (zoom: number) => void;
}

/** Rows are drawn for a stretch this much longer than the view, in px, and anew only when the view leaves it. */
const MARGIN = 360;
const CHUNK = 160;

/** The cloth: every strand in its row, the ends at the edges, the interface modules' bands in the middle. */
export function Cloth({ ref, ...props }: ClothProps) {
  const { flow, pairing, buses, zoom, cursor, concerned, found, doubts } = props;
  const treeId = useId();
  const scroller = useRef<HTMLDivElement>(null);
  const tree = useRef<HTMLDivElement>(null);
  const [view, setView] = useState({ width: 960, height: 600, top: props.firstScrollTop });
  const named = zoom >= NAMES_FROM_ZOOM;
  const modules = useMemo(() => [...pairing.interfaceModules.keys()], [pairing]);
  const columns = useMemo(
    () => columnsOf(view.width, zoom, named, modules, buses),
    [view.width, zoom, named, modules, buses],
  );

  useLayoutEffect(() => {
    const element = scroller.current!;
    element.scrollTop = props.firstScrollTop;
    const measure = (): void =>
      setView((before) => ({ ...before, width: element.clientWidth, height: element.clientHeight }));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
    // The first scroll position counts once.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, []);

  // The place under the mouse, or the middle of the view, stays where it is when the zoom changes.
  const anchor = useRef<{ readonly y: number; readonly share: number } | null>(null);
  useLayoutEffect(() => {
    const element = scroller.current!;
    if (anchor.current) element.scrollTop = anchor.current.share * flow.height - anchor.current.y;
    anchor.current = null;
  }, [flow]);
  const { onZoom } = props;
  useEffect(() => {
    const element = scroller.current!;
    const onWheel = (event: WheelEvent): void => {
      if (!event.ctrlKey) return;
      event.preventDefault();
      const y = event.clientY - element.getBoundingClientRect().top;
      anchor.current = { y, share: (element.scrollTop + y) / Math.max(1, flow.height) };
      onZoom(zoom * Math.exp(-event.deltaY / 500));
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => element.removeEventListener('wheel', onWheel);
  }, [zoom, flow, onZoom]);

  const pan = useDragToPan(scroller);

  useImperativeHandle(ref, () => ({
    reveal: (id) => {
      const row = flow.rows[flow.indexOf.get(id) ?? -1];
      const element = scroller.current;
      if (!row || !element) return;
      const top = element.scrollTop;
      const room = element.clientHeight - EDGES - row.height;
      if (row.y < top) element.scrollTop = Math.max(0, row.y - Math.min(60, room / 3));
      else if (row.y > top + room) element.scrollTop = row.y - room + Math.min(60, room / 3);
    },
    focus: () => tree.current?.focus({ preventScroll: true }),
    viewHeight: () => (scroller.current?.clientHeight ?? 600) - EDGES,
  }));

  const onScroll = (): void => {
    const element = scroller.current!;
    props.onScrollTop(element.scrollTop);
    const top = Math.floor(element.scrollTop / CHUNK) * CHUNK;
    if (top !== view.top) setView((before) => ({ ...before, top }));
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target !== event.currentTarget) return;
    if (event.key === ' ') {
      event.preventDefault();
      if (!event.repeat) pan.holdSpace();
      return;
    }
    const action = actionOfKey(event.key, flow, cursor);
    if (!action) return;
    event.preventDefault();
    props.onAction(action);
  };
  const onKeyUp = (event: KeyboardEvent): void => {
    if (event.key !== ' ' || event.target !== event.currentTarget) return;
    event.preventDefault();
    const action = pan.releaseSpace() ? null : actionOfKey(' ', flow, cursor);
    if (action) props.onAction(action);
  };
  const onMouseDown = (event: MouseEvent): void => {
    if (event.button !== 0 || pan.isPanning()) return;
    const row = (event.target as Element).closest<HTMLElement>('[data-row]');
    event.preventDefault();
    tree.current?.focus({ preventScroll: true });
    if (row) props.onPick(row.dataset['row']!);
  };

  const [first, end] = visibleRows(flow, view.top - MARGIN, view.top + view.height + MARGIN + CHUNK);
  const shown = flow.rows.slice(first, end);
  const cursorAt = cursor === null ? undefined : flow.indexOf.get(cursor);
  const isCursorShown = cursorAt !== undefined && cursorAt >= first && cursorAt < end;
  const positions = useMemo(() => positionsOf(flow), [flow]);

  return (
    <div className="cloth" ref={scroller} onScroll={onScroll} data-named={named || undefined} {...pan.handlers}>
      <div className="cloth-sheet" style={{ width: columns.width }}>
        <ClothHead columns={columns} pairing={pairing} named={named} />
        <div
          ref={tree}
          className="cloth-body"
          role="tree"
          aria-label="The loom: strands by function group"
          tabIndex={0}
          aria-activedescendant={isCursorShown ? `${treeId}-${cursorAt}` : undefined}
          style={{ height: flow.height, fontSize: `${Math.max(9, 11.5 * zoom)}px` }}
          onKeyDown={onKeyDown}
          onKeyUp={onKeyUp}
          onMouseDown={onMouseDown}
        >
          <Underlay flow={flow} columns={columns} />
          {shown.map((row, offset) => {
            const index = first + offset;
            const [position, siblings] = positions[index]!;
            const domId = `${treeId}-${index}`;
            const isCursor = index === cursorAt;
            if (row.kind === 'group') {
              const hits = found === null ? null : row.group.rows.filter(({ id }) => found.has(id)).length;
              return (
                <GroupRow
                  key={row.id}
                  group={row.group}
                  folded={row.folded}
                  y={row.y}
                  height={row.height}
                  block={row.block}
                  columns={columns}
                  named={named}
                  isCursor={isCursor}
                  isDim={hits === 0}
                  found={hits}
                  domId={domId}
                  position={position}
                  siblings={siblings}
                />
              );
            }
            return (
              <ClothRow
                key={row.id}
                row={row}
                pairing={pairing}
                columns={columns}
                lineHeight={flow.lineHeight}
                named={named}
                isConcerned={concerned.has(row.id)}
                isCursor={isCursor}
                isDim={found !== null && !found.has(row.id)}
                domId={domId}
                position={position}
                siblings={siblings}
                doubt={doubts.get(row.id) ?? null}
              />
            );
          })}
        </div>
        <ClothFoot columns={columns} pairing={pairing} buses={buses} />
      </div>
    </div>
  );
}

/** Height of the sticky head and foot together, in px. */
const EDGES = 64;

interface ClothRowProps extends Omit<RowLook, 'y' | 'height' | 'tabLeft' | 'tabRight' | 'change'> {
  readonly row: FlowRow & { readonly kind: 'row' };
  readonly pairing: Pairing;
}

function ClothRow({ row, pairing, ...rest }: ClothRowProps) {
  const { columns, lineHeight, named, isConcerned, isCursor, isDim, domId, position, siblings, doubt = null } = rest;
  const look = useMemo<RowLook>(() => {
    const tab = (edge: 'left' | 'right', isNew: boolean): string | null => {
      if (!isNew) return null;
      const id = moduleAt(row.row, edge);
      return columns.tab > 100 ? moduleTitle(pairing, edge === 'left' ? 'host' : 'donor', id) : id;
    };
    return {
      y: row.y,
      height: row.height,
      columns,
      lineHeight,
      named,
      isConcerned,
      isCursor,
      isDim,
      tabLeft: tab('left', row.tabLeft),
      tabRight: tab('right', row.tabRight),
      domId,
      position,
      siblings,
      doubt,
    };
  }, [row, pairing, columns, lineHeight, named, isConcerned, isCursor, isDim, domId, position, siblings, doubt]);
  return row.row.kind === 'strand' ? (
    <StrandRow strand={row.row} look={look} />
  ) : (
    <LooseRow loose={row.row} look={look} />
  );
}

/** Place of every row among its siblings, and how many they are. */
function positionsOf({ rows }: Flow): readonly (readonly [number, number])[] {
  const groups = rows.filter(({ kind }) => kind === 'group').length;
  let group = 0;
  let within = 0;
  return rows.map((row) => {
    if (row.kind === 'group') {
      group += 1;
      within = 0;
      return [group, groups] as const;
    }
    within += 1;
    return [within, row.group.rows.length] as const;
  });
}
