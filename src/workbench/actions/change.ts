import { isDirty, perform, redo, undo, type History } from '../../edit/index.ts';
import { EditPathError, type Edit } from '../../model/index.ts';
import type { WorkbenchStore } from '../state/store.ts';
import { notify } from './notices.ts';

function replaceHistory(store: WorkbenchStore, next: (history: History) => History): boolean {
  const { open } = store.getState();
  if (!open) return false;
  const history = next(open.history);
  if (history === open.history) return false;
  store.setState({ open: { ...open, history } });
  return true;
}

/** Changes the documents; the title stands in "Undo …". What leads nowhere is told and changes nothing. */
export function change(store: WorkbenchStore, title: string, edits: readonly Edit[]): boolean {
  try {
    return replaceHistory(store, (history) => perform(history, title, edits));
  } catch (error) {
    if (!(error instanceof EditPathError)) throw error;
    notify(store, 'bad', `${title} was not done: ${error.message}`);
    return false;
  }
}

export function undoLast(store: WorkbenchStore): void {
  const title = store.getState().open?.history.done.at(-1)?.title;
  if (replaceHistory(store, undo)) notify(store, 'plain', `Undone: ${title}`);
}

export function redoLast(store: WorkbenchStore): void {
  const title = store.getState().open?.history.undone.at(-1)?.title;
  if (replaceHistory(store, redo)) notify(store, 'plain', `Done again: ${title}`);
}

export function dirty(store: WorkbenchStore): boolean {
  const { open } = store.getState();
  return open !== null && isDirty(open.history);
}
