import { app, dialog, type BrowserWindow } from 'electron';
import type { HostEvent } from '../../src/host/interface/contract.ts';
import { EVENT_CHANNEL } from '../ipc/names.ts';
import { createWindow } from './window.ts';
import { keepWindowState, readWindowState } from './window-state.ts';

/** The one window, what it shows, and what it is to open. */
export interface Shell {
  openWindow(): void;
  window(): BrowserWindow | null;
  /** Opens a map in the window, or at its start when the page is not there yet. */
  open(path: string): void;
  /** The map to open at the start; asked for once. */
  takeOpening(): string | null;
  send(event: HostEvent): void;
  showState(state: { readonly title: string; readonly dirty: boolean }): void;
}

export function createShell(): Shell {
  let window: BrowserWindow | null = null;
  let opening: string | null = null;
  let dirty = false;
  let ready = false;

  /** Asks before a window with unsaved work closes; the journal keeps the work either way. */
  const guardClose = (guarded: BrowserWindow): void => {
    guarded.on('close', (event) => {
      if (!dirty) return;
      const choice = dialog.showMessageBoxSync(guarded, {
        type: 'warning',
        title: 'Crossloom',
        message: 'There are changes that are not saved.',
        detail: 'Closing now keeps them in the journal; they are offered again at the next start.',
        buttons: ['Stay', 'Close without saving'],
        defaultId: 0,
        cancelId: 0,
        noLink: true,
      });
      if (choice === 0) event.preventDefault();
    });
  };

  return {
    openWindow: () => {
      ready = false;
      window = createWindow(readWindowState());
      keepWindowState(window);
      guardClose(window);
      window.on('closed', () => {
        window = null;
        dirty = false;
      });
    },
    window: () => window,
    open: (path) => {
      app.addRecentDocument(path);
      if (window && ready) {
        if (window.isMinimized()) window.restore();
        window.focus();
        window.webContents.send(EVENT_CHANNEL, { kind: 'open', path } satisfies HostEvent);
      } else opening = path;
    },
    takeOpening: () => {
      ready = true;
      const path = opening;
      opening = null;
      return path;
    },
    send: (event) => window?.webContents.send(EVENT_CHANNEL, event),
    showState: ({ title, dirty: isDirty }) => {
      dirty = isDirty;
      window?.setTitle(title);
      window?.setDocumentEdited(isDirty);
    },
  };
}
