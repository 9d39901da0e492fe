import { useRef, useState, type PointerEvent, type RefObject } from 'react';

interface Pan {
  readonly handlers: {
    readonly onPointerDownCapture: (event: PointerEvent<HTMLElement>) => void;
    readonly onPointerMove: (event: PointerEvent<HTMLElement>) => void;
    readonly onPointerUp: (event: PointerEvent<HTMLElement>) => void;
    readonly 'data-panning': boolean | undefined;
  };
  readonly isPanning: () => boolean;
  readonly holdSpace: () => void;
  /** Whether the view was dragged while Space was held. */
  readonly releaseSpace: () => boolean;
}

/** Drags the view with the middle button, or with the left one while Space is held. */
export function useDragToPan(scroller: RefObject<HTMLElement | null>): Pan {
  const drag = useRef<{ x: number; y: number; left: number; top: number } | null>(null);
  const space = useRef({ held: false, dragged: false });
  const [isShown, setShown] = useState(false);
  return {
    handlers: {
      onPointerDownCapture: (event) => {
        const element = scroller.current;
        if (!element || !(event.button === 1 || (event.button === 0 && space.current.held))) return;
        event.preventDefault();
        element.setPointerCapture(event.pointerId);
        drag.current = { x: event.clientX, y: event.clientY, left: element.scrollLeft, top: element.scrollTop };
        space.current.dragged = true;
        setShown(true);
      },
      onPointerMove: (event) => {
        const element = scroller.current;
        const from = drag.current;
        if (!element || !from) return;
        element.scrollTo(from.left - (event.clientX - from.x), from.top - (event.clientY - from.y));
      },
      onPointerUp: () => {
        drag.current = null;
        setShown(space.current.held && isShown);
      },
      'data-panning': isShown || undefined,
    },
    isPanning: () => drag.current !== null,
    holdSpace: () => {
      space.current = { held: true, dragged: false };
      setShown(true);
    },
    releaseSpace: () => {
      const { dragged } = space.current;
      space.current = { held: false, dragged: false };
      setShown(false);
      return dragged;
    },
  };
}
