import { readMap, readPlatform, writeMap, writePlatform } from '../../../../model/index.ts';
import { HostError } from '../../../../host/interface/contract.ts';
import { ask, chooseFile } from '../../../actions/ask.ts';
import { goTo } from '../../../actions/navigate.ts';
import { attempt, notify } from '../../../actions/notices.ts';
import { documentOf, leavePairing, readPairing, showPairing } from '../../../actions/open.ts';
import type { WorkbenchStore } from '../../../state/store.ts';
import { contentOfSide, documentsOf, idFromText, pathsOf, titleOf, type PairingDraft } from './draft.ts';

/** Writes one new document; asks before it replaces a file. False: the user keeps what is there. */
async function write(store: WorkbenchStore, path: string, text: string, seen: string | null): Promise<boolean> {
  const { host } = store.getState();
  const answer = await host.call('writeText', { path, text, expects: seen });
  if (answer.saved) return true;
  const choice = await ask(
    store,
    seen === null ? 'Replace the file?' : 'The file was changed outside',
    seen === null ? `${path} exists already.` : `${path} was changed by another program since it was read here.`,
    [
      { id: 'replace', label: 'Replace it', tone: 'danger' },
      { id: 'stay', label: 'Do not save', tone: 'primary' },
    ],
  );
  if (choice !== 'replace') return false;
  await host.call('writeText', { path, text, expects: answer.sha256 });
  return true;
}

/**
 * Saves a draft as a map and its platforms and opens it from disk. True: it is open, and the draft is done with. Nothing is
 * written unless all three documents read back without a fault.
 */
export async function saveDraft(store: WorkbenchStore, draft: PairingDraft): Promise<boolean> {
  const { session } = store.getState();
  if (!session) return false;
  const host = contentOfSide('host', draft.host, session.today)?.platform;
  const donor = contentOfSide('donor', draft.donor, session.today)?.platform;
  if (!host || !donor) return false;
  if (!(await leavePairing(store))) return false;
  const suggested = `${idFromText(titleOf(draft, host, donor), 'pairing')}.map.json`;
  const chosen = await attempt(store, 'Choosing a file failed', () => chooseFile(store, 'save-map', suggested));
  if (chosen === null) return false;
  const mapPath = chosen.endsWith('.map.json') ? chosen : `${chosen.replace(/\.json$/, '')}.map.json`;
  const saved = await attempt(store, 'The pairing was not saved', async () => {
    const paths = pathsOf(draft, mapPath, host, donor);
    const documents = documentsOf(draft, host, donor, paths);
    const texts = {
      host: writePlatform(documents.host),
      donor: writePlatform(documents.donor),
      map: writeMap(documents.map),
    };
    documentOf(paths.host, readPlatform(texts.host));
    documentOf(paths.donor, readPlatform(texts.donor));
    documentOf(paths.map, readMap(texts.map));
    for (const side of ['host', 'donor'] as const) {
      const { file } = draft[side];
      if (file !== null && file.sha256 !== null && file.platform === documents[side]) continue;
      if (!(await write(store, paths[side], texts[side], file?.sha256 ?? null)))
        throw new HostError(`${paths[side]} was kept; choose another name for the platform or the folder`);
    }
    if (!(await write(store, paths.map, texts.map, null))) throw new HostError(`${paths.map} was kept`);
    await showPairing(store, await readPairing(store, paths.map));
    return true;
  });
  if (saved === null) return false;
  notify(store, 'good', `Saved ${mapPath}`);
  goTo(store, 'worklist');
  return true;
}
