import { useCallback, useEffect, useRef, type RefObject } from 'react';
import type { Viewport } from './memory.ts';

export const LEAST_SCALE = 0.2;
export const MOST_SCALE = 24;

/** The viewport after a zoom that leaves the point (in pixels of the view) where it is; kept within the ends. */
export function zoomedAt(view: Viewport, factor: number, x: number, y: number): Viewport {
  const scale = Math.min(MOST_SCALE, Math.max(LEAST_SCALE, view.scale * factor));
  const by = scale / view.scale;
  return { scale, x: x - (x - view.x) * by, y: y - (y - view.y) * by };
}

export interface Camera {
  readonly current: () => Viewport;
  /** Moves at once, without drawing anew; the lettering follows when it comes to rest. */
  readonly moveTo: (view: Viewport) => void;
}

/** When the view has rested so long, in ms, the lettering is laid out for its scale. */
const REST_MS = 110;

/**
 * Pans and zooms by moving the drawn layer as a whole, so that a frame costs no layout; `onRest` hears where it came to
 * rest. `laidAt` is the scale the layer is drawn for.
 */
export function useCamera(
  layer: RefObject<SVGGElement | null>,
  stored: Viewport,
  laidAt: number,
  onRest: (view: Viewport) => void,
): Camera {
  const view = useRef(stored);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const rest = useRef(onRest);
  useEffect(() => {
    rest.current = onRest;
  });
  const apply = useCallback((): void => {
    const { x, y, scale } = view.current;
    layer.current?.setAttribute('transform', `translate(${x} ${y}) scale(${scale / laidAt})`);
  }, [layer, laidAt]);
  useEffect(() => {
    view.current = stored;
    apply();
  }, [stored, apply]);
  useEffect(() => () => clearTimeout(timer.current), []);
  const moveTo = useCallback(
    (next: Viewport): void => {
      view.current = next;
      apply();
      clearTimeout(timer.current);
      timer.current = setTimeout(() => rest.current(view.current), REST_MS);
    },
    [apply],
  );
  const current = useCallback(() => view.current, []);
  return { current, moveTo };
}
