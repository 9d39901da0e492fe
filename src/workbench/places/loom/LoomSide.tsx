import { useRef, type PointerEvent } from 'react';
import type { Pairing } from '../../../model/index.ts';
import { RouteEditor } from '../../parts/route-editor/RouteEditor.tsx';
import { subjectWords } from '../../parts/subject.ts';
import { useSettled } from '../../parts/use-settled.ts';
import { useWorkbench } from '../../state/store.ts';
import { concernedRows } from './concerned.ts';
import type { LoomGroup, LoomRow } from './layout.ts';
import { NeedPanel } from './NeedPanel.tsx';
import { StrandList } from './StrandList.tsx';

/** The panel draws after the strip, which is looked at first. */
const AFTER_STRIP_MS = 50;
const NARROWEST = 280;
const WIDEST = 720;

/** What is selected, in full: a route in the editor, an unmet need with its proposals, else the strands it concerns. */
export function LoomSide({
  pairing,
  groups,
  width,
  onWidth,
}: {
  readonly pairing: Pairing;
  readonly groups: readonly LoomGroup[];
  readonly width: number;
  readonly onWidth: (width: number) => void;
}) {
  const selection = useSettled(
    useWorkbench((state) => state.selection),
    AFTER_STRIP_MS,
  );
  return (
    <aside className="loom-side" aria-label="What is selected">
      <Grip width={width} onWidth={onWidth} />
      <SideContent pairing={pairing} groups={groups} selection={selection} />
    </aside>
  );
}

function SideContent({
  pairing,
  groups,
  selection,
}: {
  readonly pairing: Pairing;
  readonly groups: readonly LoomGroup[];
  readonly selection: string | null;
}) {
  if (selection === null) return <Hint />;
  if (selection.startsWith('route:')) {
    const route = pairing.routes.get(selection.slice(6));
    return route ? <RouteEditor key={route.id} pairing={pairing} route={route} /> : <Hint />;
  }
  const ids = new Set(concernedRows(groups, selection, pairing));
  const rows = groups.flatMap((group) => group.rows.filter(({ id }) => ids.has(id)));
  const need = rows.find((row: LoomRow) => row.id === selection && row.kind === 'loose');
  if (need) return <NeedPanel key={selection} pairing={pairing} needRef={selection} />;
  return <StrandList words={subjectWords(pairing, selection)} rows={rows} />;
}

function Hint() {
  return (
    <div className="detail">
      <h2>Nothing is selected</h2>
      <p className="soft">
        Click a strand, or walk with <kbd>↑</kbd> <kbd>↓</kbd>. <kbd>Enter</kbd> goes into its fields, <kbd>Esc</kbd>{' '}
        back to the cloth. <kbd>←</kbd> <kbd>→</kbd> or <kbd>Space</kbd> fold a group, <kbd>/</kbd> searches,{' '}
        <kbd>n</kbd> goes to the next one found.
      </p>
    </div>
  );
}

/** Drags the border of the panel; arrow keys do the same. */
function Grip({ width, onWidth }: { readonly width: number; readonly onWidth: (width: number) => void }) {
  const from = useRef<{ readonly x: number; readonly width: number } | null>(null);
  const set = (next: number): void => onWidth(Math.min(WIDEST, Math.max(NARROWEST, Math.round(next))));
  return (
    <div
      className="side-grip"
      role="separator"
      aria-orientation="vertical"
      aria-label="Width of the panel"
      aria-valuenow={width}
      aria-valuemin={NARROWEST}
      aria-valuemax={WIDEST}
      tabIndex={0}
      onKeyDown={(event) => {
        if (event.key === 'ArrowLeft') set(width + 20);
        else if (event.key === 'ArrowRight') set(width - 20);
        else return;
        event.preventDefault();
      }}
      onPointerDown={(event: PointerEvent<HTMLElement>) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        from.current = { x: event.clientX, width };
      }}
      onPointerMove={(event) => {
        if (from.current) set(from.current.width + from.current.x - event.clientX);
      }}
      onPointerUp={() => {
        from.current = null;
      }}
    />
  );
}
