import { markSaved } from '../../edit/index.ts';
import { writeMap, writePlatform } from '../../model/index.ts';
import type { OpenPairing, SeenOnDisk, WorkbenchStore } from '../state/store.ts';
import { ask, chooseFile } from './ask.ts';
import { attempt, notify } from './notices.ts';

type Name = keyof SeenOnDisk;

/** Writes one document when it is not what the disk holds; asks when the file was changed by others. False: not saved. */
async function saveOne(
  store: WorkbenchStore,
  name: Name,
  path: string,
  text: string,
  seen: string | null,
): Promise<string | null> {
  const { host } = store.getState();
  let expects: string | null | 'anything' = seen;
  for (;;) {
    const answer = await host.call('writeText', { path, text, expects });
    if (answer.saved) return answer.sha256;
    const choice = await ask(
      store,
      seen === null ? 'Replace the file?' : 'The file was changed outside',
      seen === null ? `${path} exists already.` : `${path} was changed by another program since this window read it.`,
      [
        { id: 'replace', label: 'Replace it with mine', tone: 'danger' },
        { id: 'stay', label: 'Do not save', tone: 'primary' },
      ],
    );
    if (choice !== 'replace') return null;
    expects = answer.sha256;
    if (name === 'map' && seen === null) expects = 'anything';
  }
}

/** Saves what changed of the three documents. True: everything is on disk. */
export async function save(store: WorkbenchStore): Promise<boolean> {
  const { open } = store.getState();
  if (!open) return true;
  if (open.mapPath === null) return saveAs(store);
  return (await attempt(store, 'Not saved', () => writeAll(store, open, open.mapPath!))) ?? false;
}

/** Saves the map under another name; platforms stay where they are. */
export async function saveAs(store: WorkbenchStore): Promise<boolean> {
  const { open } = store.getState();
  if (!open) return true;
  const suggested = open.mapPath ?? `${open.history.documents.map.id}.map.json`;
  const path = await attempt(store, 'Choosing a file failed', () => chooseFile(store, 'save-map', suggested));
  if (path === null) return false;
  const target = path.endsWith('.map.json') ? path : `${path.replace(/\.json$/, '')}.map.json`;
  const unseen = { ...open, seen: { ...open.seen, map: target === open.mapPath ? open.seen.map : null } };
  return (await attempt(store, 'Not saved', () => writeAll(store, unseen, target))) ?? false;
}

async function writeAll(store: WorkbenchStore, open: OpenPairing, mapPath: string): Promise<boolean> {
  const { map, host, donor } = open.history.documents;
  const seen: { -readonly [K in Name]: SeenOnDisk[K] } = { ...open.seen };
  const order: readonly (readonly [Name, string, () => string, boolean])[] = [
    ['host', open.hostPath, () => writePlatform(host), open.onDisk?.host !== host],
    ['donor', open.donorPath, () => writePlatform(donor), open.onDisk?.donor !== donor],
    ['map', mapPath, () => writeMap(map), true],
  ];
  for (const [name, path, text, changed] of order) {
    if (!changed) continue;
    const sha256 = await saveOne(store, name, path, text(), seen[name]);
    if (sha256 === null) {
      notify(store, 'bad', `${path} was not saved`);
      return false;
    }
    seen[name] = sha256;
  }
  const machine = store.getState().host;
  await machine.call('dropJournal', { path: open.mapPath });
  store.setState(({ open: now }) =>
    now ? { open: { ...now, mapPath, seen, onDisk: open.history.documents, history: markSavedAt(now, open) } } : {},
  );
  await machine.call('watch', {
    paths: [mapPath, open.hostPath, open.donorPath],
    seen: [seen.map, seen.host, seen.donor],
  });
  const { recent } = await machine.call('rememberRecent', { path: mapPath, title: map.title });
  store.setState(({ session }) => (session ? { session: { ...session, recent } } : {}));
  notify(store, 'good', `Saved ${mapPath}`);
  return true;
}

/** What was typed while the files were written is not saved yet. */
function markSavedAt(now: OpenPairing, written: OpenPairing): OpenPairing['history'] {
  if (now.history === written.history || now.history.documents === written.history.documents)
    return markSaved(now.history);
  return { ...now.history, savedAfter: written.history.done.at(-1) ?? null };
}
