import { placeMemory } from '../parts/place-memory.ts';
import { PLACES } from '../places/index.ts';
import { FIRST_VIEW as START_VIEW, type StartView } from '../places/start/view.ts';
import type { WorkbenchState, WorkbenchStore } from '../state/store.ts';
import { redoLast, undoLast } from './change.ts';
import { goTo } from './navigate.ts';
import { leavePairing, openMap } from './open.ts';
import { save, saveAs } from './save.ts';
import { nextTheme, zoomBy } from './theme.ts';

/** Something the window can do by name, from the palette, a key or the shell's menu. */
export interface Command {
  readonly id: string;
  readonly title: string;
  /** As `Mod+S`: Mod is Ctrl, on macOS Command. */
  readonly keys?: string;
  readonly enabled?: (state: WorkbenchState) => boolean;
  readonly run: (store: WorkbenchStore) => void | Promise<unknown>;
}

const hasPairing = (state: WorkbenchState): boolean => state.open !== null;

/** Closes the pairing and goes back to Start. */
async function close(store: WorkbenchStore): Promise<void> {
  if (await leavePairing(store)) store.setState({ open: null, checked: null, selection: null, place: 'start' });
}

export const COMMANDS: readonly Command[] = [
  ...PLACES.map((place) => ({
    id: `go-${place.id}`,
    title: `Go to ${place.title}: ${place.question}`,
    keys: `Alt+${place.key}`,
    enabled: (state: WorkbenchState) => !place.needsPairing || hasPairing(state),
    run: (store: WorkbenchStore) => goTo(store, place.id),
  })),
  {
    id: 'new-pairing',
    title: 'New pairing…',
    run: (store) => {
      placeMemory<StartView>(store, 'start', () => START_VIEW).setState({ shows: 'new-pairing' });
      goTo(store, 'start');
    },
  },
  { id: 'open', title: 'Open a map…', keys: 'Mod+O', run: (store) => openMap(store) },
  {
    id: 'open-sample',
    title: 'Open the sample pairing',
    enabled: ({ session }) => session !== null && session.sample !== null,
    run: (store) => openMap(store, store.getState().session!.sample!),
  },
  { id: 'save', title: 'Save', keys: 'Mod+S', enabled: hasPairing, run: (store) => save(store) },
  { id: 'save-as', title: 'Save the map as…', keys: 'Mod+Shift+S', enabled: hasPairing, run: (store) => saveAs(store) },
  { id: 'close', title: 'Close the pairing', enabled: hasPairing, run: close },
  {
    id: 'undo',
    title: 'Undo',
    keys: 'Mod+Z',
    enabled: ({ open }) => (open?.history.done.length ?? 0) > 0,
    run: undoLast,
  },
  {
    id: 'redo',
    title: 'Redo',
    keys: 'Mod+Shift+Z',
    enabled: ({ open }) => (open?.history.undone.length ?? 0) > 0,
    run: redoLast,
  },
  {
    id: 'palette',
    title: 'Command palette',
    keys: 'Mod+K',
    run: (store) => store.setState({ overlay: { kind: 'palette', mode: 'commands' } }),
  },
  {
    id: 'find',
    title: 'Find anywhere',
    keys: 'Mod+P',
    enabled: hasPairing,
    run: (store) => store.setState({ overlay: { kind: 'palette', mode: 'find' } }),
  },
  { id: 'keys', title: 'Keyboard map', keys: 'F1', run: (store) => store.setState({ overlay: { kind: 'keys' } }) },
  { id: 'theme', title: 'Change the look: by system, light, dark, high contrast', run: nextTheme },
  { id: 'zoom-in', title: 'Zoom in', keys: 'Mod++', run: (store) => zoomBy(store, 1.1) },
  { id: 'zoom-out', title: 'Zoom out', keys: 'Mod+-', run: (store) => zoomBy(store, 1 / 1.1) },
  { id: 'zoom-reset', title: 'Zoom back to normal', keys: 'Mod+0', run: (store) => zoomBy(store, 0) },
  { id: 'print', title: 'Print this place', keys: 'Mod+Shift+P', run: () => window.print() },
];

/** Runs a command by its id when it can run now. */
export async function runCommand(store: WorkbenchStore, id: string): Promise<void> {
  const command = COMMANDS.find((entry) => entry.id === id);
  if (!command || command.enabled?.(store.getState()) === false) return;
  await command.run(store);
}

/** The command a key press stands for; null when none. */
export function commandOfKey(
  event: Pick<KeyboardEvent, 'key' | 'code' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey'>,
): Command | null {
  return COMMANDS.find(({ keys }) => keys !== undefined && matchesKeys(keys, event)) ?? null;
}

function matchesKeys(keys: string, event: Parameters<typeof commandOfKey>[0]): boolean {
  const parts = keys.replace(/\+\+$/, '+Plus').split('+');
  const key = parts.at(-1)!;
  if (parts.includes('Mod') !== (event.ctrlKey || event.metaKey) || parts.includes('Alt') !== event.altKey)
    return false;
  if (key === 'Plus') return event.key === '+' || event.key === '=';
  if (parts.includes('Shift') !== event.shiftKey) return false;
  if (parts.includes('Alt')) return event.code === `Digit${key}` || event.code === `Key${key}`;
  return event.key.toLowerCase() === key.toLowerCase();
}
