import type { WorkbenchStore } from '../state/store.ts';
import { keepChecked } from './checking.ts';
import { runCommand } from './commands.ts';
import { dirty } from './change.ts';
import { keepJournal, offerRecovery } from './journal.ts';
import { attempt } from './notices.ts';
import { openMap } from './open.ts';
import { changedOutside } from './outside.ts';
import { showRendering } from './render.ts';
import { keepTheme } from './theme.ts';

/** Sets a window going: its session, what it opens, and what runs beside it. */
export async function begin(store: WorkbenchStore): Promise<void> {
  keepTheme(store);
  keepChecked(store, () => new Worker(new URL('../worker/check.worker.ts', import.meta.url), { type: 'module' }));
  keepJournal(store);
  keepShellInformed(store);
  guardAgainstLoss(store);
  const { host } = store.getState();
  host.listen((event) => {
    if (event.kind === 'open') void openMap(store, event.path);
    else if (event.kind === 'command') void runCommand(store, event.command);
    else if (event.kind === 'render-progress') showRendering(store, event);
    else void changedOutside(store, event);
  });
  const session = await attempt(store, 'The workbench could not start', () => host.call('session', {}));
  if (session === null) return;
  store.setState({ session });
  await offerRecovery(store);
  if (store.getState().open === null && session.opens !== null) await openMap(store, session.opens);
}

/** The shell shows the title and guards the close. */
function keepShellInformed(store: WorkbenchStore): void {
  let shown = '';
  const tell = (): void => {
    const { open, host } = store.getState();
    const isDirty = dirty(store);
    const name = open ? `${open.history.documents.map.title}, revision ${open.history.documents.map.revision}` : '';
    const title = open ? `${isDirty ? '• ' : ''}${name} — Crossloom` : 'Crossloom';
    if (title === shown) return;
    shown = title;
    document.title = title;
    void host.call('showState', { title, dirty: isDirty }).catch(() => undefined);
  };
  store.subscribe((state, before) => {
    if (state.open !== before.open) tell();
  });
}

/** In a browser, closing the tab with unsaved work asks first. */
function guardAgainstLoss(store: WorkbenchStore): void {
  window.addEventListener('beforeunload', (event) => {
    if (store.getState().session?.shell === 'loopback' && dirty(store)) event.preventDefault();
  });
}
