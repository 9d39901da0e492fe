import { EventEmitter } from 'node:events';
import { beforeEach, describe, expect, it, vi } from 'vitest';

/** A stand-in for Electron: it records what it is told and lets a test fire what it would. */
const electron = vi.hoisted(() => {
  const handlers = new Map<string, (event: unknown, input: unknown) => Promise<unknown>>();
  const state = {
    handlers,
    privileges: [] as unknown[],
    schemes: new Map<string, (request: { url: string; method: string }) => Promise<Response>>(),
    windows: [] as { options: Record<string, unknown>; contents: unknown; window: unknown }[],
    permissionRequest: null as
      null | ((contents: unknown, permission: string, answer: (granted: boolean) => void) => void),
    permissionCheck: null as null | ((contents: unknown, permission: string) => boolean),
    devicePermission: null as null | (() => boolean),
    beforeRequest: null as null | ((details: { url: string }, answer: (verdict: { cancel: boolean }) => void) => void),
    messageBoxAnswer: 0,
    messageBoxes: [] as unknown[],
    appListeners: new Map<string, (...args: unknown[]) => void>(),
    exposed: new Map<string, unknown>(),
    invoked: [] as unknown[],
  };
  return state;
});

vi.mock('electron', () => {
  class FakeWindow {
    readonly events = new EventEmitter();
    readonly contentEvents = new EventEmitter();
    readonly sent: unknown[] = [];
    windowOpen: null | (() => { action: string }) = null;
    loaded = '';
    title = '';
    readonly webContents = {
      on: (name: string, listener: (...args: unknown[]) => void) => this.contentEvents.on(name, listener),
      setWindowOpenHandler: (handler: () => { action: string }) => (this.windowOpen = handler),
      send: (channel: string, value: unknown) => this.sent.push([channel, value]),
    };
    constructor(options: Record<string, unknown>) {
      electron.windows.push({ options, contents: this.webContents, window: this });
    }
    on(name: string, listener: (...args: unknown[]) => void): void {
      this.events.on(name, listener);
    }
    once(name: string, listener: (...args: unknown[]) => void): void {
      this.events.once(name, listener);
    }
    loadURL(url: string): Promise<void> {
      this.loaded = url;
      return Promise.resolve();
    }
    maximize(): void {}
    show(): void {}
    focus(): void {}
    reload(): void {
      this.sent.push('reload');
    }
    isMinimized = (): boolean => false;
    isMaximized = (): boolean => false;
    getNormalBounds = () => ({ x: 1, y: 2, width: 1000, height: 700 });
    setTitle(title: string): void {
      this.title = title;
    }
    setDocumentEdited(): void {}
  }
  return {
    webUtils: { getPathForFile: ({ name }: { name: string }) => `/where/it/lies/${name}` },
    app: {
      getPath: () => process.env['CROSSLOOM_TEST_STATE'] ?? '/nowhere',
      getVersion: () => '1.2.3',
      addRecentDocument: () => undefined,
      isPackaged: true,
      on: (name: string, listener: (...args: unknown[]) => void) => electron.appListeners.set(name, listener),
      quit: () => undefined,
      exit: () => undefined,
    },
    BrowserWindow: FakeWindow,
    Menu: { buildFromTemplate: (template: unknown) => template, setApplicationMenu: () => undefined },
    dialog: {
      showMessageBoxSync: (...args: unknown[]) => {
        electron.messageBoxes.push(args.at(-1));
        return electron.messageBoxAnswer;
      },
      showOpenDialog: () => Promise.resolve({ canceled: true, filePaths: [] }),
      showSaveDialog: () => Promise.resolve({ canceled: true }),
    },
    ipcMain: {
      handle: (channel: string, handler: (event: unknown, input: unknown) => Promise<unknown>) =>
        electron.handlers.set(channel, handler),
    },
    net: {
      fetch: () => Promise.resolve(new Response('<!doctype html>', { headers: { 'content-type': 'text/html' } })),
    },
    protocol: {
      registerSchemesAsPrivileged: (list: unknown[]) => electron.privileges.push(...list),
      handle: (scheme: string, handler: (request: { url: string; method: string }) => Promise<Response>) =>
        electron.schemes.set(scheme, handler),
    },
    screen: { getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }] },
    session: {
      defaultSession: {
        setPermissionRequestHandler: (handler: typeof electron.permissionRequest) =>
          (electron.permissionRequest = handler),
        setPermissionCheckHandler: (handler: typeof electron.permissionCheck) => (electron.permissionCheck = handler),
        setDevicePermissionHandler: (handler: typeof electron.devicePermission) =>
          (electron.devicePermission = handler),
        webRequest: { onBeforeRequest: (handler: typeof electron.beforeRequest) => (electron.beforeRequest = handler) },
      },
    },
    contextBridge: { exposeInMainWorld: (name: string, value: unknown) => electron.exposed.set(name, value) },
    ipcRenderer: {
      invoke: (channel: string, input: unknown) => {
        electron.invoked.push([channel, input]);
        return Promise.resolve({ ok: true, value: null });
      },
      on: () => undefined,
      removeListener: () => undefined,
    },
  };
});

const { answerCalls } = await import('../../electron/main/calls.ts');
const { recoverFromCrashes } = await import('../../electron/main/crash.ts');
const { menuTemplate } = await import('../../electron/main/menu.ts');
const { mapInArguments } = await import('../../electron/main/open-files.ts');
const { refusePermissions } = await import('../../electron/main/permissions.ts');
const { PAGE_ORIGIN, pageFile, registerScheme, serveScheme } = await import('../../electron/main/scheme.ts');
const { createShell } = await import('../../electron/main/shell.ts');
const { COMMANDS } = await import('../../src/workbench/actions/commands.ts');

interface FakeWindow {
  readonly events: EventEmitter;
  readonly contentEvents: EventEmitter;
  readonly sent: unknown[];
  readonly windowOpen: (() => { action: string }) | null;
  readonly loaded: string;
  readonly title: string;
}

function opened() {
  const shell = createShell();
  shell.openWindow();
  const { options, contents, window } = electron.windows.at(-1)!;
  return { shell, options, contents, window: window as FakeWindow };
}

beforeEach(() => {
  electron.windows.length = 0;
  electron.messageBoxes.length = 0;
  electron.handlers.clear();
});

describe('a window', () => {
  it('keeps the page in a sandbox without Node', () => {
    const { options } = opened();
    expect(options['webPreferences']).toMatchObject({
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
    });
    expect((options['webPreferences'] as { preload: string }).preload).toMatch(/preload\.cjs$/);
  });

  it('loads the page from its own scheme and lets it go nowhere else', () => {
    const { window } = opened();
    expect(window.loaded).toBe(`${PAGE_ORIGIN}/`);
    const refused = (name: string, url: string): boolean => {
      let prevented = false;
      window.contentEvents.emit(name, { url, preventDefault: () => (prevented = true) });
      return prevented;
    };
    expect(refused('will-navigate', 'https://example.org/')).toBe(true);
    expect(refused('will-navigate', 'file:///etc/passwd')).toBe(true);
    expect(refused('will-navigate', `${PAGE_ORIGIN}.example.org/`)).toBe(true);
    expect(refused('will-navigate', `${PAGE_ORIGIN}/index.html`)).toBe(false);
    expect(refused('will-redirect', `${PAGE_ORIGIN}/`)).toBe(true);
    expect(refused('will-attach-webview', '')).toBe(true);
    expect(window.windowOpen!()).toEqual({ action: 'deny' });
  });

  it('does not close over unsaved work without asking', () => {
    const { shell, window } = opened();
    const close = (): boolean => {
      let prevented = false;
      window.events.emit('close', { preventDefault: () => (prevented = true) });
      return prevented;
    };
    expect(close()).toBe(false);
    expect(electron.messageBoxes).toHaveLength(0);
    shell.showState({ title: '• Map', dirty: true });
    expect(window.title).toBe('• Map');
    electron.messageBoxAnswer = 0;
    expect(close()).toBe(true);
    electron.messageBoxAnswer = 1;
    expect(close()).toBe(false);
  });

  it('is loaded again after a crash', () => {
    const { shell, window, contents } = opened();
    recoverFromCrashes(shell);
    electron.messageBoxAnswer = 0;
    electron.appListeners.get('render-process-gone')!({}, contents, { reason: 'crashed' });
    expect(window.sent).toContain('reload');
  });

  it('opens a file at once when the page is there, else at its start', () => {
    const { shell, window } = opened();
    shell.open('/a.map.json');
    expect(window.sent).toEqual([]);
    expect(shell.takeOpening()).toBe('/a.map.json');
    shell.open('/b.map.json');
    expect(window.sent).toEqual([['crossloom:event', { kind: 'open', path: '/b.map.json' }]]);
  });
});

describe('permissions', () => {
  it('are refused, asked for or looked up; so is every address outside', () => {
    refusePermissions();
    for (const permission of ['media', 'geolocation', 'notifications', 'openExternal', 'usb', 'fileSystem']) {
      let granted: boolean | null = null;
      electron.permissionRequest!(null, permission, (answer) => (granted = answer));
      expect(granted, permission).toBe(false);
      expect(electron.permissionCheck!(null, permission)).toBe(false);
    }
    expect(electron.devicePermission!()).toBe(false);
    const cancelled = (url: string): boolean => {
      let verdict = false;
      electron.beforeRequest!({ url }, ({ cancel }) => (verdict = cancel));
      return verdict;
    };
    expect(cancelled('https://example.org/x.js')).toBe(true);
    expect(cancelled('ws://127.0.0.1:9/')).toBe(true);
    expect(cancelled(`${PAGE_ORIGIN}/assets/a.js`)).toBe(false);
  });
});

describe('the scheme', () => {
  it('is standard and secure, and serves the page alone', async () => {
    registerScheme();
    expect(electron.privileges).toEqual([
      expect.objectContaining({
        scheme: 'crossloom',
        privileges: expect.objectContaining({ standard: true, secure: true }) as unknown,
      }),
    ]);
    expect(pageFile(`${PAGE_ORIGIN}/`)).toMatch(/page.index\.html$/);
    expect(pageFile(`${PAGE_ORIGIN}/assets/a.js`)).toMatch(/page.assets.a\.js$/);
    for (const url of [
      `${PAGE_ORIGIN}/../main.mjs`,
      `${PAGE_ORIGIN}/..%2f..%2fpackage.json`,
      `${PAGE_ORIGIN}/%00.js`,
      'crossloom://other/index.html',
      'file:///etc/passwd',
    ]) {
      const file = pageFile(url);
      if (file !== null) expect(file, url).toMatch(/[\\/]page[\\/]/);
    }
    serveScheme();
    const serve = electron.schemes.get('crossloom')!;
    const page = await serve({ url: `${PAGE_ORIGIN}/`, method: 'GET' });
    expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
    expect((await serve({ url: `${PAGE_ORIGIN}/x.exe`, method: 'GET' })).status).toBe(404);
    expect((await serve({ url: `${PAGE_ORIGIN}/`, method: 'POST' })).status).toBe(404);
  });
});

describe('calls', () => {
  const frame = (url: string, parent: unknown = null): unknown => ({ url, parent });

  it('are answered to our own page alone', async () => {
    const { shell, contents } = opened();
    answerCalls(shell);
    const ask = electron.handlers.get('crossloom:call:session')!;
    expect(await ask({ sender: contents, senderFrame: frame(`${PAGE_ORIGIN}/`) }, {})).toMatchObject({
      ok: true,
      value: { shell: 'electron', version: '1.2.3' },
    });
    for (const event of [
      { sender: contents, senderFrame: frame('https://example.org/') },
      { sender: contents, senderFrame: frame(`${PAGE_ORIGIN}/`, {}) },
      { sender: contents, senderFrame: frame(`${PAGE_ORIGIN}.example.org/`) },
      { sender: {}, senderFrame: frame(`${PAGE_ORIGIN}/`) },
      { sender: contents, senderFrame: null },
    ]) {
      expect(await ask(event, {})).toEqual({ ok: false, message: 'this page may not call', faults: [] });
    }
  });

  it('check their input by the contract and fail in words', async () => {
    const { shell, contents } = opened();
    answerCalls(shell);
    const event = { sender: contents, senderFrame: frame(`${PAGE_ORIGIN}/`) };
    expect(await electron.handlers.get('crossloom:call:readText')!(event, { path: 7 })).toMatchObject({
      ok: false,
      message: expect.stringContaining('readText') as unknown,
    });
    expect(await electron.handlers.get('crossloom:call:readText')!(event, { path: 'relative.json' })).toMatchObject({
      ok: false,
    });
    expect(
      await electron.handlers.get('crossloom:call:readText')!(event, { path: '/no/such/file.json' }),
    ).toMatchObject({ ok: false, message: expect.stringContaining('no such file') as unknown });
  });
});

describe('the preload script', () => {
  it('gives the page three functions, and passes on named calls only', async () => {
    await import('../../electron/preload/preload.ts');
    const bridge = electron.exposed.get('crossloom') as {
      call: (method: unknown, input: unknown) => Promise<unknown>;
      pathOf: (file: unknown) => string;
    };
    expect(bridge.pathOf({ name: 'dropped.dbc' })).toBe('/where/it/lies/dropped.dbc');
    expect(Object.keys(bridge)).toEqual(['call', 'listen', 'pathOf']);
    await bridge.call('session', {});
    expect(electron.invoked).toEqual([['crossloom:call:session', {}]]);
    expect(await bridge.call('../evil', {})).toMatchObject({ ok: false });
    expect(await bridge.call({ toString: () => 'session' }, {})).toMatchObject({ ok: false });
    expect(electron.invoked).toHaveLength(1);
  });
});

describe('the menu', () => {
  it('names only commands that the page knows', () => {
    const { shell, window } = opened();
    const clicks: (() => void)[] = [];
    const gather = (entries: readonly Record<string, unknown>[]): void => {
      for (const entry of entries) {
        if (typeof entry['click'] === 'function') clicks.push(entry['click'] as () => void);
        if (Array.isArray(entry['submenu'])) gather(entry['submenu'] as Record<string, unknown>[]);
      }
    };
    gather(menuTemplate(shell, 'linux') as Record<string, unknown>[]);
    clicks.forEach((click) => click());
    const known = new Set(COMMANDS.map(({ id }) => id));
    expect(window.sent.length).toBeGreaterThan(15);
    for (const [, event] of window.sent as [string, { command: string }][])
      expect(known, event.command).toContain(event.command);
  });
});

describe('files from the system', () => {
  it('finds the map among the arguments', () => {
    expect(mapInArguments(['electron', 'main.mjs', 'a.map.json'], '/work')).toMatch(/a\.map\.json$/);
    expect(mapInArguments(['electron', 'main.mjs', '--flag=x.map.json'], '/work')).toBeNull();
    expect(mapInArguments(['electron'], '/work')).toBeNull();
  });
});
