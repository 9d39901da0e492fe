import { contextBridge, ipcRenderer, webUtils } from 'electron';
import { EVENT_CHANNEL, channelOf, type CallAnswer } from '../ipc/names.ts';

// The page gets three functions and no part of Electron or Node.
contextBridge.exposeInMainWorld('crossloom', {
  call: (method: unknown, input: unknown): Promise<CallAnswer> => {
    if (typeof method !== 'string' || !/^[a-zA-Z]{1,40}$/.test(method)) {
      return Promise.resolve({ ok: false, message: 'there is no such call', faults: [] });
    }
    return ipcRenderer.invoke(channelOf(method), input) as Promise<CallAnswer>;
  },
  listen: (onEvent: (event: unknown) => void): (() => void) => {
    const listener = (_event: unknown, value: unknown): void => onEvent(value);
    ipcRenderer.on(EVENT_CHANNEL, listener);
    return () => ipcRenderer.removeListener(EVENT_CHANNEL, listener);
  },
  /** Where a file lies that was dropped on the window; empty for one that lies nowhere. */
  pathOf: (file: File): string => webUtils.getPathForFile(file),
});
