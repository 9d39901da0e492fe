import { useEffect, useRef, useState } from 'react';
import type { DocumentName } from '../../../model/index.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { startEditor, type TextEditor } from './editor.ts';
import './text.css';

const NAMES: readonly (readonly [DocumentName, string])[] = [
  ['map', 'Map'],
  ['host', 'Host platform'],
  ['donor', 'Donor platform'],
];

/** The document that shows a subject: platforms for what they hold, the map for the rest. */
function documentOfSubject(subject: string | null): DocumentName {
  const side = /^(?:module:|bus:|connector:|feed:|ground:)?(host|donor):/.exec(subject ?? '')?.[1];
  return side === 'host' || side === 'donor' ? side : 'map';
}

/** The documents as text, with completions, hovers and findings at their place; both directions live. */
export default function TextPlace() {
  const store = useWorkbenchStore();
  const selection = useWorkbench((state) => state.selection);
  const [shown, setShown] = useState<DocumentName>(() => documentOfSubject(store.getState().selection));
  const [unfinished, setUnfinished] = useState<ReadonlySet<DocumentName>>(new Set());
  const holder = useRef<HTMLDivElement>(null);
  const editor = useRef<TextEditor | null>(null);

  useEffect(() => {
    const started = startEditor(holder.current!, store, setUnfinished);
    editor.current = started;
    return () => {
      editor.current = null;
      started.dispose();
    };
  }, [store]);
  useEffect(() => editor.current?.show(shown), [shown]);
  useEffect(() => {
    if (selection !== null && documentOfSubject(selection) === shown) editor.current?.reveal(selection);
  }, [selection, shown]);

  return (
    <div className="text-place">
      <div className="text-bar" role="toolbar" aria-label="Documents">
        {NAMES.map(([name, title]) => (
          <button
            key={name}
            type="button"
            className="button"
            aria-pressed={shown === name}
            onClick={() => setShown(name)}
          >
            {title}
            {unfinished.has(name) ? ' (not valid yet)' : ''}
          </button>
        ))}
        {unfinished.has(shown) ? (
          <>
            <span className="bad">
              This text is not a valid document: it is kept here, and the pairing stays as it was, until the marked
              places are mended.
            </span>
            <button type="button" className="button" onClick={() => editor.current?.restore(shown)}>
              Put the document back
            </button>
          </>
        ) : (
          <span className="soft">
            Valid text changes the pairing at once; Ctrl+Space completes, F8 goes to the next mark.
          </span>
        )}
      </div>
      <div ref={holder} className="text-editor" />
    </div>
  );
}
