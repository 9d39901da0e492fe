import { findRule, type Finding } from '../../../checks/index.ts';
import type { Pairing, PairingDocuments } from '../../../model/index.ts';
import { show } from '../../actions/navigate.ts';
import { ReviewNotes } from '../../parts/ReviewNotes.tsx';
import { subjectWords, titleOfFunction } from '../../parts/subject.ts';
import { PLACES } from '../../places/index.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { MendPreview } from './MendPreview.tsx';
import { leavesOut } from './mending.ts';
import { lift, waiverOf } from './waiving.ts';

const PROVENANCE_WORDS = {
  read: 'text read',
  'from memory': 'from memory, text not at hand',
  'common practice': 'common practice',
  computed: 'computed',
} as const;

function Values({ finding }: { readonly finding: Finding }) {
  if (finding.values.length === 0) return null;
  return (
    <section>
      <h3>Values that led to it</h3>
      <table>
        <tbody>
          {finding.values.map(({ name, value, unit }, index) => (
            <tr key={index}>
              <th scope="row">{name}</th>
              <td className={typeof value === 'number' ? 'number' : undefined}>{String(value)}</td>
              <td>{unit}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Sources({ rule }: { readonly rule: string }) {
  const found = findRule(rule);
  if (!found) return null;
  return (
    <section>
      <h3>Sources</h3>
      <ul className="bullets">
        {found.sources.map(({ source, provenance }, index) => (
          <li key={index}>
            {source} <span className="soft">({PROVENANCE_WORDS[provenance]})</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** All that is known of one finding, and what can be done about it. */
export function FindingDetail({
  finding,
  pairing,
  documents,
  onMend,
  onWaive,
}: {
  readonly finding: Finding;
  readonly pairing: Pairing;
  readonly documents: PairingDocuments;
  readonly onMend: () => void;
  readonly onWaive: () => void;
}) {
  const store = useWorkbenchStore();
  const rule = findRule(finding.rule);
  const words = subjectWords(pairing, finding.subject);
  const asksReason = leavesOut(finding.mend).length > 0;
  const waiver = finding.waived === null ? null : waiverOf(documents.map, finding);
  return (
    <article className="detail" aria-label="The finding">
      <header>
        <p>
          <span className="severity" data-severity={finding.severity}>
            {finding.severity}
          </span>{' '}
          <span className="mono soft">{finding.rule}</span>
        </p>
        <h2>{rule?.title ?? finding.rule}</h2>
      </header>
      <p className="finding-message">{finding.message}</p>
      <dl className="facts">
        <dt>Concerns</dt>
        <dd>
          {words.kind} <strong>{words.title}</strong> <span className="mono soft">{words.ref}</span>
        </dd>
        {words.function === null ? null : (
          <>
            <dt>Function</dt>
            <dd>{titleOfFunction(words.function)}</dd>
          </>
        )}
        <dt>Holds for</dt>
        <dd>{finding.options.length === 0 ? 'all builds' : finding.options.join('; ')}</dd>
      </dl>
      {finding.waived === null ? (
        <>
          <section>
            <h3>Mend</h3>
            {finding.mend === null ? (
              <p className="soft">No mend can be offered: it is for a person to decide.</p>
            ) : asksReason ? (
              <p>Route it in the Worklist, or leave it out with the reason why this vehicle does without.</p>
            ) : (
              <>
                <p>{finding.mend.title}</p>
                <MendPreview mend={finding.mend} documents={documents} />
              </>
            )}
          </section>
          <div className="actions">
            {finding.mend === null ? null : (
              <button type="button" className={asksReason ? 'button' : 'button primary'} onClick={onMend}>
                {asksReason ? 'Leave out…' : 'Mend'} <kbd>M</kbd>
              </button>
            )}
            <button type="button" className="button" onClick={onWaive}>
              Waive… <kbd>W</kbd>
            </button>
          </div>
        </>
      ) : (
        <section>
          <h3>Waived</h3>
          <p>
            {finding.waived.reason}
            <br />
            <span className="soft">
              {finding.waived.by}
              {finding.waived.secondBy === null ? '' : ` and ${finding.waived.secondBy}`}, {finding.waived.on}
            </span>
          </p>
          {waiver === null ? null : (
            <div className="actions">
              <button type="button" className="button" onClick={() => lift(store, waiver)}>
                Lift the waiver <kbd>L</kbd>
              </button>
            </div>
          )}
        </section>
      )}
      <div className="actions">
        {words.places.map((place, index) => (
          <button
            key={place}
            type="button"
            className="button"
            onClick={() => show(store, words.selects ?? finding.subject, place)}
          >
            Show in {PLACES.find(({ id }) => id === place)!.title} {index === 0 ? <kbd>Enter</kbd> : null}
          </button>
        ))}
      </div>
      <ReviewNotes isAbout={(_subject, step) => step === `finding:${finding.rule} ${finding.subject}`} />
      <Values finding={finding} />
      <section>
        <h3>Why</h3>
        <p>{finding.why}</p>
      </section>
      <Sources rule={finding.rule} />
    </article>
  );
}
