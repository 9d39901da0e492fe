import { useCallback, useEffect, useRef, useState, type KeyboardEvent } from 'react';
import type { FileKind, FolderEntry } from '../../host/interface/contract.ts';
import type { Overlay } from '../state/store.ts';
import { useWorkbenchStore } from '../state/store.ts';
import { Sheet } from './Sheet.tsx';

type ChooseOverlay = Extract<Overlay, { kind: 'choose-file' }>;
type Purpose = ChooseOverlay['purpose'];

const TITLES: Readonly<Record<Purpose, string>> = {
  'open-map': 'Open a map',
  'open-platform': 'Choose a platform',
  'open-dbc': 'Choose a DBC file',
  'open-log': 'Choose a log',
  'save-map': 'Save the map as',
  'save-platform': 'Save the platform as',
};
const KINDS: Readonly<Record<Purpose, readonly FileKind[]>> = {
  'open-map': ['map'],
  'open-platform': ['platform'],
  'open-dbc': ['dbc'],
  'open-log': ['log'],
  'save-map': ['map'],
  'save-platform': ['platform'],
};

interface Listing {
  readonly folder: string;
  readonly parent: string | null;
  readonly entries: readonly FolderEntry[];
}

/** The page's own file dialog, for where there is no native one. */
export function FileChooser({ purpose, suggested, settle }: ChooseOverlay) {
  const store = useWorkbenchStore();
  const saves = purpose.startsWith('save');
  const cut = suggested.lastIndexOf('/');
  const list = useRef<HTMLUListElement>(null);
  const [listing, setListing] = useState<Listing | null>(null);
  const [name, setName] = useState(suggested.slice(cut + 1));
  const [fault, setFault] = useState<string | null>(null);

  const enter = useCallback(
    (folder: string): void => {
      store
        .getState()
        .host.call('listFolder', { folder })
        .then((found) => {
          setListing(found);
          setFault(null);
        })
        .catch((error: unknown) => setFault(error instanceof Error ? error.message : String(error)));
    },
    [store],
  );
  useEffect(() => enter(cut > 0 ? suggested.slice(0, cut) : '.'), [enter, cut, suggested]);

  // Another folder takes away the button that had the focus: the first of the new ones takes it.
  useEffect(() => {
    const active = document.activeElement;
    if (active === document.body || active?.getAttribute('role') === 'dialog')
      list.current?.querySelector('button')?.focus();
  }, [listing]);
  const walk = (event: KeyboardEvent): void => {
    const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    if (step === 0) return;
    const files = [...(list.current?.querySelectorAll('button') ?? [])];
    files[files.indexOf(document.activeElement as HTMLButtonElement) + step]?.focus();
    event.preventDefault();
  };

  const shown = listing?.entries.filter(({ kind }) => kind === 'folder' || KINDS[purpose].includes(kind)) ?? [];
  const inFolder = (file: string): string =>
    listing === null || listing.folder === '.' ? file : `${listing.folder}/${file}`;
  return (
    <Sheet title={TITLES[purpose]} onClose={() => settle(null)} width="wide">
      <p className="soft sheet-text mono">{listing?.folder === '.' ? 'the opened folder' : listing?.folder}</p>
      {fault ? <p className="bad sheet-text">{fault}</p> : null}
      <ul ref={list} className="file-list" aria-label="Files" onKeyDown={walk}>
        {listing !== null && listing.parent !== null ? (
          <li>
            <button type="button" className="file" onClick={() => enter(listing.parent!)}>
              ↑ up one folder
            </button>
          </li>
        ) : null}
        {shown.map((entry) => (
          <li key={entry.path}>
            <button
              type="button"
              className="file"
              onClick={() => {
                if (entry.kind === 'folder') enter(entry.path);
                else if (saves) setName(entry.name);
                else settle(entry.path);
              }}
            >
              <span>{entry.kind === 'folder' ? `${entry.name}/` : entry.name}</span>
              <span className="soft">{entry.kind === 'folder' ? '' : `${Math.ceil(entry.bytes / 1024)} KB`}</span>
            </button>
          </li>
        ))}
        {listing && shown.length === 0 ? <li className="soft sheet-text">No fitting file here.</li> : null}
      </ul>
      {saves ? (
        <form
          className="sheet-actions"
          onSubmit={(event) => {
            event.preventDefault();
            if (name.trim() !== '') settle(inFolder(name.trim()));
          }}
        >
          <input
            className="field"
            aria-label="File name"
            value={name}
            onChange={(event) => setName(event.target.value)}
            autoFocus
          />
          <button type="submit" className="button primary">
            Save
          </button>
        </form>
      ) : null}
    </Sheet>
  );
}
