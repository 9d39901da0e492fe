import { useEffect, useRef, useState, type CSSProperties, type PointerEvent } from 'react';
import { useStore } from 'zustand';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { benchMemory } from './bench-state.ts';
import { LaneView } from './LaneView.tsx';
import type { LaneHead } from './recording/lane.ts';
import { AXIS_WIDTH, RIGHT_ROOM } from './Plot.tsx';
import { benchSession } from './session.ts';
import { tickStepUs, ticksBetween, timeText } from './time-text.ts';

/** A press that moves less than this sets the cursor, one that moves more pans; CSS pixels. */
const CLICK_ROOM = 4;

/** The lanes of the traced routes over one time axis, with a cursor. */
export function Traces() {
  const store = useWorkbenchStore();
  const session = benchSession(store);
  const memory = benchMemory(store);
  const { heads, points, pointsSpan, view, cursorUs, moment, summary, traced } = useStore(memory);
  const selection = useWorkbench((state) => state.selection);
  const holder = useRef<HTMLDivElement>(null);
  const ruler = useRef<HTMLDivElement>(null);
  const [room, setRoom] = useState({ height: 0, scrollbar: 0 });
  const press = useRef<{ x: number; fromUs: number; moved: boolean } | null>(null);

  // The selection is always traced, and another width needs other columns.
  useEffect(() => session.askLanes(), [session, selection, traced]);
  useEffect(() => {
    const lanes = holder.current!;
    const sized = new ResizeObserver(() => {
      session.resize(ruler.current!.clientWidth);
      setRoom({ height: lanes.clientHeight, scrollbar: lanes.offsetWidth - lanes.clientWidth });
    });
    sized.observe(ruler.current!);
    sized.observe(lanes);
    return () => sized.disconnect();
  }, [session]);

  const timeAt = (clientX: number): number | null => {
    const { view: now } = memory.getState();
    const box = ruler.current?.getBoundingClientRect();
    if (now === null || box === undefined || box.width === 0) return null;
    return now.fromUs + ((clientX - box.left) / box.width) * (now.toUs - now.fromUs);
  };

  // A wheel that zooms must not scroll: React's own listener could not prevent it.
  useEffect(() => {
    const element = holder.current!;
    const onWheel = (event: WheelEvent): void => {
      const box = ruler.current!.getBoundingClientRect();
      if (event.clientX < box.left || event.clientX > box.right) return;
      event.preventDefault();
      const about = timeAt(event.clientX);
      if (about === null) return;
      if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY))
        session.pan((event.deltaX || event.deltaY) / box.width);
      else session.zoom(1.0015 ** event.deltaY, about);
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => element.removeEventListener('wheel', onWheel);
  });

  if (view === null || summary === null) return null;
  const width = view.toUs - view.fromUs;
  const share = (cursorUs - view.fromUs) / width;
  const isSeen = share >= 0 && share <= 1;
  const start = summary.startUs;
  const byRoute = new Map((moment?.routes ?? []).map((route) => [route.route, route]));

  const height = plotHeight(room.height, heads);

  const onPointerDown = (event: PointerEvent<HTMLDivElement>): void => {
    const box = ruler.current!.getBoundingClientRect();
    if (event.button !== 0 || event.clientX < box.left || event.clientX > box.right) return;
    if ((event.target as HTMLElement).closest('button')) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    press.current = { x: event.clientX, fromUs: view.fromUs, moved: false };
  };
  const onPointerMove = (event: PointerEvent<HTMLDivElement>): void => {
    const held = press.current;
    if (held === null) return;
    const by = event.clientX - held.x;
    if (!held.moved && Math.abs(by) < CLICK_ROOM) return;
    held.moved = true;
    const fromUs = held.fromUs - (by / ruler.current!.clientWidth) * width;
    session.show({ fromUs, toUs: fromUs + width });
  };
  const onPointerUp = (event: PointerEvent<HTMLDivElement>): void => {
    const held = press.current;
    press.current = null;
    if (held === null || held.moved) return;
    const at = timeAt(event.clientX);
    if (at !== null) session.setCursor(at);
  };

  return (
    <section className="traces" aria-label="Traces" style={{ '--scroll-room': `${room.scrollbar}px` } as CSSProperties}>
      <div
        ref={holder}
        className="lanes"
        onPointerDown={onPointerDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerCancel={() => (press.current = null)}
        onDoubleClick={() => session.showAll()}
      >
        {heads.length === 0 ? (
          <p className="lanes-hint">
            Nothing is traced. Select a route below, in the Loom or in Routes: its source, what is delivered and what is
            written are drawn here on one time axis. “Keep” lets a trace stay when you select another.
          </p>
        ) : null}
        {pointsSpan === null
          ? null
          : heads.map((head, index) => (
              <LaneView
                key={head.route}
                head={head}
                points={points[index]!}
                span={pointsSpan}
                view={view}
                startUs={start}
                at={byRoute.get(head.route) ?? null}
                traced={traced.includes(head.route)}
                selected={selection === `route:${head.route}`}
                height={height}
              />
            ))}
      </div>
      <div className="time-row">
        <span className="soft time-unit">time since the start</span>
        <div ref={ruler} className="ruler">
          <div
            className="cursor-slider"
            role="slider"
            tabIndex={0}
            aria-label="Cursor"
            aria-valuemin={0}
            aria-valuemax={(summary.endUs - start) / 1e6}
            aria-valuenow={(cursorUs - start) / 1e6}
            aria-valuetext={cursorWords(cursorUs - start, moment)}
            onPointerDown={(event) => {
              const at = timeAt(event.clientX);
              if (at !== null) session.setCursor(at);
            }}
          >
            {ticksBetween(view.fromUs - start, view.toUs - start, 9).map((us) => (
              <span key={us} className="tick" style={{ left: `${((us + start - view.fromUs) / width) * 100}%` }}>
                {us + start < view.toUs - width * 0.04 &&
                !(isSeen && isUnderFlag((us + start - view.fromUs) / width - share))
                  ? timeText(us, tickStepUs(width, 9))
                  : ''}
              </span>
            ))}
            {isSeen ? (
              <span
                className="cursor-flag"
                style={{ left: `${share * 100}%` }}
                data-edge={share > 0.9 ? 'right' : share < 0.1 ? 'left' : undefined}
              >
                {timeText(cursorUs - start)}
              </span>
            ) : null}
          </div>
        </div>
      </div>
      {isSeen ? (
        <div
          className="cursor-room"
          aria-hidden="true"
          style={{ left: `calc(var(--legend) + ${AXIS_WIDTH}px)`, right: `${RIGHT_ROOM}px` }}
        >
          <div className="cursor-line" style={{ left: `${share * 100}%` }} />
        </div>
      ) : null}
    </section>
  );
}

/** Whether the words of a tick so far from the cursor, as a part of the width, would run into the flag with its time. */
function isUnderFlag(away: number): boolean {
  return away > -0.09 && away < 0.05;
}

const HEAD_PIXELS = 26;
const LEAST_PIXELS = 74;
const MOST_PIXELS = 150;

/** The height of one plot: the room there is, shared by all; below the least of them the lanes scroll. */
function plotHeight(room: number, heads: readonly LaneHead[]): number {
  const plots = heads.reduce((sum, { sources, refused }) => sum + (refused === null ? sources.length + 1 : 1), 0);
  const share = plots === 0 ? 0 : Math.floor((room - heads.length * HEAD_PIXELS) / plots);
  return Math.min(MOST_PIXELS, Math.max(LEAST_PIXELS, share));
}

function cursorWords(us: number, moment: ReturnType<ReturnType<typeof benchMemory>['getState']>['moment']): string {
  const frame = moment?.frame;
  return `${timeText(us)}${frame ? `, ${frame.by === null ? 'received' : `sent by ${frame.by}`} ${frame.ref}` : ''}`;
}

/** Keys of the place; true: taken. */
export function benchKey(
  event: KeyboardEvent,
  session: ReturnType<typeof benchSession>,
  memory: ReturnType<typeof benchMemory>,
): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  const { cursorUs, summary, view } = memory.getState();
  if (summary === null || view === null) return false;
  switch (event.key) {
    case 'ArrowRight':
    case 'ArrowLeft': {
      const step = event.key === 'ArrowRight' ? 1 : -1;
      if (event.shiftKey) session.pan(step * 0.15);
      else session.step(step);
      return true;
    }
    case '.':
      session.step(1);
      return true;
    case ',':
      session.step(-1);
      return true;
    case 'n':
    case 'N':
      session.turn(event.shiftKey ? -1 : 1);
      return true;
    case '+':
    case '=':
      session.zoom(0.5, inView(cursorUs, view));
      return true;
    case '-':
    case '−':
      session.zoom(2, inView(cursorUs, view));
      return true;
    case '0':
      session.showAll();
      return true;
    case 'Home':
      session.setCursor(summary.startUs);
      return true;
    case 'End':
      session.setCursor(summary.endUs);
      return true;
    case 'PageDown':
    case 'PageUp':
      session.pan(event.key === 'PageDown' ? 0.9 : -0.9);
      return true;
    default:
      return false;
  }
}

/** Zooming by key keeps the cursor in its place; where it is not seen, the middle. */
function inView(cursorUs: number, { fromUs, toUs }: { readonly fromUs: number; readonly toUs: number }): number {
  return cursorUs >= fromUs && cursorUs <= toUs ? cursorUs : (fromUs + toUs) / 2;
}
