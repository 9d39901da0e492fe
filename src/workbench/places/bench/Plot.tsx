import { useEffect, useRef } from 'react';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { View } from './bench-state.ts';
import { drawLine } from './plot-lines.ts';
import { drawBands, drawClips, type PlotBands } from './plot-marks.ts';
import { loadInk, watchInk } from './ink.ts';
import type { Band, Span } from './recording/columns.ts';
import type { LaneAxis } from './recording/lane.ts';
import { ticksBetween } from './time-text.ts';

/** How a line is drawn: what it stands for is told by its stroke, not by its colour alone. */
export type LineRole = 'host' | 'donor' | 'delivered';

export interface PlotLine {
  readonly role: LineRole;
  /** A written value is drawn thicker than a read one. */
  readonly thick: boolean;
  readonly points: Float64Array;
}

interface PlotProps {
  readonly height: number;
  readonly axis: LaneAxis;
  readonly lines: readonly PlotLine[];
  readonly bands: PlotBands;
  readonly clips: readonly Band[];
  /** What the points cover. */
  readonly span: Span;
  readonly view: View;
  readonly startUs: number;
}

/** Width of the value axis and of the room at the right, in CSS pixels; the time axis and the cursor reckon with them. */
export const AXIS_WIDTH = 88;
export const RIGHT_ROOM = 14;

/** uPlot keeps the scales and the axes; it has no points of its own. */
const NO_POINTS: uPlot.AlignedData = [[], []];

/** One plot of a lane. Drawn by uPlot on a canvas; what it shows is also in the table of routes. */
export function Plot(props: PlotProps) {
  const holder = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const latest = useRef(props);
  useEffect(() => {
    latest.current = props;
  });

  useEffect(() => {
    const element = holder.current!;
    const made = new uPlot(optionsOf(latest, element.clientWidth), NO_POINTS, element);
    plot.current = made;
    fill(made, latest.current);
    const sized = new ResizeObserver(() => made.setSize({ width: element.clientWidth, height: latest.current.height }));
    sized.observe(element);
    const stop = watchInk(() => made.redraw(false, true));
    return () => {
      stop();
      sized.disconnect();
      made.destroy();
      plot.current = null;
    };
  }, [props.height]);

  useEffect(() => {
    if (plot.current !== null) fill(plot.current, latest.current);
  }, [props.lines, props.span, props.view, props.axis, props.bands, props.clips, props.height]);

  return <div ref={holder} className="plot" style={{ height: props.height }} aria-hidden="true" />;
}

/** Puts the view in; the lines themselves are drawn by their columns. */
function fill(plot: uPlot, { view, axis, startUs }: PlotProps): void {
  const [low, high] = rangeOf(axis);
  plot.batch(() => {
    plot.setScale('x', { min: (view.fromUs - startUs) / 1e6, max: (view.toUs - startUs) / 1e6 });
    plot.setScale('y', { min: low, max: high });
    plot.redraw(false);
  });
}

/** The range of the value axis: all names, or the least and greatest value of the recording with some room. */
function rangeOf({ labels, low, high }: LaneAxis): readonly [number, number] {
  if (labels !== null) return [-0.45, Math.max(1, labels.length - 1) + 0.45];
  if (low === null || high === null) return [0, 1];
  const room = high === low ? Math.max(1, Math.abs(high) * 0.1) : (high - low) * 0.12;
  return [low - room, high + room];
}

function optionsOf(latest: { readonly current: PlotProps }, width: number): uPlot.Options {
  const ink = (): ReturnType<typeof loadInk> => loadInk();
  const { axis, height } = latest.current;
  const font = `11px ${getComputedStyle(document.documentElement).getPropertyValue('--font')}`;
  return {
    width,
    height,
    padding: [6, RIGHT_ROOM, 6, 0],
    cursor: { show: false },
    legend: { show: false },
    scales: { x: { time: false, auto: false }, y: { auto: false, range: (_plot, min, max) => [min, max] } },
    axes: [
      {
        size: 0,
        ticks: { show: false },
        values: () => [],
        splits: (_plot, _axis, min, max) => ticksBetween(min * 1e6, max * 1e6, 10).map((us) => us / 1e6),
        grid: { stroke: () => ink().line, width: 1 },
      },
      {
        size: AXIS_WIDTH,
        font,
        stroke: () => ink().soft,
        gap: 4,
        ticks: { stroke: () => ink().line, width: 1, size: 4 },
        grid: { stroke: () => ink().line, width: 1 },
        ...(axis.labels === null
          ? { space: 26, values: (_plot: uPlot, splits: number[]) => splits.map(tickText) }
          : {
              splits: () => splitsOf(axis.labels!, height),
              values: (_plot: uPlot, splits: number[]) =>
                splits.map((at) => shorten(latest.current.axis.labels?.[at] ?? '')),
            }),
      },
    ],
    series: [{}, { show: false }],
    hooks: {
      drawClear: [(plot) => drawBands(plot, latest.current.bands, latest.current.startUs, ink())],
      draw: [
        (plot) => {
          const { lines, span, clips, startUs } = latest.current;
          for (const { role, thick, points } of lines)
            drawLine(plot, points, span, startUs, {
              colour: ink()[role],
              width: thick ? 3 : 1.5,
              dashed: role === 'delivered',
            });
          drawClips(plot, clips, startUs, ink());
        },
      ],
    },
  };
}

/** All names where there is room for them, else every second, third … */
function splitsOf(labels: readonly string[], height: number): number[] {
  const every = Math.max(1, Math.ceil((labels.length * 14) / Math.max(14, height - 8)));
  return labels.flatMap((_, at) => (at % every === 0 ? [at] : []));
}

function shorten(label: string): string {
  return label.length > 13 ? `${label.slice(0, 12)}…` : label;
}

function tickText(value: number): string {
  const text =
    Math.abs(value) >= 1e6 || (value !== 0 && Math.abs(value) < 1e-3)
      ? value.toExponential(1)
      : String(Number(value.toPrecision(7)));
  return text.replace('-', '−');
}
