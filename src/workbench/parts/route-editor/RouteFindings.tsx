import type { Finding } from '../../../checks/index.ts';
import type { Route } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { show } from '../../actions/navigate.ts';
import { pairingOf, routesConcerned } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';

const NONE: readonly Finding[] = [];

/** What was found about a route, its target or its conductors, each with its mend when one is known. */
export function RouteFindings({ route }: { readonly route: Route }) {
  const store = useWorkbenchStore();
  const findings = useWorkbench((state) => state.checked?.findings ?? NONE);
  const pairing = useWorkbench((state) => pairingOf(state.open!.history.documents));
  const own = findings.filter(
    ({ subject, waived }) => waived === null && routesConcerned(pairing, subject).includes(route.id),
  );
  if (own.length === 0) return null;
  return (
    <section aria-label="Findings of this strand">
      <h3>Findings</h3>
      <ul className="route-findings">
        {own.map((finding, index) => {
          const { mend } = finding;
          return (
            <li key={index}>
              <p>
                <span className="severity" data-severity={finding.severity}>
                  {finding.severity}
                </span>{' '}
                {finding.message}
              </p>
              <p className="actions">
                {mend === null ? null : (
                  <button
                    type="button"
                    className="button small primary"
                    title={mend.title}
                    onClick={() => change(store, mend.title, mend.edits)}
                  >
                    Mend: {mend.title}
                  </button>
                )}
                <button type="button" className="button small" onClick={() => show(store, finding.subject, 'findings')}>
                  Why
                </button>
              </p>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
