import { useState } from 'react';
import type { WalkStanding } from '../../../compare/index.ts';
import type { SpecRequest } from '../../../host/interface/contract.ts';
import { attempt } from '../../actions/notices.ts';
import { useReview } from '../../actions/reviewing.ts';
import { Sheet } from '../../shell/Sheet.tsx';
import { useWorkbenchStore } from '../../state/store.ts';
import { handOut } from '../hand-over/rendering.ts';
import { renderDocument } from '../../actions/render.ts';
import { FORMAT_WORDS, SPEC_CARDS } from '../hand-over/specs.ts';

const CARD = SPEC_CARDS.find(({ id }) => id === 'review')!;

/** Hands the review record over: what was looked at, who answered what to which facts, what is open. */
export function RecordButton({ standing }: { readonly standing: WalkStanding | null }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <>
      <button type="button" className="button small" onClick={() => setOpen(true)}>
        Review record…
      </button>
      {isOpen ? <RecordSheet standing={standing} onClose={() => setOpen(false)} /> : null}
    </>
  );
}

function RecordSheet({ standing, onClose }: { readonly standing: WalkStanding | null; readonly onClose: () => void }) {
  const store = useWorkbenchStore();
  const { base } = useReview();
  const [busy, setBusy] = useState<SpecRequest['format'] | null>(null);
  const give = async (format: SpecRequest['format']): Promise<void> => {
    setBusy(format);
    const done = await attempt(store, 'The review record was not written', async () => {
      await handOut(store, await renderDocument(store, { spec: CARD.id, format: format, build: null }));
      return true;
    });
    setBusy(null);
    if (done) onClose();
  };
  const open = standing === null ? 0 : standing.counts.open + standing.counts.stale;
  return (
    <Sheet title="Review record" onClose={onClose} width="wide">
      <div className="form-rows">
        <p className="sheet-text">
          It holds {CARD.holds}; the digests of map and platforms, and lines for names. It says what was looked at, by
          whom, and what they answered: not that the map is right or the vehicle fit for the road.
        </p>
        <p className="soft">
          {base === null
            ? 'No earlier revision is chosen, so it holds no changes.'
            : `Compared with revision ${base.documents.map.revision}.`}{' '}
          {open === 0 ? '' : `${open} steps have no answer to the facts as they are; they are printed as open.`}
        </p>
        <div className="sheet-actions">
          <button type="button" className="button" onClick={onClose}>
            Cancel
          </button>
          {CARD.formats.map((format, at) => (
            <button
              key={format}
              type="button"
              className={at === 0 ? 'button primary' : 'button'}
              disabled={busy !== null}
              onClick={() => void give(format)}
            >
              {busy === format ? 'Writing …' : FORMAT_WORDS[format]}
            </button>
          ))}
        </div>
      </div>
    </Sheet>
  );
}
