import type { StandingAnswer, StandingStep, WalkStep } from '../../../compare/index.ts';
import { subjectWords } from '../../parts/subject.ts';
import { show } from '../../actions/navigate.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { PLACES } from '../index.ts';
import { takeBack } from './answering.ts';
import { StatusMark } from './marks.tsx';
import { PathTable } from './PathTable.tsx';
import { KIND_WORDS, STATUS_WORDS } from './view.ts';

const KIND_TITLES: Readonly<Record<WalkStep['kind'], string>> = {
  'interlock-path': 'Interlock path',
  'motion-value': 'Value of a motion function',
  change: 'Change',
  finding: 'Open finding',
  waiver: 'Waiver',
};

/** Everything a step of the walk puts in front of the reviewer, and what has been said of it. */
export function StepDetail({ standing }: { readonly standing: StandingStep }) {
  const { step, status, answers } = standing;
  return (
    <article className="detail step-detail" aria-label="The step">
      <header>
        <p className="step-kind">
          <StatusMark status={status} />
          <span className="soft">
            {KIND_TITLES[step.kind]} · {STATUS_WORDS[status]}
          </span>
          {step.findings.length > 0 && step.kind !== 'finding' && step.kind !== 'waiver' ? (
            <WorstFinding step={step} />
          ) : null}
        </p>
        <h2>{step.title}</h2>
        <Subjects step={step} />
      </header>
      <Says step={step} />
      <Answers answers={answers} />
      {step.elements.length > 0 ? (
        <section>
          <h3>The path, element by element</h3>
          <PathTable elements={step.elements} />
          <p className="soft small-print">
            “As” and “against the safe state” only where the function catalogue and the documents decide it. Single
            failures; what a failure does to other circuits is not in it.
          </p>
        </section>
      ) : null}
      {step.kind === 'finding' || step.kind === 'waiver' ? null : <Found step={step} />}
      <section>
        <h3>{step.kind === 'change' ? 'What differs' : 'Facts'}</h3>
        <Facts step={step} />
      </section>
      <p className="soft small-print">
        An answer stands for the digest of these facts: <span className="mono">{step.digest.slice(0, 16)}…</span>
      </p>
    </article>
  );
}

function WorstFinding({ step }: { readonly step: WalkStep }) {
  const open = step.findings.filter(({ waived }) => waived === null);
  const worst = open[0]?.severity;
  return worst === undefined ? null : (
    <span className="severity" data-severity={worst}>
      {open.length} {open.length === 1 ? 'finding' : 'findings'}, {worst}
    </span>
  );
}

function Subjects({ step }: { readonly step: WalkStep }) {
  const store = useWorkbenchStore();
  const pairing = pairingOf(useWorkbench((state) => state.open!.history.documents));
  const [subject] = step.subjects;
  if (subject === undefined || subject === 'map') return null;
  const words = subjectWords(pairing, subject);
  const isThere = step.changes.every(({ kind, subject: of }) => kind !== 'removed' || of !== subject);
  return (
    <p className="step-subject">
      <span className="mono soft">
        {step.subjects.slice(0, 4).join(', ')}
        {step.subjects.length > 4 ? ` and ${step.subjects.length - 4} more` : ''}
      </span>
      {isThere
        ? words.places.slice(0, 2).map((place) => (
            <button
              key={place}
              type="button"
              className="button small"
              onClick={() => show(store, words.selects ?? subject, place)}
            >
              Show in {PLACES.find(({ id }) => id === place)!.title}
            </button>
          ))
        : null}
    </p>
  );
}

function Says({ step }: { readonly step: WalkStep }) {
  if (step.says.length === 0) return null;
  return (
    <div className="step-says">
      {step.says.map((words, at) => (
        <p key={at} data-loud={words.startsWith('NOT ') || undefined} data-long={words.length > 240 || undefined}>
          {words}
        </p>
      ))}
    </div>
  );
}

function Found({ step }: { readonly step: WalkStep }) {
  const store = useWorkbenchStore();
  if (step.findings.length === 0) return null;
  return (
    <section>
      <h3>What the rules found here</h3>
      <ul className="found-list">
        {step.findings.map((finding, at) => (
          <li key={at}>
            <span className="severity" data-severity={finding.severity}>
              {finding.severity}
            </span>
            <span>
              {finding.message}
              {finding.waived === null ? null : <span className="soft"> (waived by {finding.waived.by})</span>}
            </span>
            <button
              type="button"
              className="button small"
              aria-label={`Show the finding of ${finding.rule}`}
              onClick={() => show(store, finding.subject, 'findings')}
            >
              Show
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Facts({ step }: { readonly step: WalkStep }) {
  if (step.facts.length === 0) return <p className="soft">Nothing more is said.</p>;
  return (
    <table className="facts-table">
      <tbody>
        {step.facts.map(({ name, value, unit }, at) => (
          <tr key={at}>
            <th scope="row">{name}</th>
            <td>
              <FactValue value={String(value)} isChange={step.kind === 'change'} />
              {unit === '' ? null : <> {unit}</>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** A changed value: what it was, struck out, and what it is. */
function FactValue({ value, isChange }: { readonly value: string; readonly isChange: boolean }) {
  const at = isChange ? value.indexOf(' → ') : -1;
  if (at < 0) return value;
  return (
    <>
      <del>{value.slice(0, at)}</del> <span aria-hidden="true">→</span>
      <span className="visually-hidden">became</span> <ins>{value.slice(at + 3)}</ins>
    </>
  );
}

function Answers({ answers }: { readonly answers: readonly StandingAnswer[] }) {
  const store = useWorkbenchStore();
  if (answers.length === 0) return null;
  return (
    <section>
      <h3>Answers</h3>
      <ul className="answer-list">
        {answers.map(({ answer, stale }) => (
          <li key={`${answer.by} ${answer.step}`} data-stale={stale || undefined}>
            <StatusMark status={stale ? 'stale' : answer.verdict} />
            <span>
              <strong>{answer.verdict}</strong>
              {stale ? <strong className="stale-word"> stale: the facts have changed since</strong> : null}
              {answer.text === undefined ? null : <span className="answer-text">{answer.text}</span>}
              <span className="soft">
                {answer.by}, {answer.on}
              </span>
            </span>
            <button
              type="button"
              className="button small"
              aria-label={`Take back the answer of ${answer.by}`}
              onClick={() => takeBack(store, [answer])}
            >
              Take back
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The kind of a step in a word, for lists. */
export function kindWord(step: WalkStep): string {
  return KIND_WORDS[step.kind];
}
