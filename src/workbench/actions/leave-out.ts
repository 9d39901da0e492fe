import type { Edit } from '../../model/index.ts';
import type { WorkbenchStore } from '../state/store.ts';
import { change } from './change.ts';
import { notify } from './notices.ts';

/** Leaves needs out with a reason, as one change. */
export function leaveOut(store: WorkbenchStore, needs: readonly string[], reason: string): void {
  const title = needs.length === 1 ? `leave out ${needs[0]!}` : `leave out ${needs.length} needs`;
  const edits = needs.map((signal): Edit => ({
    do: 'insert',
    in: 'map',
    path: ['leftOut'],
    value: { signal, reason: reason.trim() },
  }));
  if (change(store, title, edits))
    notify(store, 'good', needs.length === 1 ? `Left out: ${needs[0]!}` : `Left out ${needs.length} needs`);
}
