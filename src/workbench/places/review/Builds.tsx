import { useMemo } from 'react';
import type { Finding } from '../../../checks/index.ts';
import { buildMatrix, compareBuilds, type BuildComparison, type BuildRow } from '../../../compare/index.ts';
import { show } from '../../actions/navigate.ts';
import { subjectWords } from '../../parts/subject.ts';
import { usePlaceMemory } from '../../parts/place-memory.ts';
import type { PlaceId } from '../index.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import '../../parts/grid-table.css';
import './builds.css';

interface BuildsMemory {
  /** Names of the two builds that are compared. */
  readonly first: string | null;
  readonly second: string | null;
}

const NO_FINDINGS: readonly Finding[] = [];

/** More rows than this are counted, not listed. */
const LISTED = 1000;

/** Every build of the map with what the checks find in it, and what differs between two of them. */
export function Builds() {
  const documents = useWorkbench((state) => state.open!.history.documents);
  const findings = useWorkbench((state) => state.checked?.findings ?? NO_FINDINGS);
  const [memory, change] = usePlaceMemory<BuildsMemory>('builds', () => ({ first: null, second: null }));
  const pairing = pairingOf(documents);
  const rows = useMemo(() => buildMatrix(pairing, findings), [pairing, findings]);
  const named = (name: string | null): BuildRow | null => rows.find((row) => row.name === name) ?? null;
  const first = named(memory.first) ?? rows[0]!;
  const second = named(memory.second) ?? rows.at(-1)!;
  const comparison = useMemo(
    () => (first === second ? null : compareBuilds(pairing, findings, first, second)),
    [pairing, findings, first, second],
  );
  if (rows.length < 2)
    return (
      <p className="review-wait">
        The map has one build. Options (year, drivetrain, equipment) and conditions on routes and platform items make
        more; they stand in the map under <span className="mono">options</span>, which the place Text edits.
      </p>
    );
  return (
    <div className="builds">
      <section className="builds-matrix" aria-labelledby="builds-title">
        <h2 id="builds-title">{rows.length} builds</h2>
        <p className="soft">Choose two to see what differs between them.</p>
        <div className="builds-scroll" tabIndex={0} role="group" aria-label="Table of the builds">
          <table className="grid-table">
            <thead>
              <tr>
                <th scope="col">First</th>
                <th scope="col">Second</th>
                {(documents.map.options ?? []).map(({ id, title }) => (
                  <th key={id} scope="col">
                    {title ?? id}
                  </th>
                ))}
                {['Routes', 'Needs', 'Not met', 'Conductors', 'Stop', 'Fix', 'Look', 'Waived'].map((head) => (
                  <th key={head} scope="col" className="number">
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {rows.slice(0, LISTED).map((row) => (
                <MatrixRow
                  key={row.name}
                  row={row}
                  first={row === first}
                  second={row === second}
                  onFirst={() => change({ first: row.name })}
                  onSecond={() => change({ second: row.name })}
                />
              ))}
            </tbody>
          </table>
        </div>
        {rows.length > LISTED ? <p>and {rows.length - LISTED} more; crossloom variants lists them all</p> : null}
      </section>
      <section className="builds-between" aria-labelledby="between-title">
        <h2 id="between-title">What differs between the two</h2>
        {comparison === null ? <p>It is the same build twice.</p> : <Between comparison={comparison} />}
      </section>
    </div>
  );
}

function MatrixRow({
  row,
  first,
  second,
  onFirst,
  onSecond,
}: {
  readonly row: BuildRow;
  readonly first: boolean;
  readonly second: boolean;
  readonly onFirst: () => void;
  readonly onSecond: () => void;
}) {
  const { name, combination, routes, needs, needsMet, conductors, counts } = row;
  return (
    <tr data-chosen={first || second || undefined}>
      <td>
        <input type="radio" name="first-build" checked={first} onChange={onFirst} aria-label={`First: ${name}`} />
      </td>
      <td>
        <input type="radio" name="second-build" checked={second} onChange={onSecond} aria-label={`Second: ${name}`} />
      </td>
      {[...combination].map(([axis, choice]) => (
        <td key={axis}>{choice}</td>
      ))}
      {[routes, needs, needs - needsMet, conductors].map((count, at) => (
        <td key={at} className="number">
          {count}
        </td>
      ))}
      {(['stop', 'fix', 'look', 'waived'] as const).map((key) => (
        <td key={key} className={key === 'stop' && counts.stop > 0 ? 'number bad' : 'number'}>
          {counts[key]}
        </td>
      ))}
    </tr>
  );
}

function Between({ comparison }: { readonly comparison: BuildComparison }) {
  const store = useWorkbenchStore();
  const pairing = useWorkbench((state) => pairingOf(state.open!.history.documents));
  const placeOf = (subject: string): PlaceId => subjectWords(pairing, subject).places[0] ?? 'loom';
  const { first, second, differences, metDifferently } = comparison;
  return (
    <>
      <dl className="builds-names">
        <dt>First</dt>
        <dd>{first.name}</dd>
        <dt>Second</dt>
        <dd>{second.name}</dd>
      </dl>
      {metDifferently.length > 0 ? (
        <table className="grid-table">
          <caption>Needs of both that other routes meet</caption>
          <thead>
            <tr>
              <th scope="col">Need</th>
              <th scope="col">First</th>
              <th scope="col">Second</th>
            </tr>
          </thead>
          <tbody>
            {metDifferently.map((met) => (
              <tr key={met.need}>
                <td className="mono">{met.need}</td>
                <td className="mono">{met.first.join(', ') || 'nothing'}</td>
                <td className="mono">{met.second.join(', ') || 'nothing'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      {differences.length === 0 ? (
        <p>Nothing is in one of them only.</p>
      ) : (
        <table className="grid-table">
          <caption>
            {differences.length} {differences.length === 1 ? 'thing is' : 'things are'} in one of them only
          </caption>
          <thead>
            <tr>
              <th scope="col">Only in</th>
              <th scope="col">What</th>
              <th scope="col">Subject</th>
              <th scope="col">What it is</th>
            </tr>
          </thead>
          <tbody>
            {differences.slice(0, LISTED).map((difference, at) => (
              <tr key={at}>
                <td>{difference.in}</td>
                <td>{difference.what}</td>
                <td className="mono">
                  <button
                    type="button"
                    className="link"
                    onClick={() => show(store, difference.subject, placeOf(difference.subject))}
                  >
                    {difference.subject}
                  </button>
                </td>
                <td>{difference.words}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}
