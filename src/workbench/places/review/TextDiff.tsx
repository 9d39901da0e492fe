import { useEffect, useRef, useState } from 'react';
import type { DocumentName } from '../../../model/index.ts';
import type { ReviewBase } from '../../actions/reviewing.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import type { TextComparison } from './text-comparison.ts';

const NAMES: readonly (readonly [DocumentName, string])[] = [
  ['map', 'Map'],
  ['host', 'Host platform'],
  ['donor', 'Donor platform'],
];

/** The text of the two revisions side by side. The editor is loaded when this is first looked at. */
export function TextDiff({ base }: { readonly base: ReviewBase | null }) {
  const store = useWorkbenchStore();
  const [shown, setShown] = useState<DocumentName>('map');
  const [changes, setChanges] = useState<number | null>(null);
  const holder = useRef<HTMLDivElement>(null);
  const comparison = useRef<TextComparison | null>(null);

  useEffect(() => {
    if (base === null) return undefined;
    let left = false;
    void import('./text-comparison.ts').then(({ startComparison }) => {
      if (left || !holder.current) return;
      comparison.current = startComparison(holder.current, store, base.documents, setChanges);
      comparison.current.show(shown);
    });
    return () => {
      left = true;
      comparison.current?.dispose();
      comparison.current = null;
    };
    // Starts anew with another base; what is shown is followed below.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [store, base]);
  useEffect(() => {
    setChanges(null);
    comparison.current?.show(shown);
  }, [shown]);

  if (base === null)
    return (
      <div className="empty">
        <p>Choose the earlier revision above: its text and this one are then shown side by side.</p>
      </div>
    );
  return (
    <div className="text-diff">
      <div className="text-diff-bar" role="toolbar" aria-label="Documents">
        {NAMES.map(([name, title]) => (
          <button
            key={name}
            type="button"
            className="button small"
            aria-pressed={shown === name}
            onClick={() => setShown(name)}
          >
            {title}
          </button>
        ))}
        <button type="button" className="button small" onClick={() => comparison.current?.next(-1)}>
          Previous difference
        </button>
        <button type="button" className="button small" onClick={() => comparison.current?.next(1)}>
          Next difference
        </button>
        <span className="soft" role="status">
          {changes === null ? 'comparing …' : changes === 0 ? 'the texts are the same' : `${changes} places differ`}
        </span>
      </div>
      <div ref={holder} className="text-diff-editor" data-compared={changes !== null || undefined} />
    </div>
  );
}
