import type { Pairing } from '../../../model/index.ts';
import { FindingList, NO_BADGES } from './Badge.tsx';
import type { FindingsInPlace } from './findings-in-place.ts';
import { CircuitList } from './PartDetail.tsx';
import type { PlanIndex } from './plan-index.ts';
import { SplicePlacing } from './SplicePlacing.tsx';

/** One splice: what it joins, where it lies, and the choice between a person's place and the tool's. */
export function SpliceDetail({
  index,
  pairing,
  findings,
  id,
}: {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly findings: FindingsInPlace;
  readonly id: string;
}) {
  const row = index.splices.get(id)!;
  return (
    <article className="detail" aria-label={`Splice ${row.splice}`}>
      <header>
        <h2>Splice {row.splice}</h2>
        <p className="soft">
          {row.method}; {row.sealing}; keep {row.keepClearMm} mm clear of branches and connectors
        </p>
      </header>
      <FindingList findings={findings.splices.get(id) ?? NO_BADGES} />
      <SplicePlacing index={index} pairing={pairing} row={row} />
      <CircuitList title="Joins" index={index} keys={index.bySplice.get(id) ?? []} />
    </article>
  );
}
