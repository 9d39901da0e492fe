import {
  readMap,
  readPlatform,
  writeMap,
  writePlatform,
  type DocumentFault,
  type DocumentName,
  type Edit,
  type PairingDocuments,
} from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import type { WorkbenchStore } from '../../state/store.ts';

/** Texts that are no valid documents yet, by the pairing they belong to: kept while the window lives and in the tab's storage. */
function keyOf(store: WorkbenchStore, name: DocumentName): string | null {
  const { open } = store.getState();
  return open ? `crossloom-draft ${open.mapPath ?? 'untitled'} ${name}` : null;
}

/** The text last typed that is no valid document; null when there is none. */
export function readDraft(store: WorkbenchStore, name: DocumentName): string | null {
  const key = keyOf(store, name);
  return key === null ? null : sessionStorage.getItem(key);
}

function keepDraft(store: WorkbenchStore, name: DocumentName, text: string | null): void {
  const key = keyOf(store, name);
  if (key === null) return;
  if (text === null) sessionStorage.removeItem(key);
  else sessionStorage.setItem(key, text);
}

/** The canonical text of one document. */
export function textOf(documents: PairingDocuments, name: DocumentName): string {
  return name === 'map' ? writeMap(documents.map) : writePlatform(documents[name]);
}

export interface TakenText {
  readonly faults: readonly DocumentFault[];
}

const TITLES: Readonly<Record<DocumentName, string>> = {
  map: 'edit the map as text',
  host: 'edit the host platform as text',
  donor: 'edit the donor platform as text',
};

/** Makes a text the document when it is a valid one; else keeps it as a draft and says what is wrong. */
export function takeText(store: WorkbenchStore, name: DocumentName, text: string): TakenText {
  const { open } = store.getState();
  if (!open) return { faults: [] };
  const result = name === 'map' ? readMap(text) : readPlatform(text);
  if (!result.ok) {
    keepDraft(store, name, text);
    return { faults: result.faults };
  }
  keepDraft(store, name, null);
  if (textOf({ ...open.history.documents, [name]: result.document }, name) !== textOf(open.history.documents, name)) {
    change(store, TITLES[name], [{ do: 'set', in: name, path: [], to: result.document as never } satisfies Edit]);
  }
  return { faults: [] };
}
