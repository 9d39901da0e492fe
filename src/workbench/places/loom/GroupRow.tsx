import { memo } from 'react';
import type { Columns } from './geometry.ts';
import type { LoomGroup } from './layout.ts';
import { CarrierIcon, SeverityIcon } from './marks.tsx';
import { counted, groupName } from './names.ts';
import { rowStyle } from './StrandRow.tsx';

interface GroupRowProps {
  readonly group: LoomGroup;
  readonly folded: boolean;
  readonly y: number;
  readonly height: number;
  readonly block: number;
  readonly columns: Columns;
  readonly named: boolean;
  readonly isCursor: boolean;
  readonly isDim: boolean;
  readonly found: number | null;
  readonly domId: string;
  readonly position: number;
  readonly siblings: number;
}

const CARRIERS = ['hard-wire', 'interface', 'bus'] as const;
const MOST_THREADS = 9;

/** The counts of a group, each with the shape it counts. */
function Counts({ group, found }: { readonly group: LoomGroup; readonly found: number | null }) {
  return (
    <span className="group-counts" aria-hidden="true">
      {found === null ? null : <span className="found-count">{found} found</span>}
      {CARRIERS.map((carrier) =>
        group.byCarrier[carrier] === 0 ? null : (
          <span key={carrier} title={carrier}>
            <CarrierIcon carrier={carrier} />
            {group.byCarrier[carrier]}
          </span>
        ),
      )}
      {group.loose === 0 ? null : (
        <span className="loose-count">
          <CarrierIcon carrier="loose" />
          {group.loose} unmet
        </span>
      )}
      {group.worst === null ? null : (
        <span>
          <SeverityIcon severity={group.worst} />
          {counted(group.findings, 'finding')}
        </span>
      )}
    </span>
  );
}

/** The threads of a folded group, as many as there is room for, in the order of the carriers. */
function Ribbon({
  group,
  columns,
  height,
}: {
  readonly group: LoomGroup;
  readonly columns: Columns;
  readonly height: number;
}) {
  const total = group.byCarrier['hard-wire'] + group.byCarrier.interface + group.byCarrier.bus;
  const threads = CARRIERS.flatMap((carrier) => {
    const own = group.byCarrier[carrier];
    const share = own === 0 ? 0 : Math.max(1, Math.round((own / total) * Math.min(MOST_THREADS, total)));
    return Array.from({ length: share }, () => carrier);
  });
  const gap = Math.min(2.6, (height - 8) / Math.max(1, threads.length));
  const top = height / 2 - ((threads.length - 1) * gap) / 2;
  return (
    <svg className="crossing ribbon" width={columns.width} height={height} aria-hidden="true">
      {threads.map((carrier, index) => (
        <path
          key={index}
          className="thread"
          data-carrier={carrier}
          d={`M${columns.left} ${top + index * gap}H${columns.right}`}
        />
      ))}
    </svg>
  );
}

/** The heading of a group; folded, the ribbon that stands for all of its strands. */
export const GroupRow = memo(function GroupRow(props: GroupRowProps) {
  const { group, folded, columns, named, height } = props;
  const isReadable = named || folded;
  return (
    <div
      id={props.domId}
      data-row={`group:${group.id}`}
      className="loom-row group"
      role="treeitem"
      aria-level={1}
      aria-setsize={props.siblings}
      aria-posinset={props.position}
      aria-selected={false}
      aria-expanded={!folded}
      aria-label={groupName(group)}
      data-folded={folded || undefined}
      data-cursor={props.isCursor || undefined}
      data-dim={props.isDim || undefined}
      data-overview={!named || undefined}
      style={rowStyle(props.y, height)}
    >
      {folded ? <Ribbon group={group} columns={columns} height={height} /> : null}
      {isReadable ? (
        <>
          <span className="group-title" style={named || !folded ? undefined : { fontSize: 11 }}>
            <svg className="fold-mark" viewBox="0 0 10 10" aria-hidden="true">
              <path d={folded ? 'M3 1L8 5L3 9' : 'M1 3L5 8L9 3'} />
            </svg>
            {group.title}
          </span>
          <Counts group={group} found={props.found} />
        </>
      ) : props.block >= 13 ? (
        <>
          <span className="overview-title">{group.title}</span>
          <span className="overview-count" style={{ right: 8 }}>
            {group.rows.length}
            {group.worst === null ? null : <SeverityIcon severity={group.worst} />}
          </span>
        </>
      ) : null}
    </div>
  );
});
