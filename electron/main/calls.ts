import { app, dialog, ipcMain, type IpcMainInvokeEvent } from 'electron';
import {
  UnusableInput,
  createHostService,
  renderSpecRequest,
  type FilePurpose,
  type HostService,
} from '../../src/host/index.ts';
import { CALL_CHANNELS } from '../ipc/channels.ts';
import type { CallAnswer } from '../ipc/names.ts';
import { samplePath, stateFolder } from './places.ts';
import { PAGE_ORIGIN } from './scheme.ts';
import type { Shell } from './shell.ts';

const FILTERS: Readonly<Partial<Record<FilePurpose, { name: string; extensions: string[] }>>> = {
  'open-map': { name: 'Crossloom map', extensions: ['map.json', 'json'] },
  'open-platform': { name: 'Crossloom platform', extensions: ['platform.json', 'json'] },
  'open-dbc': { name: 'DBC file', extensions: ['dbc'] },
  'open-log': { name: 'Log', extensions: ['log', 'txt', 'candump', 'csv'] },
  'save-map': { name: 'Crossloom map', extensions: ['map.json'] },
  'save-platform': { name: 'Crossloom platform', extensions: ['platform.json'] },
};

/** Whether a call comes from our own page, in the top frame of our own window. */
export function isOurPage(
  event: Pick<IpcMainInvokeEvent, 'senderFrame' | 'sender'>,
  shell: Pick<Shell, 'window'>,
): boolean {
  const frame = event.senderFrame;
  const window = shell.window();
  if (!frame || !window || event.sender !== window.webContents || frame.parent !== null) return false;
  return frame.url === `${PAGE_ORIGIN}/` || frame.url.startsWith(`${PAGE_ORIGIN}/`);
}

async function chooseFile(shell: Shell, purpose: FilePurpose, suggested: string | undefined): Promise<string | null> {
  const window = shell.window();
  if (!window) return null;
  const filter = FILTERS[purpose];
  const filters = filter ? { filters: [filter] } : {};
  if (purpose.startsWith('save') && purpose !== 'save-export') {
    const { canceled, filePath } = await dialog.showSaveDialog(window, {
      ...(suggested ? { defaultPath: suggested } : {}),
      ...filters,
    });
    return canceled || !filePath ? null : filePath;
  }
  const folder = purpose === 'open-folder' || purpose === 'save-export';
  const { canceled, filePaths } = await dialog.showOpenDialog(window, {
    properties: folder ? ['openDirectory', 'createDirectory'] : ['openFile'],
    ...(suggested ? { defaultPath: suggested } : {}),
    ...filters,
  });
  return canceled ? null : (filePaths[0] ?? null);
}

async function answer(service: HostService, method: string, input: unknown): Promise<CallAnswer> {
  try {
    return { ok: true, value: await service.call(method, input) };
  } catch (error) {
    const faults = error instanceof UnusableInput ? error.faults : [];
    return { ok: false, message: error instanceof Error ? error.message : 'the call failed', faults };
  }
}

/** Answers every call of the page; anyone else is refused. */
export function answerCalls(shell: Shell): void {
  const now = (): Date => new Date();
  const service = createHostService({
    shell: 'electron',
    version: app.getVersion(),
    root: null,
    opens: () => shell.takeOpening(),
    sample: samplePath(),
    stateFolder: stateFolder(),
    today: () => now().toISOString().slice(0, 10),
    nowMs: () => now().getTime(),
    emit: (event) => shell.send(event),
    chooseFile: (purpose, suggested) => chooseFile(shell, purpose, suggested),
    showState: (state) => shell.showState(state),
    renderSpec: (request, today, watch) => renderSpecRequest(request, today, app.getVersion(), watch),
  });
  for (const { method, channel } of CALL_CHANNELS) {
    ipcMain.handle(channel, (event, input: unknown): Promise<CallAnswer> => {
      if (!isOurPage(event, shell))
        return Promise.resolve({ ok: false, message: 'this page may not call', faults: [] });
      return answer(service, method, input);
    });
  }
  app.on('will-quit', () => service.close());
}
