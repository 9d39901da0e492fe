import { useMemo } from 'react';
import type { NeedProposals, Proposal } from '../../../edit/index.ts';
import { findFunction, type Pairing, type Supply } from '../../../model/index.ts';
import { analyseRoute, routeSentence } from '../../../translate/index.ts';
import { show } from '../../actions/navigate.ts';
import { titleOfEndpoint } from '../../parts/subject.ts';
import { useWorkbenchStore } from '../../state/store.ts';

function NeedFacts({
  need,
  unmet,
  pairing,
}: {
  readonly need: Supply;
  readonly unmet: bigint;
  readonly pairing: Pairing;
}) {
  const entry = findFunction(need.function ?? undefined);
  const builds = pairing.options.describe(unmet);
  return (
    <dl className="facts">
      <dt>Need</dt>
      <dd className="mono">{need.ref}</dd>
      <dt>Function</dt>
      <dd>
        {entry ? (
          <>
            {entry.title}{' '}
            <span className="soft">
              ({entry.criticality}, {entry.carrierRule})
            </span>
          </>
        ) : (
          <span className="soft">none given: give it one in Platforms, so that it is checked for what it is</span>
        )}
      </dd>
      <dt>Because</dt>
      <dd>
        {need.because}
        {need.by === 'declared' ? <span className="soft"> (overrides the derivation)</span> : null}
      </dd>
      <dt>Open in</dt>
      <dd>{builds.length === 0 ? 'all builds' : builds.join('; ')}</dd>
    </dl>
  );
}

/** How the offer scores, reason by reason. */
function Reasons({ proposal }: { readonly proposal: Proposal }) {
  return (
    <table>
      <caption className="visually-hidden">Reasons and their points</caption>
      <tbody>
        {proposal.reasons.map(({ text, points }, index) => (
          <tr key={index}>
            <td>{text}</td>
            <td className="number">{points > 0 ? `+${points}` : points < 0 ? `−${-points}` : '0'}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Draft({ proposal, pairing }: { readonly proposal: Proposal; readonly pairing: Pairing }) {
  const { route, open } = proposal.draft;
  const sentence = useMemo(() => (route ? routeSentence(analyseRoute(pairing, route)) : null), [route, pairing]);
  if (sentence === null)
    return (
      <div className="why-not">
        <h3>Why it is not drafted</h3>
        <ul className="bullets">
          {open.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      </div>
    );
  return (
    <div>
      <h3>The route it becomes</h3>
      <p>{sentence}</p>
      {open.length === 0 ? null : (
        <>
          <h3>Left to decide</h3>
          <ul className="bullets">
            {open.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

/** One need with what is proposed for it. */
export function NeedDetail({
  need,
  found,
  pairing,
  chosen,
  onChoose,
  onAccept,
  onLeaveOut,
}: {
  readonly need: Supply;
  /** Null while it is being worked out. */
  readonly found: NeedProposals | null;
  readonly pairing: Pairing;
  readonly chosen: number;
  readonly onChoose: (index: number) => void;
  readonly onAccept: () => void;
  readonly onLeaveOut: () => void;
}) {
  const store = useWorkbenchStore();
  const endpoint = pairing.find(need.ref);
  const proposals = found?.proposals ?? [];
  const proposal = proposals[Math.min(chosen, proposals.length - 1)];
  return (
    <article className="detail" aria-label="The need">
      <header>
        <h2>{endpoint ? titleOfEndpoint(endpoint) : need.ref}</h2>
      </header>
      <NeedFacts need={need} unmet={found?.unmet ?? need.mask} pairing={pairing} />
      {found === null ? <p className="soft">Working out what fits …</p> : null}
      {found !== null && proposals.length === 0 ? (
        <p>
          Nothing on offer fits. Leave it out with a reason, or draw a route in the Loom or in Routes from what you know
          to fit. A function given to both ends helps the proposals.
        </p>
      ) : null}
      {proposals.length > 0 ? (
        <fieldset className="proposals">
          <legend>
            Proposed{' '}
            {proposals.length > 1 ? (
              <>
                <kbd>1</kbd> … <kbd>{proposals.length}</kbd>
              </>
            ) : null}
          </legend>
          {proposals.map((each, index) => (
            <OfferChoice
              key={each.offer.ref}
              proposal={each}
              pairing={pairing}
              isChosen={each === proposal}
              onChoose={() => onChoose(index)}
            />
          ))}
        </fieldset>
      ) : null}
      <div className="actions">
        {proposal?.draft.route ? (
          <button type="button" className="button primary" onClick={onAccept}>
            Accept <kbd>Enter</kbd>
          </button>
        ) : null}
        <button type="button" className="button" onClick={onLeaveOut}>
          Leave out… <kbd>O</kbd>
        </button>
        <button type="button" className="button" onClick={() => show(store, need.ref, 'loom')}>
          Show in Loom <kbd>G</kbd>
        </button>
        <button type="button" className="button" onClick={() => show(store, need.ref, 'platforms')}>
          Platforms
        </button>
      </div>
      {proposal ? (
        <>
          <Draft proposal={proposal} pairing={pairing} />
          <section>
            <h3>Why this offer: {proposal.score} points</h3>
            <Reasons proposal={proposal} />
          </section>
        </>
      ) : null}
    </article>
  );
}

function OfferChoice({
  proposal,
  pairing,
  isChosen,
  onChoose,
}: {
  readonly proposal: Proposal;
  readonly pairing: Pairing;
  readonly isChosen: boolean;
  readonly onChoose: () => void;
}) {
  const { offer, score, draft } = proposal;
  const endpoint = pairing.find(offer.ref);
  return (
    <label className="offer" data-chosen={isChosen || undefined}>
      <input type="radio" name="proposal" checked={isChosen} onChange={onChoose} />
      <span className="offer-title">
        {endpoint ? titleOfEndpoint(endpoint) : offer.ref} <span className="mono soft">{offer.ref}</span>
      </span>
      <span className="soft">
        {draft.route === null
          ? 'cannot be routed as it is'
          : draft.route.carrier === 'interface'
            ? `through ${draft.route.by ?? 'the interface module'}`
            : draft.route.carrier}
      </span>
      <span className="number">{score}</span>
    </label>
  );
}
