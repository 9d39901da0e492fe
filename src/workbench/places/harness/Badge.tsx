import type { Finding } from '../../../checks/index.ts';
import { show } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';

export const NO_BADGES: readonly Finding[] = [];

/** The worst of what was found on something, as a word and a count; a click goes to it. */
export function Badge({
  findings,
  isReachable = true,
}: {
  readonly findings: readonly Finding[];
  readonly isReachable?: boolean;
}) {
  const store = useWorkbenchStore();
  const worst = findings[0];
  if (!worst) return null;
  return (
    <button
      type="button"
      className="severity badge"
      data-severity={worst.severity}
      tabIndex={isReachable ? undefined : -1}
      title={findings.map(({ message }) => message).join('\n')}
      onClick={(event) => {
        event.stopPropagation();
        show(store, worst.subject, 'findings');
      }}
    >
      {worst.severity}
      {findings.length > 1 ? ` ${findings.length}` : ''}
    </button>
  );
}

/** All that was found on something, in words. */
export function FindingList({ findings }: { readonly findings: readonly Finding[] }) {
  const store = useWorkbenchStore();
  if (findings.length === 0) return null;
  return (
    <section aria-label="Findings here">
      <h3>Findings here</h3>
      <ul className="harness-findings">
        {findings.map((finding, at) => (
          <li key={at}>
            <button type="button" onClick={() => show(store, finding.subject, 'findings')}>
              <span className="severity" data-severity={finding.severity}>
                {finding.severity}
              </span>
              <span>{finding.message}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
