import { draftRoute, type Proposal } from '../../../edit/index.ts';
import type { LeftOut, Supply } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { attempt, notify } from '../../actions/notices.ts';
import { acceptanceOf } from '../../actions/proposing.ts';
import { likelyProtections, protectionEdits } from '../../parts/frame-fields.ts';
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

/** Declares every field that looks like a counter or checksum as the protection of its message, marked as inferred. */
export function declareFrameFields(store: WorkbenchStore): void {
  const { open } = store.getState();
  if (!open) return;
  const { host, donor } = open.history.documents;
  const edits = [
    ...protectionEdits('host', likelyProtections(host)),
    ...protectionEdits('donor', likelyProtections(donor)),
  ];
  if (change(store, `declare the counters and checksums of ${edits.length} messages`, edits))
    notify(
      store,
      'good',
      `Declared the counters and checksums of ${edits.length} messages, as inferred from their names`,
    );
}
