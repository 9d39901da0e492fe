import type { Finding } from '../../../checks/index.ts';
import type { CrossloomMap, Pairing } from '../../../model/index.ts';
import { subjectWords } from '../../parts/subject.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { lift, standings, standingWords } from './waiving.ts';

/** Every waiver of the map, those that no longer count among them. */
export function WaiverList({
  map,
  pairing,
  findings,
}: {
  readonly map: CrossloomMap;
  readonly pairing: Pairing;
  readonly findings: readonly Finding[];
}) {
  const store = useWorkbenchStore();
  const all = standings(map, findings);
  if (all.length === 0) {
    return (
      <div className="empty">
        <p>
          No finding is waived. A finding that is right but accepted is answered in the list of open findings with{' '}
          <strong>Waive…</strong>: a reason, a name, and for a stop a second name.
        </p>
      </div>
    );
  }
  return (
    <div className="waivers" tabIndex={0} role="region" aria-label="Waivers">
      <table>
        <thead>
          <tr>
            <th scope="col">Standing</th>
            <th scope="col">Rule</th>
            <th scope="col">Concerns</th>
            <th scope="col">Reason</th>
            <th scope="col">By</th>
            <th scope="col">On</th>
            <th scope="col">
              <span className="visually-hidden">What can be done</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {all.map(({ waiver, standing }, index) => {
            const { mark, text } = standingWords(standing);
            return (
              <tr key={index} data-standing={standing.kind}>
                <td>
                  <span className="standing-mark" aria-hidden="true">
                    {mark}
                  </span>{' '}
                  {text}
                </td>
                <td className="mono">{waiver.rule}</td>
                <td>
                  {subjectWords(pairing, waiver.subject).title} <span className="mono soft">{waiver.subject}</span>
                </td>
                <td>{waiver.reason}</td>
                <td>
                  {waiver.by}
                  {waiver.secondBy === undefined ? '' : `, ${waiver.secondBy}`}
                </td>
                <td className="number">{waiver.on}</td>
                <td>
                  <button
                    type="button"
                    className="button"
                    aria-label={`Lift the waiver of ${waiver.rule} on ${waiver.subject}`}
                    onClick={() => lift(store, waiver)}
                  >
                    Lift
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
