import type { ReactNode } from 'react';
import type { CrossloomMap } from '../../../model/index.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { Badge, NO_BADGES } from './Badge.tsx';
import type { FindingsInPlace } from './findings-in-place.ts';
import type { PlanIndex } from './plan-index.ts';
import { AddSegment } from './AddSegment.tsx';
import { circuitSubject, nodeSubject, segmentSubject, spliceSubject } from './selected.ts';

interface Column<T> {
  readonly title: string;
  readonly isNumber?: boolean;
  readonly cell: (row: T) => ReactNode;
}

/** A plain table of which each row stands for something that can be selected. */
function PickTable<T>({
  label,
  rows,
  subjectOf,
  columns,
}: {
  readonly label: string;
  readonly rows: readonly T[];
  readonly subjectOf: (row: T) => string;
  readonly columns: readonly Column<T>[];
}) {
  const store = useWorkbenchStore();
  const selection = useWorkbench((state) => state.selection);
  return (
    <table className="pick-table" aria-label={label}>
      <thead>
        <tr>
          {columns.map(({ title, isNumber }) => (
            <th key={title} scope="col" className={isNumber ? 'number' : undefined}>
              {title}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => {
          const subject = subjectOf(row);
          return (
            <tr key={subject} aria-current={subject === selection || undefined} onClick={() => select(store, subject)}>
              {columns.map(({ title, isNumber, cell }, at) => (
                <td key={title} className={isNumber ? 'number' : undefined}>
                  {at === 0 ? (
                    <button type="button" className="link-button mono" onClick={() => select(store, subject)}>
                      {cell(row)}
                    </button>
                  ) : (
                    cell(row)
                  )}
                </td>
              ))}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

const mm = (value: number): string => value.toFixed(1);

export function SegmentTable({
  index,
  map,
  findings,
}: {
  readonly index: PlanIndex;
  readonly map: CrossloomMap;
  readonly findings: FindingsInPlace;
}) {
  return (
    <>
      <AddSegment map={map} />
      <PickTable
        label="Segments"
        rows={index.plan.segments}
        subjectOf={({ segment }) => segmentSubject(segment)}
        columns={[
          { title: 'Segment', cell: ({ segment }) => segment },
          { title: 'Found', cell: ({ segment }) => <Badge findings={findings.segments.get(segment) ?? NO_BADGES} /> },
          { title: 'From', cell: ({ from }) => from },
          { title: 'To', cell: ({ to }) => to },
          { title: 'Length m', isNumber: true, cell: ({ lengthM }) => lengthM.toFixed(2) },
          { title: 'Covering', cell: ({ covering }) => covering ?? 'none stated' },
          { title: 'Zone °C', isNumber: true, cell: ({ maxC }) => maxC ?? '–' },
          { title: 'Circuits', isNumber: true, cell: ({ circuits }) => circuits.length },
          { title: 'Bundle mm', isNumber: true, cell: ({ bundleMm }) => mm(bundleMm) },
          { title: 'Covered mm', isNumber: true, cell: ({ coveredMm }) => mm(coveredMm) },
          {
            title: 'Hole mm',
            isNumber: true,
            cell: ({ holeMm, passes }) =>
              holeMm === null ? '–' : passes === false ? <span className="bad">{holeMm}, too narrow</span> : holeMm,
          },
          { title: 'Bend ≥ mm', isNumber: true, cell: ({ bendRadiusMm }) => mm(bendRadiusMm) },
          { title: 'Weight g', isNumber: true, cell: ({ weightG }) => weightG.toFixed(0) },
        ]}
      />
    </>
  );
}

export function NodeTable({
  index,
  map,
  findings,
}: {
  readonly index: PlanIndex;
  readonly map: CrossloomMap;
  readonly findings: FindingsInPlace;
}) {
  return (
    <PickTable
      label="Nodes"
      rows={map.harness?.nodes ?? []}
      subjectOf={({ id }) => nodeSubject(id)}
      columns={[
        { title: 'Node', cell: ({ id }) => id },
        { title: 'Found', cell: ({ id }) => <Badge findings={findings.nodes.get(id) ?? NO_BADGES} /> },
        { title: 'Kind', cell: ({ kind }) => kind },
        { title: 'Holds', cell: ({ connector, ground, part }) => connector ?? ground ?? part ?? '–' },
        { title: 'Title', cell: ({ title }) => title ?? '' },
        { title: 'Zone', cell: ({ zone }) => zone ?? '' },
        { title: 'Hole mm', isNumber: true, cell: ({ holeMm }) => holeMm ?? '–' },
        { title: 'Circuits through', isNumber: true, cell: ({ id }) => index.byNode.get(id)?.length ?? 0 },
      ]}
    />
  );
}

export function SpliceTable({ index, findings }: { readonly index: PlanIndex; readonly findings: FindingsInPlace }) {
  const { splices } = index.plan;
  if (splices.length === 0)
    return <p className="circuit-none">No place is shared by two circuits: the harness needs no splice.</p>;
  return (
    <PickTable
      label="Splices"
      rows={splices}
      subjectOf={({ id }) => spliceSubject(id)}
      columns={[
        { title: 'Splice', cell: ({ splice }) => splice },
        { title: 'Found', cell: ({ id }) => <Badge findings={findings.splices.get(id) ?? NO_BADGES} /> },
        { title: 'At', cell: ({ node }) => node ?? 'not placed' },
        {
          title: 'Placed',
          cell: ({ placedBy }) =>
            placedBy === 'hand' ? 'by hand' : placedBy === 'least-copper' ? 'for least copper' : '–',
        },
        { title: 'From its place mm', isNumber: true, cell: ({ fromMm }) => fromMm ?? '–' },
        { title: 'Joins', cell: ({ conductors }) => conductors.map(({ circuit }) => circuit).join(', ') },
        { title: 'Copper mm²', isNumber: true, cell: ({ totalAreaMm2 }) => Number(totalAreaMm2.toFixed(2)) },
        {
          title: 'Wires',
          isNumber: true,
          cell: ({ conductors, tooMany, maxWires }) =>
            tooMany ? (
              <span className="bad">
                {conductors.length}, over {maxWires}
              </span>
            ) : (
              conductors.length
            ),
        },
        { title: 'Builds', cell: ({ options }) => options.join('; ') },
      ]}
    />
  );
}

/** What must be found out before the harness can be built, and what contradicts itself. */
export function OpenList({ index }: { readonly index: PlanIndex }) {
  const store = useWorkbenchStore();
  const { open, problems } = index.plan;
  if (open.length + problems.length === 0)
    return (
      <p className="circuit-none">
        Nothing is open: every circuit has its places, way, length and size. What was measured and what was assumed
        stands at each circuit.
      </p>
    );
  return (
    <ul className="open-list">
      {problems.map(({ kind, subject, message }, at) => (
        <li key={`p${at}`}>
          <span className="mono">{subject}</span> {message} <span className="soft">({kind.replaceAll('-', ' ')})</span>
        </li>
      ))}
      {open.map(({ circuit, key, missing }) => (
        <li key={key}>
          <button type="button" className="link-button mono" onClick={() => select(store, circuitSubject(circuit))}>
            {circuit}
          </button>{' '}
          needs {missing.join('; ')}
        </li>
      ))}
    </ul>
  );
}
