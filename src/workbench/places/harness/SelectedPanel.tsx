import type { Pairing } from '../../../model/index.ts';
import { subjectWords } from '../../parts/subject.ts';
import { FindingList, NO_BADGES } from './Badge.tsx';
import { CircuitDetail } from './CircuitDetail.tsx';
import type { FindingsInPlace } from './findings-in-place.ts';
import { CircuitList, NodeDetail, SegmentDetail } from './PartDetail.tsx';
import type { PlanIndex } from './plan-index.ts';
import type { Selected } from './selected.ts';
import { NothingSelected } from './NothingSelected.tsx';
import { SpliceDetail } from './SpliceDetail.tsx';
import type { Trace } from './trace.ts';

/** What is selected, in full. */
export function SelectedPanel({
  index,
  pairing,
  findings,
  selection,
  selected,
  trace,
  onConnector,
}: {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly findings: FindingsInPlace;
  readonly selection: string | null;
  readonly selected: Selected;
  readonly trace: Trace | null;
  readonly onConnector: (ref: string) => void;
}) {
  const { kind, circuits, id } = selected;
  const common = { index, pairing, findings };
  switch (kind) {
    case 'circuit': {
      const shown = index.byKey.get(circuits[0]!);
      return shown && trace ? (
        <CircuitDetail {...common} shown={shown} trace={trace} onConnector={onConnector} />
      ) : null;
    }
    case 'circuits': {
      const words = subjectWords(pairing, selection!);
      return (
        <article className="detail" aria-label="Several circuits">
          <header>
            <h2>{words.title}</h2>
            <p className="soft">
              {words.kind} <span className="mono">{words.ref}</span>
            </p>
          </header>
          <CircuitList title="Carried by" index={index} keys={circuits} />
        </article>
      );
    }
    case 'connector': {
      const page = index.pages.get(id!)!;
      return (
        <article className="detail" aria-label={`Connector ${id}`}>
          <header>
            <h2>
              <span className="mono">{id}</span> {page.title}
            </h2>
            <p className="soft">
              {selected.cavity === null
                ? `${page.cavities.length} cavities`
                : `cavity ${selected.cavity}: ${page.cavities.find(({ cavity }) => cavity === selected.cavity)?.vehicle ?? 'empty'}`}
            </p>
          </header>
          <FindingList findings={findings.connectors.get(id!) ?? NO_BADGES} />
          <CircuitList title="Ends in it" index={index} keys={circuits} />
        </article>
      );
    }
    case 'segment':
      return <SegmentDetail key={id} {...common} id={id!} />;
    case 'node':
      return <NodeDetail key={id} {...common} id={id!} />;
    case 'splice':
      return <SpliceDetail key={id} {...common} id={id!} />;
    case 'nothing':
      return <NothingSelected index={index} pairing={pairing} selection={selection} />;
  }
}
