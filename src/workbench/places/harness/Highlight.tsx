import { memo } from 'react';
import { COLOUR_CODES } from '../../../wiring/index.ts';
import type { ScreenLayout, ScreenSegment } from './screen-layout.ts';

/** What the drawing shows of the selection. */
export interface Shown {
  /** Segments of the way end to end, with the colour of the conductor in each. */
  readonly line: ReadonlyMap<string, string>;
  /** Segments of what else meets it in a splice, or of several circuits. */
  readonly beside: ReadonlySet<string>;
  readonly segment: string | null;
  readonly node: string | null;
  /** Nodes at which the line ends or joins, each with the cavity there ('' where it passes a splice). */
  readonly places: ReadonlyMap<string, string>;
  /** Nodes to bring into view. */
  readonly focus: readonly string[];
}

/** The selected circuit inside its bundle: its own colour with the tracer, edged so that it shows on any paper. */
export const Highlight = memo(function Highlight({
  layout,
  shown,
}: {
  readonly layout: ScreenLayout;
  readonly shown: Shown;
}) {
  const beside = layout.segments.filter(({ id }) => shown.beside.has(id) && !shown.line.has(id));
  const line = layout.segments.filter(({ id }) => shown.line.has(id));
  return (
    <g className="highlight">
      {beside.map((segment) => (
        <Stroke key={segment.id} segment={segment} className="way-beside" width={segment.width + 6} />
      ))}
      {line.map((segment) => (
        <Stroke key={segment.id} segment={segment} className="way-glow" width={segment.width + 12} />
      ))}
      {line.map((segment) => {
        const [base, tracer] = shown.line.get(segment.id)!.split('-');
        return (
          <g key={segment.id} data-way={segment.id}>
            <Stroke segment={segment} className="way-edge" width={7} />
            <Stroke segment={segment} className="way-base" width={5} stroke={COLOUR_CODES[base!]?.hex} />
            {tracer === undefined ? null : (
              <Stroke segment={segment} className="way-tracer" width={2} stroke={COLOUR_CODES[tracer]?.hex} />
            )}
          </g>
        );
      })}
    </g>
  );
});

function Stroke({
  segment: { x1, y1, x2, y2 },
  className,
  width,
  stroke,
}: {
  readonly segment: ScreenSegment;
  readonly className: string;
  readonly width: number;
  readonly stroke?: string | undefined;
}) {
  return <line className={className} x1={x1} y1={y1} x2={x2} y2={y2} strokeWidth={width} stroke={stroke} />;
}
