import { memo, type CSSProperties } from 'react';
import type { Columns } from './geometry.ts';
import { strandShape, type Socket } from './geometry.ts';
import type { PlacedEnd, Strand } from './layout.ts';
import { EndShape, SeverityMark } from './marks.tsx';
import { ReviewNote, reviewWords, type ReviewDoubt } from './review-note.tsx';
import { rowName, strandWords, workWords } from './names.ts';

export interface RowLook {
  readonly y: number;
  readonly height: number;
  readonly columns: Columns;
  readonly lineHeight: number;
  readonly named: boolean;
  readonly isConcerned: boolean;
  readonly isCursor: boolean;
  readonly isDim: boolean;
  readonly tabLeft: string | null;
  readonly tabRight: string | null;
  readonly domId: string;
  readonly position: number;
  readonly siblings: number;
  /** What a reviewer asks or objects to; null: nothing. */
  readonly doubt?: ReviewDoubt | null;
  /** What happened to it between two revisions, in words; null where only one is shown or nothing did. */
  readonly change?: { readonly kind: string; readonly words: string } | null;
}

/** Without room for its letter a mark tells the severity by its width. */
const SMALL_WIDTH = { stop: 14, fix: 9, look: 5 } as const;

export function rowStyle(y: number, height: number): CSSProperties {
  return { transform: `translateY(${y}px)`, height };
}

/** The bars at the edges: a run of rows of one module hangs on one bar. */
export function EdgeBars({ left, right }: { readonly left: boolean; readonly right: boolean }) {
  return (
    <>
      {left ? <span className="edge-bar" data-edge="left" /> : null}
      {right ? <span className="edge-bar" data-edge="right" /> : null}
    </>
  );
}

/** The tab of a module, beside the first row of its run. */
export function ModuleTab({
  edge,
  title,
  columns,
  lineHeight,
}: {
  readonly edge: 'left' | 'right';
  readonly title: string;
  readonly columns: Columns;
  readonly lineHeight: number;
}) {
  return (
    <span
      className="module-tab"
      data-edge={edge}
      style={{ width: columns.tab - 8, height: lineHeight, lineHeight: `${lineHeight}px` }}
    >
      {title}
    </span>
  );
}

function EndLabel({
  end,
  edge,
  columns,
  lineHeight,
}: {
  readonly end: PlacedEnd;
  readonly edge: 'left' | 'right';
  readonly columns: Columns;
  readonly lineHeight: number;
}) {
  const width = columns.left - columns.tab - 10;
  return (
    <span
      className="end-label"
      data-edge={edge}
      data-role={end.role}
      data-wire={end.bus === null || undefined}
      style={{
        top: end.line * lineHeight,
        lineHeight: `${lineHeight}px`,
        width,
        ...(edge === 'left' ? { left: columns.tab } : { right: columns.width - columns.right - width - 10 }),
      }}
    >
      {end.label}
    </span>
  );
}

function SocketMark({ socket, named }: { readonly socket: Socket; readonly named: boolean }) {
  const { x, y, edge, kind, label } = socket;
  const into = edge === 'left' ? 1 : -1;
  return (
    <>
      {kind === 'port' ? (
        <rect className="socket" x={x - 3} y={y - 3} width={6} height={6} />
      ) : (
        <circle className="socket" cx={x} cy={y} r={3.4} />
      )}
      {named && label !== null ? (
        <text className="joint" x={x + 8 * into} y={y + 3.6} textAnchor={edge === 'left' ? 'start' : 'end'}>
          {label}
        </text>
      ) : null}
    </>
  );
}

/** What is told of a row besides what it is. */
export function spoken({ change, doubt }: RowLook): readonly string[] {
  return [...(change ? [change.words] : []), ...(doubt ? [reviewWords(doubt)] : [])];
}

/** A strand across the cloth. */
export const StrandRow = memo(function StrandRow({
  strand,
  look,
}: {
  readonly strand: Strand;
  readonly look: RowLook;
}) {
  const { columns, lineHeight, named, height } = look;
  const shape = strandShape(strand, columns, lineHeight);
  const onLeft = strand.left.length > 0;
  const y = lineHeight / 2;
  const work = named && strand.carrier === 'interface' ? workWords(strand) : '';
  const words = named ? strandWords(strand) : '';
  const band = columns.bands.get(strand.route.by ?? '');
  return (
    <div
      id={look.domId}
      data-row={strand.id}
      className="loom-row strand"
      role="treeitem"
      aria-level={2}
      aria-setsize={look.siblings}
      aria-posinset={look.position}
      aria-selected={look.isConcerned}
      aria-label={[rowName(strand), ...spoken(look)].join(', ')}
      data-change={look.change?.kind}
      data-concerned={look.isConcerned || undefined}
      data-cursor={look.isCursor || undefined}
      data-dim={look.isDim || undefined}
      data-carrier={strand.carrier}
      style={rowStyle(look.y, height)}
    >
      <EdgeBars left={onLeft} right={strand.right.length > 0} />
      {named ? (
        <>
          {look.tabLeft === null ? null : (
            <ModuleTab edge="left" title={look.tabLeft} columns={columns} lineHeight={lineHeight} />
          )}
          {look.tabRight === null ? null : (
            <ModuleTab edge="right" title={look.tabRight} columns={columns} lineHeight={lineHeight} />
          )}
          {strand.left.map((end) => (
            <EndLabel key={end.line} end={end} edge="left" columns={columns} lineHeight={lineHeight} />
          ))}
          {strand.right.map((end) => (
            <EndLabel key={end.line} end={end} edge="right" columns={columns} lineHeight={lineHeight} />
          ))}
        </>
      ) : null}
      <svg className="crossing" width={columns.width} height={height} aria-hidden="true">
        {shape.bridges.map(([from, to, at], index) => {
          const half = Math.min(7, lineHeight * 0.36);
          return (
            <g key={index}>
              <rect className="bridge" x={from - 1} y={at - half} width={to - from + 2} height={half * 2} />
              {named ? (
                <path className="bridge-edge" d={`M${from} ${at - half}H${to}M${from} ${at + half}H${to}`} />
              ) : null}
            </g>
          );
        })}
        {shape.inside.map((way, index) => (
          <path key={index} className="inside" d={way} />
        ))}
        {named ? shape.ways.map((way, index) => <path key={index} className="halo" d={way} />) : null}
        {shape.ways.map((way, index) => (
          <path key={index} className="way" data-carrier={strand.carrier} d={way} />
        ))}
        {shape.splices.map(([x, at], index) => (
          <circle key={index} className="splice" cx={x} cy={at} r={3} />
        ))}
        {named ? (
          <>
            {shape.sockets.map((socket, index) => (
              <SocketMark key={index} socket={socket} named />
            ))}
            {strand.left.map(({ line, role }) => (
              <EndShape key={`l${line}`} x={columns.left} y={(line + 0.5) * lineHeight} edge="left" role={role} />
            ))}
            {strand.right.map(({ line, role }) => (
              <EndShape key={`r${line}`} x={columns.right} y={(line + 0.5) * lineHeight} edge="right" role={role} />
            ))}
            {work !== '' && band ? (
              <text className="work" x={(band[0] + band[1]) / 2} y={y + 3.4} textAnchor="middle">
                {work}
              </text>
            ) : null}
            {words === '' ? null : (
              <text
                className="words"
                x={onLeft ? columns.left + 14 : columns.right - 14}
                y={y + 3.4}
                textAnchor={onLeft ? 'start' : 'end'}
              >
                {words}
              </text>
            )}
          </>
        ) : null}
        {look.doubt ? (
          <ReviewNote
            doubt={look.doubt}
            x={onLeft ? columns.markRight : columns.markLeft}
            y={y}
            scale={Math.min(1, lineHeight / 22)}
          />
        ) : null}
        {strand.worst === null ? null : named ? (
          <g
            transform={`translate(${onLeft ? columns.markLeft : columns.markRight} ${y}) scale(${Math.min(1.15, lineHeight / 22)})`}
          >
            <SeverityMark severity={strand.worst} />
            {strand.findings > 1 ? (
              <text className="mark-count" x={onLeft ? -12 : 12} y={3.8} textAnchor={onLeft ? 'end' : 'start'}>
                {strand.findings}
              </text>
            ) : null}
          </g>
        ) : (
          <rect
            className="mark-small"
            data-severity={strand.worst}
            x={(onLeft ? columns.markLeft : columns.markRight) - SMALL_WIDTH[strand.worst] / 2}
            y={y - Math.max(1, lineHeight * 0.35)}
            width={SMALL_WIDTH[strand.worst]}
            height={Math.max(2, lineHeight * 0.7)}
          />
        )}
      </svg>
    </div>
  );
});
