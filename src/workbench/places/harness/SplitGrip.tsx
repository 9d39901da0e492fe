import { useRef, type PointerEvent } from 'react';

const LEAST = 0.15;
const MOST = 0.85;
const STEP = 0.03;

/** The border between drawing and tables: dragged, or moved by arrow keys. */
export function SplitGrip({ split, onSplit }: { readonly split: number; readonly onSplit: (split: number) => void }) {
  const from = useRef<{ readonly y: number; readonly split: number; readonly height: number } | null>(null);
  const set = (next: number): void => onSplit(Math.min(MOST, Math.max(LEAST, next)));
  return (
    <div
      className="split-grip"
      role="separator"
      aria-orientation="horizontal"
      aria-label="Height of the drawing"
      aria-valuenow={Math.round(split * 100)}
      aria-valuemin={LEAST * 100}
      aria-valuemax={MOST * 100}
      tabIndex={0}
      onKeyDown={(event) => {
        if (event.key === 'ArrowUp') set(split - STEP);
        else if (event.key === 'ArrowDown') set(split + STEP);
        else return;
        event.preventDefault();
      }}
      onPointerDown={(event: PointerEvent<HTMLElement>) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        from.current = { y: event.clientY, split, height: event.currentTarget.parentElement?.clientHeight ?? 1 };
      }}
      onPointerMove={(event) => {
        const start = from.current;
        if (start) set(start.split + (event.clientY - start.y) / start.height);
      }}
      onPointerUp={() => {
        from.current = null;
      }}
    />
  );
}
