import { memo } from 'react';
import type { Finding } from '../../../checks/index.ts';
import type { FindingsInPlace } from './findings-in-place.ts';
import { LETTER_PX, type ScreenLayout, type ScreenNode } from './screen-layout.ts';

const LINE_PX = LETTER_PX * 1.25;

/** Segments as lines as thick as their bundle asks, each with its length. */
export const Segments = memo(function Segments({
  layout,
  findings,
  selected,
}: {
  readonly layout: ScreenLayout;
  readonly findings: FindingsInPlace;
  readonly selected: string | null;
}) {
  return (
    <g className="segments">
      {layout.segments.map(({ id, x1, y1, x2, y2, width, isToScale, circuits }) => (
        <g key={id} data-subject={`segment:${id}`} data-selected={id === selected || undefined}>
          <title>{`${id}: ${circuits} ${circuits === 1 ? 'circuit' : 'circuits'}`}</title>
          <line className="segment-hit" x1={x1} y1={y1} x2={x2} y2={y2} />
          {id === selected ? (
            <line className="segment-chosen" x1={x1} y1={y1} x2={x2} y2={y2} strokeWidth={width + 8} />
          ) : null}
          <line
            className="segment-line"
            x1={x1}
            y1={y1}
            x2={x2}
            y2={y2}
            strokeWidth={width}
            strokeDasharray={isToScale ? undefined : '7 4'}
          />
          <Mark findings={findings.segments.get(id)} x={(x1 + x2) / 2} y={(y1 + y2) / 2 - 14} />
        </g>
      ))}
    </g>
  );
});

/** Lengths, over what runs in the segments. */
export const Lengths = memo(function Lengths({ layout }: { readonly layout: ScreenLayout }) {
  return (
    <g className="lengths">
      {layout.segments.map(({ id, label }) =>
        label ? (
          <g key={id} className="segment-length">
            <rect x={label.x - label.width / 2} y={label.y - 7} width={label.width} height={14} rx={3} />
            <text x={label.x} y={label.y} textAnchor="middle" dominantBaseline="central">
              {label.text}
            </text>
          </g>
        ) : null,
      )}
    </g>
  );
});

/** Nodes as signs by their kind, each with its name. */
export const Nodes = memo(function Nodes({
  layout,
  findings,
  selected,
  marked,
}: {
  readonly layout: ScreenLayout;
  readonly findings: FindingsInPlace;
  readonly selected: string | null;
  readonly marked: ReadonlyMap<string, string>;
}) {
  return (
    <g className="nodes">
      {layout.nodes.map((node) => (
        <g
          key={node.id}
          data-subject={`node:${node.id}`}
          data-kind={node.kind}
          data-selected={node.id === selected || undefined}
          data-marked={marked.has(node.id) || undefined}
        >
          <circle className="node-hit" cx={node.x} cy={node.y} r={12} />
          <Label node={node} />
          <Sign node={node} text={marked.get(node.id) ?? null} />
          <Mark findings={findings.nodes.get(node.id)} x={node.x + 16} y={node.y - 14} />
        </g>
      ))}
    </g>
  );
});

function Label({ node }: { readonly node: ScreenNode }) {
  const { label, x, y } = node;
  if (!label) return <title>{node.id}</title>;
  const { left, top, width, height } = label.box;
  return (
    <>
      {label.isLed ? (
        <line
          className="node-lead"
          x1={x}
          y1={y}
          x2={Math.min(Math.max(x, left), left + width)}
          y2={Math.min(Math.max(y, top), top + height)}
        />
      ) : null}
      {label.lines.map((text, line) => (
        <text
          key={line}
          className={line === 0 ? 'node-name' : 'node-words'}
          x={left + width / 2}
          y={top + line * LINE_PX + LINE_PX / 2}
          textAnchor="middle"
          dominantBaseline="central"
        >
          {text}
        </text>
      ))}
    </>
  );
}

/** The sign of a node; on the way of the selected circuit it holds the cavity. */
function Sign({ node: { kind, x, y }, text }: { readonly node: ScreenNode; readonly text: string | null }) {
  if (text !== null && text !== '' && (kind === 'connector' || kind === 'part' || kind === 'stud')) {
    const width = Math.max(20, text.length * 7 + 8);
    return (
      <>
        <rect className="node-sign" x={x - width / 2} y={y - 9} width={width} height={18} rx={3} />
        <text className="node-cavity" x={x} y={y} textAnchor="middle" dominantBaseline="central">
          {text}
        </text>
      </>
    );
  }
  switch (kind) {
    case 'connector':
      return <rect className="node-sign" x={x - 9} y={y - 6} width={18} height={12} rx={1.5} />;
    case 'part':
      return <rect className="node-sign" x={x - 7} y={y - 7} width={14} height={14} rx={4} />;
    case 'splice':
      return <path className="node-sign" d={`M${x} ${y - 7}l7 7l-7 7l-7 -7z`} />;
    case 'stud':
      return <path className="node-sign" d={`M${x - 8} ${y - 3}h16M${x - 5} ${y + 1}h10M${x - 2} ${y + 5}h4`} />;
    case 'pass-through':
      return <circle className="node-sign" cx={x} cy={y} r={7.5} />;
    case 'branch':
      return <circle className="node-sign" cx={x} cy={y} r={text === null ? 3.5 : 5} />;
  }
}

/** The worst of what was found there, as a word. */
function Mark({
  findings,
  x,
  y,
}: {
  readonly findings: readonly Finding[] | undefined;
  readonly x: number;
  readonly y: number;
}) {
  const worst = findings?.[0];
  if (!worst) return null;
  const text = findings.length > 1 ? `${worst.severity} ${findings.length}` : worst.severity;
  const width = text.length * 6.4 + 8;
  return (
    <g className="drawn-mark" data-severity={worst.severity} data-finding={worst.subject}>
      <title>{findings.map(({ message }) => message).join('\n')}</title>
      <rect x={x - width / 2} y={y - 8} width={width} height={16} rx={3} />
      <text x={x} y={y} textAnchor="middle" dominantBaseline="central">
        {text}
      </text>
    </g>
  );
}
