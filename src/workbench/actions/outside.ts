import { HostError, type HostEvent } from '../../host/interface/contract.ts';
import { readMap, readPlatform, type Edit, type PairingDocuments } from '../../model/index.ts';
import type { WorkbenchStore } from '../state/store.ts';
import { ask } from './ask.ts';
import { change, dirty } from './change.ts';
import { attempt, notify } from './notices.ts';
import { documentOf, readPairing, showPairing } from './open.ts';

type Name = keyof PairingDocuments;

/** A file of the open pairing was changed by another program: taken over when nothing is unsaved here, asked about otherwise. */
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
  const choice = await ask(
    store,
    'A file was changed outside',
    `${event.path} was changed by another program, and there are unsaved changes here.`,
    [
      { id: 'take', label: 'Take theirs as a change I can undo', tone: 'primary' },
      { id: 'keep', label: 'Keep mine; ask when I save' },
    ],
  );
  if (choice === 'take') await attempt(store, 'It cannot be read', () => takeTheirs(store, name, event.path));
}

async function takeTheirs(store: WorkbenchStore, name: Name, path: string): Promise<void> {
  const { host, open } = store.getState();
  if (!open) return;
  const file = await host.call('readText', { path });
  const document = name === 'map' ? documentOf(path, readMap(file.text)) : documentOf(path, readPlatform(file.text));
  const edit = { do: 'set', in: name, path: [], to: document } as unknown as Edit;
  if (!change(store, `take ${path} from outside`, [edit])) throw new HostError('the document was not taken over');
  store.setState(({ open: now }) => (now ? { open: { ...now, seen: { ...now.seen, [name]: file.sha256 } } } : {}));
}
