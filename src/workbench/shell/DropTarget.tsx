import { useEffect, useState } from 'react';
import type { SideName } from '../../model/index.ts';
import { attempt } from '../actions/notices.ts';
import { useWorkbenchStore } from '../state/store.ts';

function sideUnder(target: EventTarget | null): SideName | null {
  const side = target instanceof Element ? target.closest<HTMLElement>('[data-drop-side]')?.dataset['dropSide'] : null;
  return side === 'host' || side === 'donor' ? side : null;
}

function carriesFiles(event: DragEvent): boolean {
  return event.dataTransfer?.types.includes('Files') === true;
}

/** Files may be dropped anywhere on the window. */
export function DropTarget() {
  const store = useWorkbenchStore();
  const [isOver, setOver] = useState(false);
  useEffect(() => {
    const over = (event: DragEvent): void => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const leave = (event: DragEvent): void => {
      if (event.relatedTarget === null) setOver(false);
    };
    const drop = (event: DragEvent): void => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      setOver(false);
      const files = [...(event.dataTransfer?.files ?? [])];
      const side = sideUnder(event.target);
      void attempt(store, 'The files were not taken over', async () => {
        const { takeDropped } = await import('../actions/drop.ts');
        await takeDropped(store, files, side);
      });
    };
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, [store]);
  return isOver ? (
    <div className="drop-hint" aria-hidden="true">
      Drop a map, a platform, a DBC file or a log
    </div>
  ) : null;
}
