import { spliceName } from '../../../wiring/index.ts';
import type { Pairing } from '../../../model/index.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { colourOf, sizeText } from './circuit-columns.ts';
import type { PlanIndex } from './plan-index.ts';
import { circuitSubject, nodeSubject, spliceSubject } from './selected.ts';
import { Swatch } from './Swatch.tsx';
import type { Trace, TraceStep } from './trace.ts';

interface TraceListProps {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly trace: Trace;
  /** Shows the face of a connector without letting go of the circuit. */
  readonly onConnector: (ref: string) => void;
}

/** A circuit end to end as a finger follows it: connector, conductor, splice or part, conductor, connector. */
export function TraceList(props: TraceListProps) {
  const { trace } = props;
  return (
    <section aria-label="End to end">
      <h3>End to end</h3>
      <ol className="trace">
        {trace.steps.map((step, at) => (
          <Step key={at} step={step} {...props} />
        ))}
      </ol>
      {trace.branches.length === 0 ? null : (
        <>
          <h3>Also in its splices</h3>
          {trace.branches.map((branch, at) => (
            <ol key={at} className="trace branch">
              {branch.steps.map((step, place) => (
                <Step key={place} step={step} {...props} />
              ))}
            </ol>
          ))}
        </>
      )}
    </section>
  );
}

function Step({ step, ...props }: TraceListProps & { readonly step: TraceStep }) {
  switch (step.kind) {
    case 'place':
      return <PlaceStep step={step} {...props} />;
    case 'conductor':
      return <ConductorStep step={step} />;
    case 'splice':
      return <SpliceStep step={step} {...props} />;
    case 'part': {
      const part = props.pairing.map.harness?.parts?.find(({ id }) => id === step.part);
      return (
        <li data-step="part">
          <span className="trace-main">
            {part?.kind ?? 'part'} <strong>{step.part}</strong>
            {part ? <span className="soft"> {part.title}</span> : null}
          </span>
          <span className="soft">
            terminal {step.enters} to {step.leaves}
          </span>
        </li>
      );
    }
  }
}

function PlaceStep({ step, index, onConnector }: TraceListProps & { readonly step: TraceStep & { kind: 'place' } }) {
  const { end, connector, facts } = step;
  const page = connector === null ? undefined : index.pages.get(connector);
  const what =
    end.kind === 'stud'
      ? `stud ${end.stud ?? 'not named'}`
      : end.kind === 'part' && connector === null
        ? `terminal ${end.terminal}`
        : end.kind === 'unknown'
          ? 'its connector and cavity are not known'
          : '';
  const fitting = [facts.joint === 'tap' ? 'spliced onto the conductor there' : facts.terminal, facts.seal].filter(
    Boolean,
  );
  return (
    <li data-step="place">
      <span className="trace-main">
        {connector === null ? (
          <strong>{end.kind === 'stud' ? end.ground : end.kind === 'part' ? end.part : facts.place}</strong>
        ) : (
          <button type="button" className="link-button" onClick={() => onConnector(connector)}>
            {connector}
          </button>
        )}{' '}
        {facts.cavity !== null && connector !== null ? (
          <>
            cavity <strong className="cavity-number">{facts.cavity}</strong>
          </>
        ) : (
          what
        )}
        {page ? <span className="soft"> {page.title}</span> : null}
      </span>
      <span className="soft">
        {[
          ...fitting,
          facts.view === null ? null : `seen from the ${facts.view === 'wire-side' ? 'wire side' : 'mating side'}`,
        ]
          .filter(Boolean)
          .join(' · ')}
      </span>
    </li>
  );
}

function ConductorStep({ step }: { readonly step: TraceStep & { kind: 'conductor' } }) {
  const store = useWorkbenchStore();
  const { shown, nodes, isSelected } = step;
  const { conductor, facts } = shown;
  const { circuit } = conductor;
  return (
    <li data-step="conductor" data-selected={isSelected || undefined}>
      <span className="trace-main">
        {isSelected ? (
          <strong className="mono">{circuit.id}</strong>
        ) : (
          <button type="button" className="link-button mono" onClick={() => select(store, circuitSubject(circuit.id))}>
            {circuit.id}
          </button>
        )}{' '}
        <Swatch colour={colourOf(shown)} /> {sizeText(conductor.size)}
        {conductor.lengthM === null ? ' · length not known' : ` · ${Number(conductor.lengthM.toFixed(3))} m`}
        {circuit.twistGroup === null ? '' : ' · twisted'}
        {circuit.conductor.shielded ? ' · shielded' : ''}
      </span>
      <span className="trace-way">
        {nodes.length === 0
          ? 'its way is not known'
          : nodes.map((node, at) => (
              <span key={at}>
                {at === 0 ? '' : ' – '}
                <button type="button" className="way-node" onClick={() => select(store, nodeSubject(node))}>
                  {node}
                </button>
              </span>
            ))}
        {facts.coverings.length === 0 ? '' : ` · ${facts.coverings.join(', ')}`}
      </span>
    </li>
  );
}

function SpliceStep({ step, index }: TraceListProps & { readonly step: TraceStep & { kind: 'splice' } }) {
  const store = useWorkbenchStore();
  const row = index.splices.get(step.id);
  return (
    <li data-step="splice">
      <span className="trace-main">
        splice{' '}
        <button type="button" className="link-button" onClick={() => select(store, spliceSubject(step.id))}>
          {spliceName(step.id)}
        </button>
      </span>
      <span className="soft">
        {step.node === null ? 'not placed' : `at ${step.node}`}
        {row?.placedBy === 'hand'
          ? ', placed by hand'
          : row?.placedBy === 'least-copper'
            ? ', placed for least copper'
            : ''}
        {row ? ` · joins ${row.conductors.map(({ circuit }) => circuit).join(', ')}` : ''}
      </span>
    </li>
  );
}
