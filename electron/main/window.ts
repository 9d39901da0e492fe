import { BrowserWindow, type BrowserWindowConstructorOptions, type WebContents } from 'electron';
import { PRELOAD } from './places.ts';
import { PAGE_ORIGIN } from './scheme.ts';
import type { WindowState } from './window-state.ts';

/** How every window is made: the page in a sandbox of its own, without Node. */
export function windowOptions(state: WindowState): BrowserWindowConstructorOptions {
  return {
    ...state.bounds,
    minWidth: 900,
    minHeight: 600,
    show: false,
    title: 'Crossloom',
    backgroundColor: '#f6f5f1',
    webPreferences: {
      preload: PRELOAD,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      spellcheck: false,
      navigateOnDragDrop: false,
      safeDialogs: true,
    },
  };
}

/** The page stays where it is: no navigation, no new window, no embedded view. */
export function holdPage(contents: WebContents): void {
  contents.on('will-navigate', (event) => {
    if (!event.url.startsWith(`${PAGE_ORIGIN}/`)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

export function createWindow(state: WindowState): BrowserWindow {
  const window = new BrowserWindow(windowOptions(state));
  holdPage(window.webContents);
  if (state.maximized) window.maximize();
  window.once('ready-to-show', () => window.show());
  void window.loadURL(`${PAGE_ORIGIN}/`);
  return window;
}
