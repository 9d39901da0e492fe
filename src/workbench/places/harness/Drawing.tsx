import {
  useEffect,
  useImperativeHandle,
  useMemo,
  useRef,
  useState,
  type KeyboardEvent,
  type PointerEvent,
  type Ref,
  type RefObject,
} from 'react';
import type { DrawnHarness } from '../../../wiring/index.ts';
import type { FindingsInPlace } from './findings-in-place.ts';
import type { Viewport } from './memory.ts';
import { layOnScreen, scaleToFit } from './screen-layout.ts';
import { Lengths, Nodes, Segments } from './DrawnParts.tsx';
import { Highlight, type Shown } from './Highlight.tsx';
import { useCamera, zoomedAt } from './use-camera.ts';

export interface DrawingHandle {
  readonly zoomBy: (factor: number) => void;
  readonly fit: () => void;
}

interface DrawingProps {
  readonly drawing: Omit<DrawnHarness, 'shapes'>;
  readonly viewport: Viewport | null;
  readonly onViewport: (viewport: Viewport) => void;
  readonly shown: Shown;
  readonly findings: FindingsInPlace;
  /** `node:id` or `segment:id`; null: the paper. */
  readonly onPick: (subject: string | null) => void;
  /** A mark of what was found was clicked. */
  readonly onFinding: (subject: string) => void;
  /** The next, or the one before, among nodes and segments. */
  readonly onWalk: (step: 1 | -1) => void;
  readonly onLeave: () => void;
  /** Where a node was dragged to, in millimetres of the drawing; absent: nodes cannot be moved now. */
  readonly onMoveNode: ((node: string, to: { readonly x: number; readonly y: number }) => void) | null;
  readonly ref: Ref<DrawingHandle>;
}

const UNMOVED: Viewport = { x: 0, y: 0, scale: 1 };
const ZOOM_STEP = 1.25;
const PAN_PX = 60;
/** A press that moves less is a click. */
const CLICK_PX = 4;

interface Press {
  readonly x: number;
  readonly y: number;
  readonly from: Viewport;
  readonly subject: string | null;
  readonly finding: string | null;
  moved: boolean;
}

/** The drawn harness: dragged, zoomed, walked by keys; what is selected in the window is highlighted end to end. */
export function Drawing({ ref, drawing, shown, findings, ...props }: DrawingProps) {
  const frame = useRef<HTMLDivElement>(null);
  const layer = useRef<SVGGElement>(null);
  const size = useSize(frame);
  const hasNoView = props.viewport === null;
  const fitted = useMemo(() => (size === null || !hasNoView ? null : fitTo(drawing, size)), [drawing, size, hasNoView]);
  const viewport = props.viewport ?? fitted ?? UNMOVED;
  const layout = useMemo(() => layOnScreen(drawing, viewport.scale), [drawing, viewport.scale]);
  const camera = useCamera(layer, viewport, viewport.scale, props.onViewport);
  const press = useRef<Press | null>(null);
  const [dragged, setDragged] = useState<{ readonly node: string; readonly x: number; readonly y: number } | null>(
    null,
  );

  const zoomAt = (factor: number, x: number, y: number): void =>
    camera.moveTo(zoomedAt(camera.current(), factor, x, y));
  const zoomBy = (factor: number): void => {
    if (size) zoomAt(factor, size.width / 2, size.height / 2);
  };
  const fit = (): void => {
    const whole = size === null ? null : fitTo(drawing, size);
    if (whole) camera.moveTo(whole);
  };
  useImperativeHandle(ref, () => ({ zoomBy, fit }));

  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    // React listens to the wheel passively; here it must not scroll what is around.
    const onWheel = (event: WheelEvent): void => {
      event.preventDefault();
      const box = element.getBoundingClientRect();
      const by = event.deltaMode === 1 ? event.deltaY * 16 : event.deltaY;
      camera.moveTo(zoomedAt(camera.current(), Math.exp(-by / 400), event.clientX - box.left, event.clientY - box.top));
    };
    element.addEventListener('wheel', onWheel, { passive: false });
    return () => element.removeEventListener('wheel', onWheel);
  }, [camera]);

  // What is selected elsewhere comes into view; where it is in view already nothing moves.
  const places = shown.focus;
  useEffect(() => {
    if (!size || places.length === 0) return;
    const view = camera.current();
    const points = drawing.nodes
      .filter(({ id }) => places.includes(id))
      .map(({ at }) => ({ x: at.x * view.scale + view.x, y: at.y * view.scale + view.y }));
    if (points.length === 0 || points.some(({ x, y }) => x > 0 && y > 0 && x < size.width && y < size.height)) return;
    const middle = (list: readonly number[]): number => (Math.min(...list) + Math.max(...list)) / 2;
    camera.moveTo({
      ...view,
      x: view.x + size.width / 2 - middle(points.map(({ x }) => x)),
      y: view.y + size.height / 2 - middle(points.map(({ y }) => y)),
    });
    // Follows the selection only.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [places]);

  const onPointerDown = (event: PointerEvent<HTMLDivElement>): void => {
    if (event.button > 1) return;
    const nearest = (name: string): string | null =>
      event.target instanceof Element ? (event.target.closest(`[${name}]`)?.getAttribute(name) ?? null) : null;
    press.current = {
      x: event.clientX,
      y: event.clientY,
      from: camera.current(),
      subject: nearest('data-subject'),
      finding: nearest('data-finding'),
      moved: false,
    };
  };
  const onPointerMove = (event: PointerEvent<HTMLDivElement>): void => {
    const held = press.current;
    if (!held) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    if (!held.moved && Math.hypot(dx, dy) < CLICK_PX) return;
    if (!held.moved) {
      held.moved = true;
      event.currentTarget.setPointerCapture(event.pointerId);
    }
    const node = props.onMoveNode && held.subject?.startsWith('node:') ? held.subject.slice(5) : null;
    const start = node === null ? undefined : layout.nodes.find(({ id }) => id === node);
    if (node === null || !start) camera.moveTo({ ...held.from, x: held.from.x + dx, y: held.from.y + dy });
    else setDragged({ node, x: start.x + dx, y: start.y + dy });
  };
  const onPointerUp = (): void => {
    const held = press.current;
    press.current = null;
    if (!held) return;
    if (dragged) {
      props.onMoveNode?.(dragged.node, { x: dragged.x / layout.scale, y: dragged.y / layout.scale });
      setDragged(null);
    } else if (!held.moved && held.finding !== null) props.onFinding(held.finding);
    else if (!held.moved) props.onPick(held.subject);
  };

  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const view = camera.current();
    const pan = (x: number, y: number): void => camera.moveTo({ ...view, x: view.x + x, y: view.y + y });
    const actions: Readonly<Record<string, () => void>> = {
      ArrowLeft: () => pan(PAN_PX, 0),
      ArrowRight: () => pan(-PAN_PX, 0),
      ArrowUp: () => pan(0, PAN_PX),
      ArrowDown: () => pan(0, -PAN_PX),
      '+': () => zoomBy(ZOOM_STEP),
      '=': () => zoomBy(ZOOM_STEP),
      '-': () => zoomBy(1 / ZOOM_STEP),
      '0': fit,
      n: () => props.onWalk(1),
      p: () => props.onWalk(-1),
      Escape: () => props.onPick(null),
      Enter: props.onLeave,
    };
    const action = actions[event.key];
    if (!action) return;
    action();
    event.preventDefault();
  };

  return (
    <div
      ref={frame}
      className="harness-drawing"
      role="application"
      aria-label="The drawn harness"
      aria-describedby="harness-drawing-help"
      tabIndex={0}
      data-moving={props.onMoveNode !== null || undefined}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={onPointerUp}
      onPointerCancel={() => {
        press.current = null;
        setDragged(null);
      }}
      onKeyDown={onKeyDown}
    >
      <p id="harness-drawing-help" className="visually-hidden">
        {drawing.description} Arrow keys move the drawing, plus and minus zoom, 0 fits it; N and P walk from node to
        node and segment to segment, Enter goes to what is selected. The tables below list the same.
      </p>
      {size === null ? null : (
        <svg width={size.width} height={size.height} aria-hidden="true">
          <g ref={layer}>
            <Segments layout={layout} findings={findings} selected={shown.segment} />
            <Highlight layout={layout} shown={shown} />
            <Lengths layout={layout} />
            <Nodes layout={layout} findings={findings} selected={shown.node} marked={shown.places} />
            {dragged ? <circle className="node-ghost" cx={dragged.x} cy={dragged.y} r={10} /> : null}
          </g>
        </svg>
      )}
    </div>
  );
}

interface Size {
  readonly width: number;
  readonly height: number;
}

function useSize(frame: RefObject<HTMLDivElement | null>): Size | null {
  const [size, setSize] = useState<Size | null>(null);
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const observer = new ResizeObserver(() =>
      setSize((before) =>
        before?.width === element.clientWidth && before.height === element.clientHeight
          ? before
          : { width: element.clientWidth, height: element.clientHeight },
      ),
    );
    observer.observe(element);
    return () => observer.disconnect();
  }, [frame]);
  return size;
}

function fitTo(drawing: Omit<DrawnHarness, 'shapes'>, size: Size): Viewport | null {
  if (drawing.nodes.length === 0 || size.width < 10 || size.height < 10) return null;
  const scale = scaleToFit(drawing, size);
  const { extent } = layOnScreen(drawing, scale);
  return {
    scale,
    x: (size.width - extent.width) / 2 - extent.left,
    y: (size.height - extent.height) / 2 - extent.top,
  };
}
