import { beginHistory } from '../../edit/index.ts';
import type { JournalEntry } from '../../host/interface/contract.ts';
import { readMap, readPlatform, writeMap, writePlatform } from '../../model/index.ts';
import type { WorkbenchStore } from '../state/store.ts';
import { ask } from './ask.ts';
import { dirty } from './change.ts';
import { attempt, notify } from './notices.ts';
import { NOT_ON_DISK, beside, documentOf, readPairing, showPairing, textsOf } from './open.ts';

const JOURNAL_AFTER_MS = 800;

/** Writes unsaved work to the journal shortly after each change; drops it when everything is saved again. */
export function keepJournal(store: WorkbenchStore): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let written = false;
  const forget = async (path: string | null): Promise<void> => {
    written = false;
    await attempt(store, 'The journal was not removed', () => store.getState().host.call('dropJournal', { path }));
  };
  const write = async (): Promise<void> => {
    const { open, host } = store.getState();
    if (!open) return;
    if (dirty(store)) {
      written = true;
      await attempt(store, 'The journal was not written', () =>
        host.call('writeJournal', { path: open.mapPath, ...textsOf(open.history.documents) }),
      );
    } else if (written) await forget(open.mapPath);
  };
  const unsubscribe = store.subscribe((state, before) => {
    if (state.open?.history.documents === before.open?.history.documents) return;
    clearTimeout(timer);
    if (state.open?.serial !== before.open?.serial) {
      // Another map was opened: its user was asked about what was unsaved, and left it.
      if (written && before.open) void forget(before.open.mapPath);
      return;
    }
    timer = setTimeout(() => void write(), JOURNAL_AFTER_MS);
  });
  return () => {
    clearTimeout(timer);
    unsubscribe();
  };
}

function when(ms: number): string {
  return new Date(ms).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}

/** After a crash: offers the unsaved work that the journal holds. */
export async function offerRecovery(store: WorkbenchStore): Promise<void> {
  const { host } = store.getState();
  const answer = await attempt(store, 'The journal could not be read', () => host.call('readJournals', {}));
  for (const entry of answer?.entries ?? []) {
    const name = entry.path ?? 'a pairing not saved yet';
    const choice = await ask(
      store,
      'Unsaved work was found',
      `${name}, changed ${when(entry.savedMs)}, was not saved when the window closed.`,
      [
        { id: 'recover', label: 'Recover it', tone: 'primary' },
        { id: 'discard', label: 'Discard it', tone: 'danger' },
        { id: 'later', label: 'Ask me next time' },
      ],
    );
    if (choice === 'discard') await host.call('dropJournal', { path: entry.path });
    if (choice === 'recover') {
      await attempt(store, 'The work could not be recovered', () => recover(store, entry));
      return;
    }
  }
}

/** The recovered documents stand as one change over what is on disk, so that it can be seen, undone and saved. */
async function recover(store: WorkbenchStore, entry: JournalEntry): Promise<void> {
  const documents = {
    map: documentOf('the journal', readMap(entry.map)),
    host: documentOf('the journal', readPlatform(entry.host)),
    donor: documentOf('the journal', readPlatform(entry.donor)),
  };
  const onDisk =
    entry.path === null
      ? null
      : await attempt(store, 'The saved files could not be read', () => readPairing(store, entry.path!));
  const base = onDisk ?? {
    mapPath: entry.path,
    hostPath: beside(entry.path ?? '', documents.map.host.platform),
    donorPath: beside(entry.path ?? '', documents.map.donor.platform),
    seen: NOT_ON_DISK,
    onDisk: null,
    history: beginHistory(documents),
  };
  const before = base.history.documents;
  const kept = {
    map: writeMap(before.map) === entry.map ? before.map : documents.map,
    host: writePlatform(before.host) === entry.host ? before.host : documents.host,
    donor: writePlatform(before.donor) === entry.donor ? before.donor : documents.donor,
  };
  const edits = (['host', 'donor', 'map'] as const)
    .filter((name) => kept[name] !== before[name])
    .map((name) => ({ do: 'set', in: name, path: [], to: kept[name] }) as never);
  const recovered = { title: 'recover unsaved work', edits, before };
  await showPairing(store, {
    ...base,
    history: { documents: kept, done: [recovered], undone: [], savedAfter: null },
  });
  notify(store, 'good', 'Recovered the unsaved work; save it to keep it');
}
