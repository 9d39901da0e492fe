import { useMemo, useState } from 'react';
import { draftRoute, propose, type Draft, type NeedProposals } from '../../../edit/index.ts';
import type { Pairing, Supply } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { select } from '../../actions/navigate.ts';
import { notify } from '../../actions/notices.ts';
import { choicesOfEnds } from '../../parts/route-editor/choices.ts';
import { Combo } from '../../parts/route-editor/Combo.tsx';
import '../../parts/route-editor/route-editor.css';
import { titleOfEndpoint, titleOfFunction } from '../../parts/subject.ts';
import { derivationOf } from '../../state/derived.ts';
import { useWorkbenchStore, type WorkbenchStore } from '../../state/store.ts';

/** What could meet one need. Asked with that need alone, so that it is quick on a large map. */
function proposalsFor(pairing: Pairing, need: Supply): NeedProposals | null {
  const { offers } = derivationOf(pairing);
  return propose(pairing, { offers, needs: new Map([[need.ref, need]]) })[0] ?? null;
}

function accept(store: WorkbenchStore, draft: Draft): void {
  if (draft.route === null) return;
  if (!change(store, `accept a route for ${draft.route.to}`, draft.edits)) return;
  select(store, `route:${draft.route.id}`);
  if (draft.open.length > 0) notify(store, 'plain', 'The route is in the map; still to decide:', draft.open);
}

/** An unmet need: why it is one, what could meet it, or why it is left out. */
export function NeedPanel({ pairing, needRef }: { readonly pairing: Pairing; readonly needRef: string }) {
  const store = useWorkbenchStore();
  const need = derivationOf(pairing).needs.get(needRef);
  const found = useMemo(() => (need ? proposalsFor(pairing, need) : null), [pairing, need]);
  const [reason, setReason] = useState('');
  const [own, setOwn] = useState<Draft | null>(null);
  if (!need) return null;
  const endpoint = pairing.find(needRef);
  const builds = found ? pairing.options.describe(found.unmet) : [];
  const leaveOut = (): void => {
    const value = { signal: needRef, reason: reason.trim() };
    change(store, `leave out ${needRef}`, [{ do: 'insert', in: 'map', path: ['leftOut'], value }]);
  };
  return (
    <article className="detail need-panel" aria-label={`Need ${needRef}`}>
      <header>
        <p className="soft">unmet need</p>
        <h2>{endpoint ? titleOfEndpoint(endpoint) : needRef}</h2>
        <p className="mono soft">{needRef}</p>
      </header>
      <p>
        {need.because}. {need.function === null ? '' : `It is for: ${titleOfFunction(need.function)}.`}
        {builds.length === 0 ? '' : ` Open in the builds ${builds.join('; ')}.`}
      </p>
      <section>
        <h3>Proposals</h3>
        {!found || found.proposals.length === 0 ? (
          <p className="soft">No offer comes near: choose one below, or leave it out with a reason.</p>
        ) : (
          <ol className="proposals">
            {found.proposals.map(({ offer, score, reasons, draft }, index) => (
              <li key={offer.ref}>
                <p>
                  <strong className="mono">{offer.ref}</strong> <span className="soft">{score} points</span>
                </p>
                <ul className="bullets soft">
                  {reasons.map(({ text, points }) => (
                    <li key={text}>
                      {text}{' '}
                      <span className="number">({points > 0 ? `+${points}` : String(points).replace('-', '−')})</span>
                    </li>
                  ))}
                </ul>
                <DraftView draft={draft} isFirst={index === 0} onAccept={() => accept(store, draft)} />
              </li>
            ))}
          </ol>
        )}
      </section>
      <section>
        <h3>Another offer</h3>
        <Combo
          label="Another offer"
          value=""
          placeholder="Search signals and wires…"
          clearsOnChoose
          choices={choicesOfEnds(pairing, 'from')}
          onChoose={(ref) => {
            const offer = ref === null ? undefined : derivationOf(pairing).offers.get(ref);
            if (!offer) return 'nothing retained sends this: it is no offer';
            setOwn(draftRoute(pairing, need, offer));
            return null;
          }}
        />
        {own === null ? null : (
          <div className="proposals">
            <p className="mono">{own.route?.from.join(', ')}</p>
            <DraftView draft={own} isFirst={false} onAccept={() => accept(store, own)} />
          </div>
        )}
      </section>
      <section>
        <h3>Leave it out</h3>
        <label className="leave-out">
          reason
          <textarea className="field" value={reason} onChange={(event) => setReason(event.target.value)} />
        </label>
        <button type="button" className="button" disabled={reason.trim() === ''} onClick={leaveOut}>
          Leave out with this reason
        </button>
      </section>
    </article>
  );
}

function DraftView({
  draft,
  isFirst,
  onAccept,
}: {
  readonly draft: Draft;
  readonly isFirst: boolean;
  readonly onAccept: () => void;
}) {
  return (
    <div className="draft">
      {draft.route === null ? null : (
        <p>
          becomes {draft.route.carrier === 'interface' ? `an interface route through ${draft.route.by}` : 'a hard wire'}
          {draft.route.steps?.length ? `, steps: ${draft.route.steps.map((step) => step.do).join(', ')}` : ', no steps'}
        </p>
      )}
      {draft.open.map((text) => (
        <p key={text} className="soft">
          {draft.route === null ? 'cannot be routed: ' : 'to decide: '}
          {text}
        </p>
      ))}
      {draft.route === null ? null : (
        <button
          type="button"
          className={isFirst ? 'button primary small' : 'button small'}
          data-first-field={isFirst || undefined}
          onClick={onAccept}
        >
          Accept
        </button>
      )}
    </div>
  );
}
