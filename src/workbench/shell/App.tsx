import { useEffect, useRef } from 'react';
import { commandOfKey, runCommand } from '../actions/commands.ts';
import { PLACES, type PlaceId } from '../places/index.ts';
import { useWorkbench, useWorkbenchStore } from '../state/store.ts';
import { DropTarget } from './DropTarget.tsx';
import { Header } from './Header.tsx';
import { Notices } from './Notices.tsx';
import { Overlays } from './Overlays.tsx';
import { PlaceBar } from './PlaceBar.tsx';
import { PlaceBoundary } from './PlaceBoundary.tsx';
import { PlaceView } from './PlaceView.tsx';
import { StatusBar } from './StatusBar.tsx';
import './shell.css';

function titleOf(place: PlaceId): string {
  return PLACES.find(({ id }) => id === place)!.title;
}

/** Whether a key belongs to what the user is typing into. */
function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName))
  );
}

/** The window: header, places on the left, the place, the state of the work at the foot. */
export function App() {
  const store = useWorkbenchStore();
  const place = useWorkbench((state) => state.place);
  const main = useRef<HTMLElement>(null);
  const ready = useWorkbench((state) => state.session !== null);

  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const command = commandOfKey(event);
      if (!command || event.defaultPrevented) return;
      const editsText = command.id === 'undo' || command.id === 'redo';
      if (editsText && isTyping(event.target)) return;
      event.preventDefault();
      void runCommand(store, command.id);
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [store]);

  // What had the focus went with the place before: the new place takes it, so that keys and readers go on from there.
  useEffect(() => {
    if (document.activeElement === null || document.activeElement === document.body) main.current?.focus();
  }, [place]);

  return (
    <div className="window" data-ready={ready}>
      <Header />
      <PlaceBar />
      <main ref={main} className="place" key={place} data-place={place} aria-label={titleOf(place)} tabIndex={-1}>
        <PlaceBoundary>
          <PlaceView />
        </PlaceBoundary>
      </main>
      <StatusBar />
      <Notices />
      <DropTarget />
      <Overlays />
    </div>
  );
}
