import type { Pairing } from '../../../model/index.ts';
import { show } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';
import { FindingList, NO_BADGES } from './Badge.tsx';
import { colourOf, purposeOf, sizeText } from './circuit-columns.ts';
import type { FindingsInPlace } from './findings-in-place.ts';
import type { PlanIndex } from './plan-index.ts';
import { Sizing } from './Sizing.tsx';
import { Swatch } from './Swatch.tsx';
import { TraceList } from './TraceList.tsx';
import type { Trace } from './trace.ts';

/** All of one circuit: what it is for, what was found, its way end to end, its size to try. */
export function CircuitDetail({
  index,
  pairing,
  shown,
  trace,
  findings,
  onConnector,
}: {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly shown: ShownConductor;
  readonly trace: Trace;
  readonly findings: FindingsInPlace;
  readonly onConnector: (ref: string) => void;
}) {
  const store = useWorkbenchStore();
  const { conductor, facts } = shown;
  const { circuit } = conductor;
  return (
    <article className="detail" aria-label={`Circuit ${circuit.id}`}>
      <header>
        <p className="circuit-line">
          <strong className="circuit-number">{circuit.id}</strong>
          <Swatch colour={colourOf(shown)} />
          <span>{sizeText(conductor.size)}</span>
          {circuit.criticality === null ? null : (
            <span className="class-mark">{circuit.criticality.replace('-', ' ')}</span>
          )}
          {facts.role === 'backup' ? <span className="class-mark">backup</span> : null}
        </p>
        <h2>{purposeOf(shown)}</h2>
        <p className="soft">{facts.signals.join(' · ')}</p>
        {facts.options.length === 0 ? null : <p>Fitted in: {facts.options.join('; ')}</p>}
      </header>
      <FindingList findings={findings.circuits.get(circuit.key) ?? NO_BADGES} />
      {conductor.missing.length === 0 ? null : (
        <section aria-label="To be found out">
          <h3>To be found out</h3>
          <ul className="bullets">
            {conductor.missing.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </section>
      )}
      <TraceList index={index} pairing={pairing} trace={trace} onConnector={onConnector} />
      <Sizing key={circuit.key} index={index} pairing={pairing} shown={shown} />
      {facts.conditioning.length === 0 ? null : (
        <section aria-label="Fits with">
          <h3>Fits with</h3>
          <ul className="bullets">
            {facts.conditioning.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </section>
      )}
      {circuit.note === null ? null : (
        <section aria-label="Note">
          <h3>Note</h3>
          <p>{circuit.note}</p>
        </section>
      )}
      {circuit.routeIds.length === 0 ? null : (
        <div className="actions">
          {circuit.routeIds.map((id) => (
            <button key={id} type="button" className="button small" onClick={() => show(store, `route:${id}`, 'loom')}>
              Route {id} in the Loom
            </button>
          ))}
        </div>
      )}
    </article>
  );
}
