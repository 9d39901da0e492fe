import { memo } from 'react';
import type { LooseEnd } from './layout.ts';
import { EndShape } from './marks.tsx';
import { rowName } from './names.ts';
import { EdgeBars, ModuleTab, rowStyle, spoken, type RowLook } from './StrandRow.tsx';

/** An unmet need: a short strand that hangs from its edge and ends in an open loop. */
export const LooseRow = memo(function LooseRow({ loose, look }: { readonly loose: LooseEnd; readonly look: RowLook }) {
  const { columns, lineHeight, named, height } = look;
  const edge = loose.end.side === 'host' ? 'left' : 'right';
  const into = edge === 'left' ? 1 : -1;
  const start = edge === 'left' ? columns.left : columns.right;
  const y = lineHeight / 2;
  const tab = edge === 'left' ? look.tabLeft : look.tabRight;
  const radius = Math.min(5, lineHeight * 0.3);
  const width = columns.left - columns.tab - 10;
  return (
    <div
      id={look.domId}
      data-row={loose.id}
      className="loom-row loose"
      role="treeitem"
      aria-level={2}
      aria-setsize={look.siblings}
      aria-posinset={look.position}
      aria-selected={look.isConcerned}
      aria-label={[rowName(loose), ...spoken(look)].join(', ')}
      data-change={look.change?.kind}
      data-concerned={look.isConcerned || undefined}
      data-cursor={look.isCursor || undefined}
      data-dim={look.isDim || undefined}
      style={rowStyle(look.y, height)}
    >
      <EdgeBars left={edge === 'left'} right={edge === 'right'} />
      {named ? (
        <>
          {tab === null ? null : <ModuleTab edge={edge} title={tab} columns={columns} lineHeight={lineHeight} />}
          <span
            className="end-label"
            data-edge={edge}
            data-role="need"
            data-wire={loose.end.bus === null || undefined}
            style={{
              lineHeight: `${lineHeight}px`,
              width,
              ...(edge === 'left' ? { left: columns.tab } : { right: columns.width - columns.right - width - 10 }),
            }}
          >
            {loose.end.label}
          </span>
        </>
      ) : null}
      <svg className="crossing" width={columns.width} height={height} aria-hidden="true">
        <path className="way loose" d={`M${start} ${y}H${start + 34 * into}`} />
        <circle className="loop" cx={start + (34 + radius) * into} cy={y} r={radius} />
        {named ? (
          <>
            <EndShape x={start} y={y} edge={edge} role="need" />
            <text
              className="words"
              x={start + (34 + radius * 2 + 8) * into}
              y={y + 3.4}
              textAnchor={edge === 'left' ? 'start' : 'end'}
            >
              unmet
            </text>
          </>
        ) : null}
      </svg>
    </div>
  );
});
