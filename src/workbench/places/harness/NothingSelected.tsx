import type { Pairing } from '../../../model/index.ts';
import { subjectWords } from '../../parts/subject.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { purposeOf } from './circuit-columns.ts';
import { nearestToLimit } from './nearest-to-limit.ts';
import type { PlanIndex } from './plan-index.ts';
import { circuitSubject } from './selected.ts';

const SHOWN = 8;

/** Before anything is chosen: how to choose, what the harness comes to, and which conductors have least to spare. */
export function NothingSelected({
  index,
  pairing,
  selection,
}: {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly selection: string | null;
}) {
  const store = useWorkbenchStore();
  const { totals } = index.plan;
  const nearest = nearestToLimit(index.plan.conductors, SHOWN);
  return (
    <div className="detail">
      <header>
        <h2>
          {selection === null ? 'The added harness' : `No circuit carries ${subjectWords(pairing, selection).title}`}
        </h2>
        <p>
          {totals.conductors} circuits, {totals.connectors} connectors, {totals.splices}{' '}
          {totals.splices === 1 ? 'splice' : 'splices'}; {totals.wireM.toFixed(1)} m of wire,{' '}
          {(totals.weightG / 1000).toFixed(2)} kg.
        </p>
      </header>
      <p className="soft">
        Choose a circuit in the table (<kbd>J</kbd> <kbd>K</kbd> walk), a cavity of a connector’s face, or a segment or
        node of the drawing (<kbd>N</kbd> <kbd>P</kbd> walk). <kbd>Enter</kbd> goes into the fields here.
      </p>
      {nearest.length === 0 ? null : (
        <section aria-label="Least to spare">
          <h3>Least to spare</h3>
          <ul className="nearest">
            {nearest.map(({ shown, share, of }) => (
              <li key={shown.facts.key}>
                <button type="button" onClick={() => select(store, circuitSubject(shown.conductor.circuit.id))}>
                  <span className="mono">{shown.conductor.circuit.id}</span>
                  <span className="circuit-purpose">{purposeOf(shown)}</span>
                  <span className="soft">{of}</span>
                  <span className={share > 1 ? 'number bad' : 'number'}>{Math.round(share * 100)} %</span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}
