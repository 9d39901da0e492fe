import { useMemo, useState } from 'react';
import { deriveNeedsAndOffers, isId, pair } from '../../../../model/index.ts';
import { usePlaceMemory } from '../../../parts/place-memory.ts';
import { useWorkbench, useWorkbenchStore } from '../../../state/store.ts';
import { EMPTY_DRAFT, contentOfSide, documentsOf, pathsOf, titleOf, type PairingDraft } from './draft.ts';
import { FateTable } from './FateTable.tsx';
import { NeedsColumn } from './NeedsColumn.tsx';
import { saveDraft } from './saving.ts';
import { SideCard } from './SideCard.tsx';

/** What stands in the way of saving; null when nothing does. */
function missing(draft: PairingDraft, hasHost: boolean, hasDonor: boolean): string | null {
  if (!hasHost && !hasDonor) return 'Choose or read both platforms first.';
  if (!hasHost) return 'Choose or read the host platform first.';
  if (!hasDonor) return 'Choose or read the donor platform first.';
  const wrong = [...draft.host.sources, ...draft.donor.sources].find(({ bus }) => !isId(bus));
  return wrong ? `Name the bus of ${wrong.file}.` : null;
}

/** A new pairing: both platforms, the fates of their modules, what that makes needed, and its name. */
export function NewPairing({ onLeave }: { readonly onLeave: () => void }) {
  const store = useWorkbenchStore();
  const today = useWorkbench((state) => state.session!.today);
  const [draft, change] = usePlaceMemory<PairingDraft>('new-pairing', () => EMPTY_DRAFT);
  const [isSaving, setSaving] = useState(false);
  const host = useMemo(() => contentOfSide('host', draft.host, today), [draft.host, today]);
  const donor = useMemo(() => contentOfSide('donor', draft.donor, today), [draft.donor, today]);
  const pairing = useMemo(() => {
    if (!host || !donor) return null;
    const { map } = documentsOf(
      draft,
      host.platform,
      donor.platform,
      pathsOf(draft, 'new.map.json', host.platform, donor.platform),
    );
    return pair(map, host.platform, donor.platform);
  }, [draft, host, donor]);
  const derivation = useMemo(() => (pairing ? deriveNeedsAndOffers(pairing) : null), [pairing]);
  const obstacle = missing(draft, host !== null, donor !== null);

  const save = (): void => {
    setSaving(true);
    void saveDraft(store, draft).then((saved) => {
      setSaving(false);
      if (saved) {
        change(EMPTY_DRAFT);
        onLeave();
      }
    });
  };
  return (
    <div className="new-pairing">
      <div className="new-pairing-head">
        <h2>New pairing</h2>
        <p className="soft">
          Two platforms, what becomes of their modules, and a name. All of it can be changed later.
        </p>
        <button type="button" className="button push" onClick={onLeave}>
          Back
        </button>
        <button
          type="button"
          className="button"
          onClick={() => {
            change(EMPTY_DRAFT);
            onLeave();
          }}
        >
          Discard
        </button>
      </div>
      {(['host', 'donor'] as const).map((side) => {
        const content = side === 'host' ? host : donor;
        return (
          <div key={side} className="new-pairing-side" data-drop-side={side}>
            <SideCard side={side} draft={draft[side]} content={content} />
            {content ? (
              <FateTable
                side={side}
                platform={content.platform}
                derivation={derivation}
                fates={draft.fates}
                onFates={(fates) => change({ fates: { ...draft.fates, ...fates } })}
              />
            ) : null}
          </div>
        );
      })}
      <NeedsColumn pairing={pairing} derivation={derivation} />
      <form
        className="new-pairing-foot"
        onSubmit={(event) => {
          event.preventDefault();
          if (obstacle === null && !isSaving) save();
        }}
      >
        <label className="labelled">
          Title
          <input
            className="field"
            value={draft.title}
            placeholder={host && donor ? titleOf(draft, host.platform, donor.platform) : ''}
            onChange={(event) => change({ title: event.target.value })}
          />
        </label>
        <label className="check">
          <input
            type="checkbox"
            checked={draft.withInterface}
            onChange={(event) => change({ withInterface: event.target.checked })}
          />
          Add an interface module with a port on each bus
        </label>
        <span className="soft push" role="status">
          {obstacle ?? ''}
        </span>
        <button type="submit" className="button primary" disabled={obstacle !== null || isSaving}>
          Save the pairing…
        </button>
      </form>
    </div>
  );
}
