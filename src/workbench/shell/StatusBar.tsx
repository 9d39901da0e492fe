import { goTo } from '../actions/navigate.ts';
import { derivationOf, pairingOf } from '../state/derived.ts';
import { progressOf } from '../state/progress.ts';
import { useWorkbench, useWorkbenchStore } from '../state/store.ts';

function CheckState() {
  const store = useWorkbenchStore();
  const checked = useWorkbench((state) => state.checked);
  if (!checked) return <span>checking …</span>;
  if (checked.failure !== null) return <span className="bad">the checks failed: {checked.failure}</span>;
  const { stop, fix, look, waived } = checked.counts;
  return (
    <button type="button" className="status-button" onClick={() => goTo(store, 'findings')} title="Go to the findings">
      {(
        [
          ['stop', stop],
          ['fix', fix],
          ['look', look],
        ] as const
      ).map(([severity, count]) => (
        <span key={severity} className={count === 0 ? 'severity none' : 'severity'} data-severity={severity}>
          {count} {severity}
        </span>
      ))}
      <span>{waived} waived</span>
      {checked.stale ? <span> · checking again …</span> : null}
    </button>
  );
}

/** The state of the work: needs met, findings, what is selected, what is under way. */
export function StatusBar() {
  const open = useWorkbench((state) => state.open);
  const selection = useWorkbench((state) => state.selection);
  const tasks = useWorkbench((state) => state.tasks);
  const checkedNow = useWorkbench(({ checked }) =>
    checked === null ? 'not-yet' : checked.stale ? 'stale' : 'current',
  );
  const version = useWorkbench((state) => state.session?.version ?? '');
  if (!open) {
    return (
      <footer className="status-bar">
        <span>Planning aid only: a qualified person must review, bench-test and road-test what comes of it.</span>
        <span className="push">Crossloom {version}</span>
      </footer>
    );
  }
  const pairing = pairingOf(open.history.documents);
  const { needs, met } = progressOf(pairing, derivationOf(pairing));
  return (
    <footer className="status-bar" data-checked={checkedNow}>
      <span>
        {met} of {needs} needs met
      </span>
      <CheckState />
      {tasks.map((task) => (
        <span key={task.id}>
          {task.title} {task.progress === null ? '…' : `${Math.round(task.progress * 100)} %`}
          {task.stop ? (
            <button type="button" className="status-button" onClick={task.stop}>
              stop
            </button>
          ) : null}
        </span>
      ))}
      <span className="push mono" title="Selected">
        {selection ?? ''}
      </span>
    </footer>
  );
}
