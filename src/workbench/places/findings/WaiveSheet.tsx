import { useState, type FormEvent } from 'react';
import type { Finding } from '../../../checks/index.ts';
import { rememberedName, rememberName } from '../../parts/person.ts';
import { Sheet } from '../../shell/Sheet.tsx';
import { useWorkbenchStore } from '../../state/store.ts';
import { answerFault, waive } from './waiving.ts';

/** Asks for the reason and the names of a waiver. */
export function WaiveSheet({
  findings,
  onClose,
}: {
  readonly findings: readonly Finding[];
  readonly onClose: () => void;
}) {
  const store = useWorkbenchStore();
  const [reason, setReason] = useState('');
  const [by, setBy] = useState(rememberedName);
  const [secondBy, setSecondBy] = useState('');
  const [fault, setFault] = useState<string | null>(null);
  const stops = findings.filter(({ severity }) => severity === 'stop').length;
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    const answer = { reason, by, secondBy };
    const wrong = answerFault(answer, findings);
    setFault(wrong);
    if (wrong !== null) return;
    rememberName(by);
    waive(store, findings, answer);
    onClose();
  };
  return (
    <Sheet
      title={findings.length === 1 ? 'Waive this finding' : `Waive ${findings.length} findings`}
      onClose={onClose}
      width="wide"
    >
      <form className="form-rows" onSubmit={submit} noValidate>
        <p className="sheet-text">
          {findings.length === 1 ? findings[0]!.message : `One reason answers all ${findings.length} of them.`}
        </p>
        <p className="soft">
          A waiver does not change the map. It lapses by itself as soon as what it answers is no longer what it was.
        </p>
        <label>
          Reason
          <textarea
            className="field"
            value={reason}
            autoFocus
            aria-required="true"
            onChange={(event) => setReason(event.target.value)}
          />
        </label>
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
        {stops > 0 ? (
          <label>
            Second name <span className="soft">a stop is waived by two people, each of whom has looked at it</span>
            <input
              className="field"
              value={secondBy}
              aria-required="true"
              onChange={(event) => setSecondBy(event.target.value)}
            />
          </label>
        ) : null}
        {fault === null ? null : (
          <p className="bad" role="alert">
            {fault}
          </p>
        )}
        <div className="sheet-actions">
          <button type="button" className="button" onClick={onClose}>
            Cancel
          </button>
          <button type="submit" className="button primary">
            Waive
          </button>
        </div>
      </form>
    </Sheet>
  );
}
