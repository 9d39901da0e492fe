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

/** Logs that lie beside the map and were recorded together, for choosing them at once. */
export interface LogsBeside {
  readonly names: readonly string[];
  readonly paths: readonly string[];
  readonly bytes: number;
}

/** The logs in the folder `logs` beside the map; none where there is no such folder. */
export async function logsBeside(store: WorkbenchStore): Promise<readonly LogsBeside[]> {
  const { open, host } = store.getState();
  if (open === null || open.mapPath === null) return [];
  const folder = folderOf(open.mapPath) || '.';
  const around = await host.call('listFolder', { folder });
  const logs = around.entries.find(({ kind, name }) => kind === 'folder' && name === 'logs');
  if (logs === undefined) return [];
  const { entries } = await host.call('listFolder', { folder: logs.path });
  return together(entries.filter(({ kind, name }) => kind !== 'folder' && isLogName(name))).slice(0, MOST_SHOWN);
}

/** A table of wire levels goes with the log whose name its own begins with: `drive.log` and `drive-wires.csv`. */
export function together(
  files: readonly { readonly name: string; readonly path: string; readonly bytes: number }[],
): readonly LogsBeside[] {
  const isTable = (name: string): boolean => /\.csv$/i.test(name);
  const logs = files.filter(({ name }) => !isTable(name));
  const stemOf = (name: string): string => name.replace(/\.[^.]*$/, '');
  const belongs = (table: string, log: string): boolean => stemOf(table).startsWith(stemOf(log));
  const groups = [
    ...logs.map((log) => [log, ...files.filter(({ name }) => isTable(name) && belongs(name, log.name))]),
    ...files
      .filter(({ name }) => isTable(name) && !logs.some((log) => belongs(name, log.name)))
      .map((table) => [table]),
  ];
  return groups.map((group) => ({
    names: group.map(({ name }) => name),
    paths: group.map(({ path }) => path),
    bytes: group.reduce((sum, { bytes }) => sum + bytes, 0),
  }));
}

const MOST_SHOWN = 8;

function folderOf(path: string | null): string {
  const cut = path === null ? -1 : Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\'));
  return cut < 0 ? '' : path!.slice(0, cut);
}
