import { beginHistory } from '../../edit/index.ts';
import { HostError } from '../../host/interface/contract.ts';
import {
  pathText,
  readMap,
  readPlatform,
  writeMap,
  writePlatform,
  type DocumentFault,
  type PairingDocuments,
  type ReadResult,
} from '../../model/index.ts';
import type { OpenPairing, SeenOnDisk, WorkbenchStore } from '../state/store.ts';
import { ask, chooseFile } from './ask.ts';
import { dirty } from './change.ts';
import { attempt } from './notices.ts';
import { save } from './save.ts';

let lastSerial = 0;

function faultText(path: string, { line, column, path: inside, message, mend }: DocumentFault): string {
  const where = inside.length > 0 ? `${pathText(inside)}: ` : '';
  return `${path}:${line}:${column}: ${where}${message}${mend === null ? '' : ` (${mend})`}`;
}

/** The document in a text, or a HostError with every fault. */
export function documentOf<T>(path: string, result: ReadResult<T>): T {
  if (result.ok) return result.document;
  throw new HostError(
    `${path} cannot be opened: ${result.faults.length} ${result.faults.length === 1 ? 'fault' : 'faults'}`,
    result.faults.map((fault) => faultText(path, fault)),
  );
}

/** Where a platform lies that a map names; paths in maps use forward slashes. */
export function beside(mapPath: string, link: string): string {
  const parts = mapPath.split(/[\\/]/).slice(0, -1);
  for (const part of link.split('/')) {
    if (part === '..') {
      if (parts.length === 0 || parts.at(-1) === '..') parts.push('..');
      else parts.pop();
    } else if (part !== '.' && part !== '') parts.push(part);
  }
  const separator = mapPath.includes('\\') && !mapPath.includes('/') ? '\\' : '/';
  return parts.join(separator);
}

/** Reads a map and both platforms from disk. */
export async function readPairing(store: WorkbenchStore, mapPath: string): Promise<Omit<OpenPairing, 'serial'>> {
  const { host } = store.getState();
  const mapFile = await host.call('readText', { path: mapPath });
  const map = documentOf(mapPath, readMap(mapFile.text));
  const hostPath = beside(mapPath, map.host.platform);
  const donorPath = beside(mapPath, map.donor.platform);
  const [hostFile, donorFile] = await Promise.all([
    host.call('readText', { path: hostPath }),
    host.call('readText', { path: donorPath }),
  ]);
  const documents: PairingDocuments = {
    map,
    host: documentOf(hostPath, readPlatform(hostFile.text)),
    donor: documentOf(donorPath, readPlatform(donorFile.text)),
  };
  return {
    mapPath,
    hostPath,
    donorPath,
    seen: { map: mapFile.sha256, host: hostFile.sha256, donor: donorFile.sha256 },
    onDisk: documents,
    history: beginHistory(documents),
  };
}

/** Puts a pairing into the window and watches its files. */
export async function showPairing(store: WorkbenchStore, pairing: Omit<OpenPairing, 'serial'>): Promise<void> {
  lastSerial += 1;
  store.setState({ open: { ...pairing, serial: lastSerial }, checked: null, selection: null, place: 'loom' });
  const { host } = store.getState();
  const watched = [
    [pairing.mapPath, pairing.seen.map],
    [pairing.hostPath, pairing.seen.host],
    [pairing.donorPath, pairing.seen.donor],
  ] as const;
  const files = watched.flatMap(([path, sha256]) => (path === null ? [] : [{ path, sha256 }]));
  await host.call('watch', { paths: files.map(({ path }) => path), seen: files.map(({ sha256 }) => sha256) });
  if (pairing.mapPath !== null) {
    const { recent } = await host.call('rememberRecent', {
      path: pairing.mapPath,
      title: pairing.history.documents.map.title,
    });
    store.setState(({ session }) => (session ? { session: { ...session, recent } } : {}));
  }
}

/** Lets go of what is open: asks when something is not saved. False: the user stays. */
export async function leavePairing(store: WorkbenchStore): Promise<boolean> {
  if (!dirty(store)) return true;
  const choice = await ask(store, 'Save the changes?', 'This pairing has changes that are not saved.', [
    { id: 'save', label: 'Save', tone: 'primary' },
    { id: 'discard', label: 'Discard', tone: 'danger' },
    { id: 'stay', label: 'Stay' },
  ]);
  if (choice === 'save') return save(store);
  if (choice !== 'discard') return false;
  await store.getState().host.call('dropJournal', { path: store.getState().open?.mapPath ?? null });
  return true;
}

/** Opens a map; without a path, lets the user choose. */
export async function openMap(store: WorkbenchStore, path?: string): Promise<void> {
  if (!(await leavePairing(store))) return;
  const chosen = path ?? (await attempt(store, 'Choosing a map failed', () => chooseFile(store, 'open-map')));
  if (chosen === null || chosen === undefined) return;
  await attempt(store, 'The map was not opened', async () => showPairing(store, await readPairing(store, chosen)));
}

/** What is on disk, as digests of nothing yet, for a pairing that was never saved. */
export const NOT_ON_DISK: SeenOnDisk = { map: null, host: null, donor: null };

/** The three documents as canonical text. */
export function textsOf({ map, host, donor }: PairingDocuments): { map: string; host: string; donor: string } {
  return { map: writeMap(map), host: writePlatform(host), donor: writePlatform(donor) };
}
