import type { LeftOut, Pairing } from '../../../model/index.ts';
import { subjectWords, titleOfFunction } from '../../parts/subject.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { takeBack } from './accepting.ts';

function nameOf(pairing: Pairing, { signal, function: functionId }: LeftOut): string {
  if (signal !== undefined) return subjectWords(pairing, signal).title;
  return functionId === undefined ? 'everything' : `function ${titleOfFunction(functionId)}`;
}

/** What is knowingly not carried, with the reasons. */
export function LeftOutList({ entries, pairing }: { readonly entries: readonly LeftOut[]; readonly pairing: Pairing }) {
  const store = useWorkbenchStore();
  if (entries.length === 0) {
    return (
      <div className="empty">
        <p>
          Nothing is left out. A need that this vehicle does without is answered in the list of open needs with{' '}
          <strong>Leave out…</strong> and a reason.
        </p>
      </div>
    );
  }
  return (
    <div className="left-out" tabIndex={0} role="region" aria-label="Left out">
      <table>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Reason</th>
            <th scope="col">In</th>
            <th scope="col">
              <span className="visually-hidden">What can be done</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {entries.map((entry, index) => {
            const builds = pairing.options.describe(pairing.options.maskOf(entry.when));
            return (
              <tr key={index}>
                <td>
                  {nameOf(pairing, entry)} <span className="mono soft">{entry.signal ?? ''}</span>
                </td>
                <td>{entry.reason}</td>
                <td>{builds.length === 0 ? 'all builds' : builds.join('; ')}</td>
                <td>
                  <button
                    type="button"
                    className="button"
                    aria-label={`Take back ${nameOf(pairing, entry)}`}
                    onClick={() => takeBack(store, entry)}
                  >
                    Take back
                  </button>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
