import type { Pairing } from '../../../model/index.ts';
import type { ListRow } from '../../parts/RowList.tsx';
import { titleOfEndpoint } from '../../parts/subject.ts';
import { groupTitle, type ListedNeed, type NeedBlock } from './view.ts';

function Answer({ entry, pairing }: { readonly entry: ListedNeed; readonly pairing: Pairing }) {
  const { proposals } = entry;
  if (entry.isFrameField) return <span className="soft">looks like a counter or checksum</span>;
  if (proposals === null) return <span className="soft">…</span>;
  const best = proposals.proposals[0];
  if (!best) return <span className="soft">nothing on offer fits</span>;
  const endpoint = pairing.find(best.offer.ref);
  return (
    <>
      <span className={best.draft.route ? 'best' : 'best soft'}>
        {best.draft.route ? '' : 'no route as it is: '}
        {endpoint ? titleOfEndpoint(endpoint) : best.offer.ref}
      </span>
      <span className="mono soft best-ref">{best.offer.ref}</span>
    </>
  );
}

function NeedRow({ entry, pairing }: { readonly entry: ListedNeed; readonly pairing: Pairing }) {
  const { need, title, proposals } = entry;
  const best = proposals?.proposals[0];
  return (
    <div className="need-row">
      <span className="row-mark" aria-hidden="true">
        ✓
      </span>
      <span className="need-title">
        <span className="side-mark" data-side={need.side}>
          {need.side}
        </span>{' '}
        {title}
      </span>
      <span className="mono soft need-ref">
        {need.ref.slice(need.ref.indexOf(':') + 1)} for {need.modules.join(', ')}
      </span>
      <span className="need-answer">
        <Answer entry={entry} pairing={pairing} />
      </span>
      <span className="number need-score">{best ? best.score : ''}</span>
    </div>
  );
}

/** Open needs as rows: a heading a function group, then its needs, each with the best offer. */
export function openRows(blocks: readonly NeedBlock[], pairing: Pairing): readonly ListRow[] {
  return blocks.flatMap(({ group, entries }): ListRow[] => [
    heading(group, entries.length),
    ...entries.map((entry) => ({
      key: entry.need.ref,
      isHeading: false,
      height: 2.75,
      draw: () => <NeedRow entry={entry} pairing={pairing} />,
    })),
  ]);
}

/** Routed needs as rows, with the routes that meet them. */
export function metRows(blocks: readonly NeedBlock[], pairing: Pairing): readonly ListRow[] {
  return blocks.flatMap(({ group, entries }): ListRow[] => [
    heading(group, entries.length),
    ...entries.map(({ need, title }) => ({
      key: need.ref,
      isHeading: false,
      height: 2.75,
      draw: () => (
        <div className="need-row">
          <span />
          <span className="need-title">
            <span className="side-mark" data-side={need.side}>
              {need.side}
            </span>{' '}
            {title}
          </span>
          <span className="mono soft need-ref">{need.ref}</span>
          <span className="need-answer">
            {(pairing.routesTo.get(need.ref) ?? []).map(({ id, carrier }) => `${id} (${carrier})`).join(', ')}
          </span>
        </div>
      ),
    })),
  ]);
}

function heading(group: string, count: number): ListRow {
  return {
    key: `heading ${group}`,
    isHeading: true,
    height: 2.25,
    draw: () => (
      <div className="group-heading">
        <span>{groupTitle(group)}</span> <span className="count">{count}</span>
      </div>
    ),
  };
}
