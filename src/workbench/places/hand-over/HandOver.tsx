import { useState } from 'react';
import type { SpecRequest } from '../../../host/interface/contract.ts';
import { show } from '../../actions/navigate.ts';
import { attempt, notify } from '../../actions/notices.ts';
import { cancelRendering, renderFollowed } from '../../actions/render.ts';
import { derivationOf, pairingOf } from '../../state/derived.ts';
import { progressOf } from '../../state/progress.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { Preview } from './Preview.tsx';
import { handOut } from './rendering.ts';
import { FORMAT_WORDS, SPEC_CARDS, type SpecCard } from './specs.ts';
import './hand-over.css';

/** Each export with a preview and what stands in its way. */
export default function HandOver() {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const [card, setCard] = useState<SpecCard>(SPEC_CARDS[0]!);
  const [build, setBuild] = useState<Readonly<Record<string, string>> | null>(null);
  const [busy, setBusy] = useState<SpecRequest['format'] | null>(null);
  const axes = documents.map.options ?? [];

  const give = async (format: SpecRequest['format']): Promise<void> => {
    setBusy(format);
    await attempt(store, `The ${card.title} was not written`, async () => {
      const title = `${card.title}, ${FORMAT_WORDS[format]}`;
      const files = await renderFollowed(store, title, { spec: card.id, format, build });
      if (files) await handOut(store, files);
      else notify(store, 'plain', `${title}: cancelled, nothing was written`);
    });
    setBusy(null);
  };

  return (
    <div className="hand-over">
      <section className="hand-over-side" aria-label="Documents">
        <ul className="spec-cards">
          {SPEC_CARDS.map((each) => (
            <li key={each.id}>
              <button type="button" className="spec-card" aria-pressed={each === card} onClick={() => setCard(each)}>
                <strong>{each.title}</strong>
                <span>{each.reader}</span>
                <span className="soft">{each.holds}</span>
              </button>
            </li>
          ))}
        </ul>
        {axes.length > 0 ? (
          <fieldset className="build-choice">
            <legend>Build</legend>
            <label>
              <input type="radio" name="build" checked={build === null} onChange={() => setBuild(null)} /> all builds,
              each row marked
            </label>
            <label>
              <input
                type="radio"
                name="build"
                checked={build !== null}
                onChange={() => setBuild(Object.fromEntries(axes.map(({ id, choices }) => [id, choices[0]!])))}
              />{' '}
              one build
            </label>
            {build
              ? axes.map(({ id, title, choices }) => (
                  <label key={id}>
                    {title ?? id}{' '}
                    <select
                      className="field"
                      value={build[id]}
                      onChange={(event) => setBuild({ ...build, [id]: event.target.value })}
                    >
                      {choices.map((choice) => (
                        <option key={choice} value={choice}>
                          {choice}
                        </option>
                      ))}
                    </select>
                  </label>
                ))
              : null}
          </fieldset>
        ) : null}
        <div className="give" role="group" aria-label={`Give out the ${card.title}`}>
          {card.formats.map((format, at) => (
            <button
              key={format}
              type="button"
              className={`button ${at === 0 ? 'primary' : ''}`}
              disabled={busy !== null}
              onClick={() => void give(format)}
            >
              {busy === format ? 'Writing …' : FORMAT_WORDS[format]}
            </button>
          ))}
        </div>
        <UnderWay />
        <InTheWay />
      </section>
      <Preview key={card.id} card={card} build={build} />
    </div>
  );
}

/** Share of the work that setting the sections is; writing the pages is the rest. */
const SECTIONS_SHARE = 0.3;

/** The document being written: how far it is, and a way to call it off. */
function UnderWay() {
  const store = useWorkbenchStore();
  const rendering = useWorkbench((state) => state.rendering);
  if (!rendering) return null;
  const { title, progress } = rendering;
  const share = progress && progress.total > 0 ? progress.done / progress.total : 0;
  const fraction = progress?.doing === 'pages' ? SECTIONS_SHARE + (1 - SECTIONS_SHARE) * share : SECTIONS_SHARE * share;
  return (
    <div className="under-way">
      <progress max={1} value={fraction} aria-label={title} />
      <span className="soft" role="status">
        {title}:{' '}
        {progress === null
          ? 'reading and checking'
          : progress.doing === 'pages'
            ? `page ${progress.done} of ${progress.total}`
            : `section ${progress.done} of ${progress.total}`}
      </span>
      <button type="button" className="button quiet" onClick={() => void cancelRendering(store)}>
        Cancel
      </button>
    </div>
  );
}

/** What stands in the way of a hand-over: open stops first, then needs and the other findings. */
function InTheWay() {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const checked = useWorkbench((state) => state.checked);
  const pairing = pairingOf(documents);
  const { needs, met } = progressOf(pairing, derivationOf(pairing));
  const [at, setAt] = useState(0);
  if (!checked) return <p className="soft">The checks are under way.</p>;
  const stops = checked.findings.filter(({ severity, waived }) => severity === 'stop' && waived === null);
  const { fix, look } = checked.counts;
  return (
    <section className="in-the-way" aria-label="What stands in the way">
      <h2>What stands in the way</h2>
      {stops.length > 0 ? (
        <>
          <p className="bad">
            <span className="severity" data-severity="stop">
              stop
            </span>{' '}
            {stops.length} open: every page carries “NOT FOR BUILD”.
          </p>
          <ul>
            {stops.slice(0, at + 8).map((finding) => (
              <li key={`${finding.rule} ${finding.subject} ${finding.message}`}>
                <button type="button" className="way-item" onClick={() => show(store, finding.subject, 'findings')}>
                  {finding.message}
                </button>
              </li>
            ))}
          </ul>
          {stops.length > at + 8 ? (
            <button type="button" className="button quiet" onClick={() => setAt(at + 20)}>
              and {stops.length - at - 8} more
            </button>
          ) : null}
        </>
      ) : (
        <p>
          No stop is open. That is what the rules examined, not a verdict on the vehicle: a qualified person reviews,
          bench-tests and road-tests it.
        </p>
      )}
      <ul>
        {needs > met ? <li>{needs - met} needs are neither routed nor left out with a reason.</li> : null}
        {fix > 0 ? <li>{fix} findings to fix are printed as open items.</li> : null}
        {look > 0 ? <li>{look} findings to look at are printed as open items.</li> : null}
        {(documents.map.signOffs ?? []).length === 0 ? <li>Nobody has signed this revision off.</li> : null}
      </ul>
    </section>
  );
}
