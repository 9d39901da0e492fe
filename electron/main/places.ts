import { app } from 'electron';
import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** dist/electron, where this program is bundled. */
const shellFolder = dirname(fileURLToPath(import.meta.url));

export const PAGE_FOLDER = join(shellFolder, '..', 'page');
export const PRELOAD = join(shellFolder, 'preload.cjs');

/** The sample pairing, when it is shipped with the program. */
export function samplePath(): string | null {
  const path = join(shellFolder, '..', '..', 'sample-maps', 'ft6-orrin32.map.json');
  return existsSync(path) ? path : null;
}

export const stateFolder = (): string => app.getPath('userData');
