import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { reasonOf } from './atomic-write.ts';
import { UnusableInput } from './unusable-input.ts';

const DEEPEST = 16;
const MOST_MAPS = 20_000;

/** Whether a path is a folder; false for what is not there. */
export async function isFolder(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );
}

/**
 * Every `*.map.json` under a folder, sorted by path. Folders whose name starts with a dot, `node_modules`, and links are not
 * entered. Throws UnusableInput for a folder that cannot be read or holds none.
 */
export async function findMaps(folder: string): Promise<readonly string[]> {
  const found: string[] = [];
  const walk = async (at: string, depth: number): Promise<void> => {
    const entries = await readdir(at, { withFileTypes: true }).catch((error: unknown) => {
      throw new UnusableInput(`cannot read the folder ${at}: ${reasonOf(error)}`);
    });
    for (const entry of entries) {
      if (entry.isFile() && entry.name.endsWith('.map.json')) found.push(join(at, entry.name));
      else if (entry.isDirectory() && depth < DEEPEST && !entry.name.startsWith('.') && entry.name !== 'node_modules')
        await walk(join(at, entry.name), depth + 1);
      if (found.length > MOST_MAPS)
        throw new UnusableInput(`${folder} holds more than ${MOST_MAPS} maps; name a folder with fewer`);
    }
  };
  await walk(folder, 0);
  if (found.length === 0) throw new UnusableInput(`there is no *.map.json in ${folder} or the folders in it`);
  return found.sort();
}
