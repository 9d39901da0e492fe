import { applyEdits, type Edit, type PairingDocuments } from '../model/index.ts';

/** One thing a person did, with the documents before it: they share every part that it did not touch. */
export interface Change {
  /** In words, for "Undo …": "accept 12 proposals". */
  readonly title: string;
  readonly edits: readonly Edit[];
  readonly before: PairingDocuments;
}

/** The documents as they are, how they became so, and what was taken back. */
export interface History {
  readonly documents: PairingDocuments;
  readonly done: readonly Change[];
  readonly undone: readonly Change[];
  /** The change after which the documents were last saved; null: before any change; 'lost': no longer reachable. */
  readonly savedAfter: Change | null | 'lost';
}

/** A history that begins with documents just read or just saved. */
export function beginHistory(documents: PairingDocuments): History {
  return { documents, done: [], undone: [], savedAfter: null };
}

/** Does something; what had been taken back is gone. Throws EditPathError and changes nothing when an edit leads nowhere. */
export function perform(history: History, title: string, edits: readonly Edit[]): History {
  if (edits.length === 0) return history;
  const documents = applyEdits(history.documents, edits);
  const savedLost =
    history.savedAfter !== null && history.savedAfter !== 'lost' && history.undone.includes(history.savedAfter);
  return {
    documents,
    done: [...history.done, { title, edits, before: history.documents }],
    undone: [],
    savedAfter: savedLost ? 'lost' : history.savedAfter,
  };
}

/** Takes the last change back; the same history when there is none. */
export function undo(history: History): History {
  const last = history.done.at(-1);
  if (!last) return history;
  return { ...history, documents: last.before, done: history.done.slice(0, -1), undone: [...history.undone, last] };
}

/** Does again what was last taken back. */
export function redo(history: History): History {
  const last = history.undone.at(-1);
  if (!last) return history;
  const documents = applyEdits(history.documents, last.edits);
  return { ...history, documents, done: [...history.done, last], undone: history.undone.slice(0, -1) };
}

/** Marks the documents as saved as they are now. */
export function markSaved(history: History): History {
  return { ...history, savedAfter: history.done.at(-1) ?? null };
}

/** Whether anything differs from what was last saved. */
export function isDirty(history: History): boolean {
  return history.savedAfter !== (history.done.at(-1) ?? null);
}
