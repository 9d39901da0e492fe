import { useEffect, useRef } from 'react';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import type { View } from './bench-state.ts';
import { drawBands, drawClips, type PlotBands } from './plot-marks.ts';
import { loadInk, watchInk } from './ink.ts';
import { POINTS_PER_COLUMN, type Band, type Span } from './recording/columns.ts';
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

const DASHES: Readonly<Record<LineRole, number[]>> = { host: [], donor: [], delivered: [6, 4] };

/** One plot of a lane. Drawn by uPlot on a canvas; what it shows is also in the table of routes. */
export function Plot(props: PlotProps) {
  const holder = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const latest = useRef(props);
  const filled = useRef<Filled>({ lines: null, plot: null });
  useEffect(() => {
    latest.current = props;
  });
  const roles = props.lines.map(({ role, thick }) => `${role} ${thick}`).join(',');

  useEffect(() => {
    const element = holder.current!;
    const made = new uPlot(optionsOf(latest, element.clientWidth), emptyOf(latest.current), element);
    plot.current = made;
    fill(made, latest.current, filled.current);
    const sized = new ResizeObserver(() => made.setSize({ width: element.clientWidth, height: latest.current.height }));
    sized.observe(element);
    const stop = watchInk(() => made.redraw(false, true));
    return () => {
      stop();
      sized.disconnect();
      made.destroy();
      plot.current = null;
    };
  }, [roles, props.height]);

  useEffect(() => {
    if (plot.current !== null) fill(plot.current, latest.current, filled.current);
  }, [props.lines, props.span, props.view, props.axis, props.bands, props.clips, roles, props.height]);

  return <div ref={holder} className="plot" style={{ height: props.height }} aria-hidden="true" />;
}

/** The data of lines without points: the columns come with the first fill. */
function emptyOf({ lines }: PlotProps): uPlot.AlignedData {
  return [[], ...lines.map(() => [])];
}

/** Puts the points in where they changed, and always the view. */
function fill(plot: uPlot, { lines, span, view, axis, startUs }: PlotProps, filled: Filled): void {
  const [low, high] = rangeOf(axis);
  plot.batch(() => {
    if (filled.lines !== lines || filled.plot !== plot) {
      plot.setData([timesOf(span, startUs), ...lines.map(({ points }) => valuesOf(points, span))], false);
      filled.lines = lines;
      filled.plot = plot;
    }
    plot.setScale('x', { min: (view.fromUs - startUs) / 1e6, max: (view.toUs - startUs) / 1e6 });
    plot.setScale('y', { min: low, max: high });
  });
}

/** What a plot holds. */
interface Filled {
  lines: readonly PlotLine[] | null;
  plot: uPlot | null;
}

function timesOf(span: Span, startUs: number): number[] {
  const widthUs = (span.toUs - span.fromUs) / span.columns;
  return Array.from({ length: span.columns * POINTS_PER_COLUMN }, (_, at) => {
    const part = at % POINTS_PER_COLUMN;
    const column = (at - part) / POINTS_PER_COLUMN;
    return (span.fromUs - startUs + (column + part / (POINTS_PER_COLUMN - 1)) * widthUs) / 1e6;
  });
}

function valuesOf(points: Float64Array, { columns }: Span): (number | null)[] {
  return Array.from({ length: columns * POINTS_PER_COLUMN }, (_, at) => numberOrNull(points[at]));
}

function numberOrNull(value: number | undefined): number | null {
  return value === undefined || Number.isNaN(value) ? null : value;
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
  const { axis, lines, height } = latest.current;
  const font = `11px ${getComputedStyle(document.documentElement).getPropertyValue('--font')}`;
  return {
    width,
    height,
    padding: [4, RIGHT_ROOM, 4, 0],
    cursor: { show: false },
    legend: { show: false },
    scales: { x: { time: false, auto: false }, y: { auto: false } },
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
    series: [
      {},
      ...lines.map(({ role, thick }) => ({
        stroke: () => ink()[role],
        width: thick ? 2 : 1.5,
        dash: DASHES[role],
        points: { show: false },
        spanGaps: false,
      })),
    ],
    hooks: {
      drawClear: [(plot) => drawBands(plot, latest.current.bands, latest.current.startUs, ink())],
      draw: [(plot) => drawClips(plot, latest.current.clips, latest.current.startUs, ink())],
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
