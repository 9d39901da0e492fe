import type { Finding, Mend } from '../../../checks/index.ts';
import { applyEdits, type Edit, type LeftOut, type PairingDocuments } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { notify } from '../../actions/notices.ts';
import type { WorkbenchStore } from '../../state/store.ts';

/** Mends that can be done in one go, and how many must wait for the next check. */
export interface MendPlan {
  readonly edits: readonly Edit[];
  readonly mended: number;
  readonly waiting: number;
}

/**
 * Joins the mends of several findings. A mend was worked out on the documents as they were checked, so two mends that touch
 * the same entry of a list are not both done: the second waits until the first has been checked. An edit that another mend
 * does already is done once.
 */
export function planMends(documents: PairingDocuments, mends: readonly Mend[]): MendPlan {
  const touched = new Set<string>();
  const done = new Set<string>();
  const edits: Edit[] = [];
  let after = documents;
  let mended = 0;
  let waiting = 0;
  for (const mend of mends) {
    const fresh = mend.edits.filter((edit) => !done.has(JSON.stringify(edit)));
    const entries = fresh.flatMap(entryOf);
    if (entries.some((entry) => touched.has(entry))) {
      waiting += 1;
      continue;
    }
    try {
      after = applyEdits(after, fresh);
    } catch {
      waiting += 1;
      continue;
    }
    mended += 1;
    for (const edit of fresh) done.add(JSON.stringify(edit));
    for (const entry of entries) touched.add(entry);
    edits.push(...fresh);
  }
  return { edits, mended, waiting };
}

/** The entry of a top list that an edit changes; an entry added to a top list touches none. */
function entryOf(edit: Edit): readonly string[] {
  if (edit.path.length < 2 && edit.do === 'insert') return [];
  return [`${edit.in} ${JSON.stringify(edit.path.slice(0, 2))}`];
}

/** Does the mends which the findings offer, as one change. */
export function mend(store: WorkbenchStore, findings: readonly Finding[]): void {
  const { open } = store.getState();
  const mends = findings.flatMap((finding) => (finding.mend ? [finding.mend] : []));
  if (!open || mends.length === 0) {
    notify(store, 'plain', 'No mend is known for this: it is for a person to decide');
    return;
  }
  if (mends.length === 1) {
    if (change(store, mends[0]!.title, mends[0]!.edits)) notify(store, 'good', `Mended: ${mends[0]!.title}`);
    return;
  }
  const { edits, mended, waiting } = planMends(open.history.documents, mends);
  if (!change(store, `mend ${mended} findings`, edits)) return;
  const rest =
    waiting === 0 ? '' : `; ${waiting} wait because they concern an entry just mended: mend again after the check`;
  notify(store, 'good', `Mended ${mended} findings${rest}`);
}

/**
 * The needs which a mend leaves out; none for every other mend. Leaving out wants a reason that a person gives, so such a mend
 * is never done with the reason the rule holds the place with, nor for many findings at once without being asked.
 */
export function leavesOut(mend: Mend | null): readonly string[] {
  return (mend?.edits ?? []).flatMap((edit) => {
    if (edit.do !== 'insert' || edit.in !== 'map' || edit.path.length !== 1 || edit.path[0] !== 'leftOut') return [];
    const signal = (edit.value as LeftOut).signal;
    return signal === undefined ? [] : [signal];
  });
}
