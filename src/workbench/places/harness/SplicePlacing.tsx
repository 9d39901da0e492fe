import { useState } from 'react';
import type { Pairing } from '../../../model/index.ts';
import type { SpliceRow } from '../../../wiring/index.ts';
import { change } from '../../actions/change.ts';
import { notify } from '../../actions/notices.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import type { PlanIndex } from './plan-index.ts';
import { segmentOf } from './segment-edits.ts';
import { placeAtNode, placeByTool, spliceNodes, splitSegment } from './splice-edits.ts';

/** Where a splice lies: by the tool for least copper, at a splice node, or at a new one in a segment. */
export function SplicePlacing({
  index,
  pairing,
  row,
}: {
  readonly index: PlanIndex;
  readonly pairing: Pairing;
  readonly row: SpliceRow;
}) {
  const store = useWorkbenchStore();
  const { map } = pairing;
  const joined = (index.bySplice.get(row.id) ?? []).flatMap((key) => index.byKey.get(key) ?? []);
  const near = [...new Set(joined.flatMap(({ conductor }) => conductor.way?.segments ?? []))];
  const [segment, setSegment] = useState<string | null>(null);
  const chosen = segment !== null && near.includes(segment) ? segment : (near[0] ?? null);
  const lengthM = chosen === null ? null : (segmentOf(map, chosen)?.lengthM ?? null);
  const [distance, setDistance] = useState<string | null>(null);
  const byTool = placeByTool(map, joined);
  const others = spliceNodes(map).filter((node) => node !== row.node || row.placedBy !== 'hand');

  const placeInSegment = (): void => {
    const fromStartM = distance === null ? (lengthM ?? 0) / 2 : Number(distance.replace(',', '.'));
    const split = chosen === null ? null : splitSegment(map, chosen, fromStartM);
    if (!split) {
      notify(
        store,
        'bad',
        `Write how far into ${chosen ?? 'the segment'} the splice lies: more than 0 and less than ${lengthM} m.`,
      );
      return;
    }
    change(store, `place splice ${row.splice} in ${chosen}`, [...split.edits, ...placeAtNode(map, joined, split.node)]);
    setDistance(null);
  };

  return (
    <section aria-label="Place of the splice">
      <h3>Place</h3>
      <p>
        {row.node === null ? 'It is not placed: the harness gives no way between what it joins.' : `At ${row.node}, `}
        {row.placedBy === 'hand'
          ? 'placed by hand'
          : row.placedBy === 'least-copper'
            ? 'placed by the tool where it needs least copper'
            : ''}
        {row.copperMm2M === null ? '' : ` (${row.copperMm2M.toFixed(2)} mm²·m)`}.
      </p>
      <div className="actions">
        {byTool.length === 0 ? null : (
          <button
            type="button"
            className="button small"
            onClick={() => change(store, `let the tool place splice ${row.splice}`, byTool)}
          >
            Let the tool place it
          </button>
        )}
        {others.map((node) => (
          <button
            key={node}
            type="button"
            className="button small"
            onClick={() => change(store, `place splice ${row.splice} at ${node}`, placeAtNode(map, joined, node))}
          >
            Place at {node}
          </button>
        ))}
      </div>
      {chosen === null || lengthM === null ? null : (
        <form
          className="splice-form"
          onSubmit={(event) => {
            event.preventDefault();
            placeInSegment();
          }}
        >
          <label>
            In segment
            <select className="field" value={chosen} onChange={(event) => setSegment(event.target.value)}>
              {near.map((id) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>
          </label>
          <label>
            from {segmentOf(map, chosen)?.from}, m
            <input
              className="field number"
              inputMode="decimal"
              value={distance ?? String(Number((lengthM / 2).toFixed(3)))}
              onChange={(event) => setDistance(event.target.value)}
            />
          </label>
          <button type="submit" className="button small">
            Place by hand
          </button>
        </form>
      )}
    </section>
  );
}
