import { chooseFile } from '../../actions/ask.ts';
import type { WorkbenchStore } from '../../state/store.ts';
import { benchMemory, type ChosenLog } from './bench-state.ts';
import { benchSession } from './session.ts';

/** Whether a file's name is that of a log of frames or wire levels. */
export function isLogName(name: string): boolean {
  return /\.(log|candump|csv)$/i.test(name);
}

/** Files that were dropped: replayed together, merged by time. */
export function replayFiles(store: WorkbenchStore, files: readonly File[]): void {
  const logs = files.map((file): ChosenLog => ({ name: file.name, bytes: file.size, file, path: null }));
  benchSession(store).replay({ kind: 'logs', logs });
}

/** Lets the user choose a log on the machine and replays it; `beside` adds it to those replayed before. */
export async function chooseLog(store: WorkbenchStore, beside: boolean): Promise<void> {
  const folder = folderOf(store.getState().open?.mapPath ?? null);
  const path = await chooseFile(store, 'open-log', folder === '' ? '' : `${folder}/`);
  if (path !== null) await replayPaths(store, [path], beside);
}

/** Replays logs by their paths. */
export async function replayPaths(store: WorkbenchStore, paths: readonly string[], beside = false): Promise<void> {
  const { host } = store.getState();
  const chosen = await Promise.all(
    paths.map(async (path): Promise<ChosenLog> => {
      const { bytes } = await host.call('readPart', { path, from: 0, most: 1 });
      return { name: path.split(/[\\/]/).at(-1)!, bytes, file: null, path };
    }),
  );
  const { input } = benchMemory(store).getState();
  const before = beside && input?.kind === 'logs' ? input.logs : [];
  benchSession(store).replay({ kind: 'logs', logs: [...before, ...chosen] });
}

/** A log that lies beside the map, for choosing it at once. */
export interface LogBeside {
  readonly name: string;
  readonly path: string;
  readonly bytes: number;
}

/** The logs in the folder `logs` beside the map; none where there is no such folder. */
export async function logsBeside(store: WorkbenchStore): Promise<readonly LogBeside[]> {
  const { open, host } = store.getState();
  if (open === null || open.mapPath === null) return [];
  const folder = folderOf(open.mapPath) || '.';
  const around = await host.call('listFolder', { folder });
  const logs = around.entries.find(({ kind, name }) => kind === 'folder' && name === 'logs');
  if (logs === undefined) return [];
  const { entries } = await host.call('listFolder', { folder: logs.path });
  return entries.filter(({ kind, name }) => kind !== 'folder' && isLogName(name)).slice(0, MOST_SHOWN);
}

const MOST_SHOWN = 8;

function folderOf(path: string | null): string {
  const cut = path === null ? -1 : Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\'));
  return cut < 0 ? '' : path!.slice(0, cut);
}
