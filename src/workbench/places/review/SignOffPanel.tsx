import { useState, type FormEvent } from 'react';
import type { Finding } from '../../../checks/index.ts';
import type { WalkStanding } from '../../../compare/index.ts';
import { digestToSign } from '../../actions/reviewing.ts';
import { notify } from '../../actions/notices.ts';
import { rememberedName, rememberName } from '../../parts/person.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { WaiverList } from '../findings/WaiverList.tsx';
import '../findings/findings.css';
import { signOff, signOffFault, takeBack, withdraw } from './answering.ts';

const NO_FINDINGS: readonly Finding[] = [];

/** Who signed for what, whether it still stands, and the sheet to sign. */
export function SignOffPanel({ standing }: { readonly standing: WalkStanding | null }) {
  const documents = useWorkbench((state) => state.open!.history.documents);
  const findings = useWorkbench((state) => state.checked?.findings ?? NO_FINDINGS);
  return (
    <div className="sign-off" tabIndex={0} role="region" aria-label="Sign-off and waivers">
      <div className="sign-columns">
        <SignedList />
        <SignSheet standing={standing} findings={findings} />
      </div>
      {standing !== null && standing.elsewhere.length > 0 ? <Elsewhere standing={standing} /> : null}
      <section className="sign-waivers" aria-label="Findings answered by a waiver">
        <h2>Waivers</h2>
        <p className="soft">
          A finding is waived under Findings, a stop with two names. A waiver lapses when what it answers changes.
        </p>
        <WaiverList map={documents.map} pairing={pairingOf(documents)} findings={findings} />
      </section>
    </div>
  );
}

function SignedList() {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const digest = digestToSign(documents);
  const signed = documents.map.signOffs ?? [];
  return (
    <section aria-label="Signed off">
      <h2>Signed off</h2>
      {signed.length === 0 ? (
        <p className="soft">Nobody has signed this map off.</p>
      ) : (
        <ul className="sign-list">
          {signed.map((entry) => {
            const isStale = entry.digest !== digest;
            return (
              <li key={`${entry.by} ${entry.role} ${entry.on}`} data-stale={isStale || undefined}>
                <p>
                  <strong>{entry.by}</strong>, {entry.role}, {entry.on}
                </p>
                <p className="sign-standing">
                  {isStale ? (
                    <>
                      <span aria-hidden="true">≠</span> stale: map or platforms have changed since
                    </>
                  ) : (
                    <>
                      <span aria-hidden="true">✓</span> for exactly this map and these platforms
                    </>
                  )}
                </p>
                {entry.note === undefined ? null : <p>{entry.note}</p>}
                <p className="mono soft digest" title={entry.digest}>
                  {entry.digest}
                </p>
                <button
                  type="button"
                  className="button small"
                  aria-label={`Withdraw the sign-off of ${entry.by}`}
                  onClick={() => withdraw(store, entry)}
                >
                  Withdraw
                </button>
              </li>
            );
          })}
        </ul>
      )}
      <h3>Digest of map and platforms now</h3>
      <p className="mono digest">{digest}</p>
      <p className="soft">
        Names are plain text: anybody can type one. The digest is the evidence, SHA-256 over the canonical text of the
        map without its sign-offs and of both platforms. One changed value makes another digest.
      </p>
    </section>
  );
}

function SignSheet({
  standing,
  findings,
}: {
  readonly standing: WalkStanding | null;
  readonly findings: readonly Finding[];
}) {
  const store = useWorkbenchStore();
  const [by, setBy] = useState(rememberedName);
  const [role, setRole] = useState('reviewer');
  const [note, setNote] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const wrong = signOffFault(by, role);
    setFault(wrong);
    if (wrong !== null) return;
    rememberName(by);
    if (!signOff(store, by, role, note)) return;
    setNote('');
    notify(store, 'good', `Signed by ${by.trim()}, ${role.trim()}`);
  };
  return (
    <section aria-label="Sign">
      <h2>Sign this revision</h2>
      <p className="caution-box">
        A sign-off says who looked at what, by digest. It never says that a map is safe: what is built from it is
        bench-tested and road-tested by a qualified person, and local codes, the vehicle makers’ documents and licensed
        practice come first.
      </p>
      <OpenPoints standing={standing} findings={findings} />
      <form className="form-rows" onSubmit={submit} noValidate>
        <label>
          Your name
          <input
            className="field"
            value={by}
            aria-required="true"
            autoComplete="name"
            onChange={(event) => setBy(event.target.value)}
          />
        </label>
        <label>
          Role
          <input
            className="field"
            value={role}
            aria-required="true"
            onChange={(event) => setRole(event.target.value)}
          />
        </label>
        <label>
          Note <span className="soft">what you looked at, and how</span>
          <textarea className="field" rows={2} value={note} onChange={(event) => setNote(event.target.value)} />
        </label>
        {fault === null ? null : (
          <p className="bad" role="alert">
            {fault}
          </p>
        )}
        <div className="sheet-actions">
          <button type="submit" className="button primary">
            Sign off
          </button>
        </div>
      </form>
    </section>
  );
}

/** What is still open when one signs; it does not keep anybody from signing, but it is said. */
function OpenPoints({
  standing,
  findings,
}: {
  readonly standing: WalkStanding | null;
  readonly findings: readonly Finding[];
}) {
  const stops = findings.filter(({ severity, waived }) => severity === 'stop' && waived === null).length;
  const { objection = 0, question = 0, open = 0, stale = 0 } = standing?.counts ?? {};
  const points = [
    [stops, 'stop open', 'stops open'],
    [objection, 'objection stands', 'objections stand'],
    [question, 'question stands', 'questions stand'],
    [stale, 'answer is stale', 'answers are stale'],
    [open, 'step of the walk has no answer', 'steps of the walk have no answer'],
  ] as const;
  const said = points.filter(([count]) => count > 0);
  if (said.length === 0) return <p>Every step of the walk is agreed, and no stop is open.</p>;
  return (
    <ul className="bullets open-points" aria-label="Open when signing now">
      {said.map(([count, one, many]) => (
        <li key={one}>
          <strong>{count}</strong> {count === 1 ? one : many}
        </li>
      ))}
    </ul>
  );
}

/** Answers whose step is not in the walk. */
function Elsewhere({ standing }: { readonly standing: WalkStanding }) {
  const store = useWorkbenchStore();
  return (
    <section aria-label="Answers to steps that are not in this walk">
      <h2>Answers to steps that are not in this walk</h2>
      <p className="soft">What they were about is gone, or they were given against another earlier revision.</p>
      <ul className="answer-list">
        {standing.elsewhere.map((answer) => (
          <li key={`${answer.step} ${answer.by}`}>
            <span className="mono soft">{answer.step}</span>
            <span>
              <strong>{answer.verdict}</strong> {answer.text}{' '}
              <span className="soft">
                {answer.by}, {answer.on}
              </span>
            </span>
            <button
              type="button"
              className="button small"
              aria-label={`Take back the answer of ${answer.by} to ${answer.step}`}
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
