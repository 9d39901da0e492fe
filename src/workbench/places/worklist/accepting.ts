import { draftRoute, type Proposal } from '../../../edit/index.ts';
import type { LeftOut, Supply } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { attempt, notify } from '../../actions/notices.ts';
import { acceptanceOf } from '../../actions/proposing.ts';
import { interfaceModuleEdit } from '../../parts/interface-module.ts';
import { pairingOf } from '../../state/derived.ts';
import type { WorkbenchStore } from '../../state/store.ts';

/** Puts the route of a proposal into the map, drafted against the map as it is now. */
export function acceptOne(store: WorkbenchStore, need: Supply, { offer }: Proposal): boolean {
  const { open } = store.getState();
  if (!open) return false;
  const draft = draftRoute(pairingOf(open.history.documents), need, offer);
  if (draft.route === null) {
    notify(store, 'plain', `Not routed: ${draft.open[0] ?? 'it cannot be drafted'}`);
    return false;
  }
  if (!change(store, `accept the route ${draft.route.id}`, draft.edits)) return false;
  notify(
    store,
    'good',
    draft.open.length === 0
      ? `Route ${draft.route.id} is in the map`
      : `Route ${draft.route.id} is in the map; still to decide:`,
    draft.open,
  );
  return true;
}

/** Accepts the best proposals of these needs, as one change. */
export async function acceptMany(store: WorkbenchStore, needs: readonly string[], least: number): Promise<void> {
  const { open } = store.getState();
  if (!open || needs.length === 0) return;
  const { documents } = open.history;
  const acceptance = await attempt(store, 'The proposals were not accepted', () =>
    acceptanceOf(store, documents, needs, least),
  );
  if (acceptance === null) return;
  if (store.getState().open?.history.documents !== documents) {
    notify(store, 'plain', 'The map changed while the routes were drafted: nothing was accepted; accept again');
    return;
  }
  const { edits, accepted, refused } = acceptance;
  if (accepted.length === 0) {
    notify(
      store,
      'plain',
      'No proposal could be accepted',
      refused.map(({ need, reason }) => `${need.ref}: ${reason}`),
    );
    return;
  }
  if (!change(store, `accept ${accepted.length} proposals`, edits)) return;
  const open_ = accepted.flatMap(({ route, open: left }) => left.map((text) => `${route.id}: ${text}`));
  const not = refused.map(({ need, reason }) => `${need.ref} was not accepted: ${reason}`);
  notify(store, 'good', `Accepted ${accepted.length} proposals${open_.length === 0 ? '' : '; still to decide:'}`, [
    ...not,
    ...open_,
  ]);
}

/** Leaves needs out with a reason, as one change. */
export function leaveOut(store: WorkbenchStore, needs: readonly Supply[], reason: string): void {
  const title = needs.length === 1 ? `leave out ${needs[0]!.ref}` : `leave out ${needs.length} needs`;
  const edits = needs.map(({ ref }) => ({
    do: 'insert' as const,
    in: 'map' as const,
    path: ['leftOut'],
    value: { signal: ref, reason: reason.trim() },
  }));
  if (change(store, title, edits))
    notify(store, 'good', needs.length === 1 ? `Left out: ${needs[0]!.ref}` : `Left out ${needs.length} needs`);
}

/** Takes an entry of what is left out back into the work. */
export function takeBack(store: WorkbenchStore, entry: LeftOut): void {
  const at = store.getState().open?.history.documents.map.leftOut?.indexOf(entry) ?? -1;
  if (at < 0) return;
  change(store, `take back ${entry.signal ?? entry.function ?? 'what was left out'}`, [
    { do: 'remove', in: 'map', path: ['leftOut', { at }] },
  ]);
}

/** Adds an interface module with a port on each bus. */
export function addInterfaceModule(store: WorkbenchStore): void {
  const { open } = store.getState();
  if (!open) return;
  if (change(store, 'add an interface module', [interfaceModuleEdit(open.history.documents)]))
    notify(
      store,
      'good',
      'An interface module with a port on each bus is in the map; its period and latency are assumed',
    );
}
