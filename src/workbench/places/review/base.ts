import { chooseFile } from '../../actions/ask.ts';
import { attempt } from '../../actions/notices.ts';
import { readPairing } from '../../actions/open.ts';
import { compareWith } from '../../actions/reviewing.ts';
import type { WorkbenchState, WorkbenchStore } from '../../state/store.ts';

/** Takes an earlier revision from a file that the user chooses. */
export async function chooseBase(store: WorkbenchStore): Promise<void> {
  const path = await chooseFile(store, 'open-map');
  if (path !== null) await baseFromFile(store, path);
}

/** Takes an earlier revision from a file. */
export async function baseFromFile(store: WorkbenchStore, path: string): Promise<void> {
  await attempt(store, 'The earlier revision was not read', async () => {
    const { history } = await readPairing(store, path);
    compareWith(store, { from: path, documents: history.documents });
  });
}

/** Compares with what the file held when it was last read or saved. */
export function baseFromDisk(store: WorkbenchStore): void {
  const { open } = store.getState();
  if (open?.onDisk) compareWith(store, { from: 'the file as it was opened or saved', documents: open.onDisk });
}

/** The sample, when the open map is another one over the same two platforms: the map that it was made from. */
export function sampleAncestor({ open, session }: Pick<WorkbenchState, 'open' | 'session'>): string | null {
  const sample = session?.sample ?? null;
  if (sample === null || open === null || open.mapPath === null || open.mapPath === sample) return null;
  return folderOf(sample) === folderOf(open.hostPath) && folderOf(sample) === folderOf(open.donorPath) ? sample : null;
}

function folderOf(path: string): string {
  return path.split(/[\\/]/).slice(0, -1).join('/');
}
