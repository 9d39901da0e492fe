import { mergeDocuments } from '../../compare/index.ts';
import { HostError, type HostEvent } from '../../host/interface/contract.ts';
import { readMap, readPlatform, type Edit, type PairingDocuments } from '../../model/index.ts';
import type { WorkbenchStore } from '../state/store.ts';
import { ask } from './ask.ts';
import { change, dirty } from './change.ts';
import { attempt, notify } from './notices.ts';
import { documentOf, readPairing, showPairing } from './open.ts';

type Name = keyof PairingDocuments;

/** A file of the open pairing was changed by another program: taken over when nothing is unsaved here, else merged by meaning. */
export async function changedOutside(
  store: WorkbenchStore,
  event: Extract<HostEvent, { kind: 'changed-outside' | 'removed-outside' }>,
): Promise<void> {
  const { open } = store.getState();
  if (!open) return;
  const name: Name | null =
    event.path === open.mapPath
      ? 'map'
      : event.path === open.hostPath
        ? 'host'
        : event.path === open.donorPath
          ? 'donor'
          : null;
  if (name === null) return;
  if (event.kind === 'removed-outside') {
    notify(store, 'bad', `${event.path} was removed outside; what is open here can be saved again`);
    store.setState({ open: { ...open, seen: { ...open.seen, [name]: null } } });
    return;
  }
  if (event.sha256 === open.seen[name]) return;
  if (!dirty(store)) {
    await attempt(store, `${event.path} was changed outside and cannot be read now`, async () => {
      const place = store.getState().place;
      const selection = store.getState().selection;
      await showPairing(store, await readPairing(store, open.mapPath!));
      store.setState({ place, selection });
      notify(store, 'plain', `${event.path} was changed outside: it is shown as it is now`);
    });
    return;
  }
  await attempt(store, `${event.path} was changed outside and cannot be merged now`, () =>
    mergeTheirs(store, name, event.path),
  );
}

/** Merges what the disk now holds with what is unsaved here, by meaning; where both changed the same, the user decides. */
async function mergeTheirs(store: WorkbenchStore, name: Name, path: string): Promise<void> {
  const { host, open } = store.getState();
  if (!open) return;
  const file = await host.call('readText', { path });
  const theirs = name === 'map' ? documentOf(path, readMap(file.text)) : documentOf(path, readPlatform(file.text));
  const base = open.onDisk?.[name] ?? theirs;
  const { merged, conflicts } = mergeDocuments<unknown>(base, open.history.documents[name], theirs);
  let document = merged;
  if (conflicts.length > 0) {
    const places = conflicts.map((conflict) => conflict.path || 'the document');
    const shown = places.slice(0, 6).join(', ');
    const choice = await ask(
      store,
      'A file was changed outside',
      `${path} was changed by another program, and both changed: ${shown}${places.length > 6 ? ` and ${places.length - 6} more places` : ''}. Everything else can be merged.`,
      [
        { id: 'mine', label: 'Merge, mine in these places', tone: 'primary' },
        { id: 'theirs', label: 'Merge, theirs in these places' },
        { id: 'keep', label: 'Keep all of mine; ask when I save' },
      ],
    );
    if (choice === 'theirs') document = mergeDocuments<unknown>(base, theirs, open.history.documents[name]).merged;
    else if (choice !== 'mine') return;
  }
  const edit: Edit = { do: 'set', in: name, path: [], to: document as never };
  if (!change(store, `merge ${path} as changed outside`, [edit])) throw new HostError('the document was not merged');
  store.setState(({ open: now }) =>
    now
      ? {
          open: {
            ...now,
            seen: { ...now.seen, [name]: file.sha256 },
            ...(now.onDisk ? { onDisk: { ...now.onDisk, [name]: theirs } } : {}),
          },
        }
      : {},
  );
  notify(store, 'plain', `${path} was changed outside: merged with the changes here, as one change that can be undone`);
}
