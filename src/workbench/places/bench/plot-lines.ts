import type uPlot from 'uplot';
import { POINTS_PER_COLUMN, type Span } from './recording/columns.ts';

/** How a line is drawn. */
export interface Stroke {
  readonly colour: string;
  /** CSS pixels. */
  readonly width: number;
  readonly dashed: boolean;
}

/** CSS pixels drawn and left out of a dashed line, along the time axis. */
const DASH_ON = 6;
const DASH = 10;

/**
 * Draws a line of columns: what holds is a level stroke, what changes within a column a bar from its least to its greatest value.
 * At most one rectangle a column, however many values there are; a stroke through every point of a dense stretch takes seconds.
 */
export function drawLine(
  plot: uPlot,
  points: Float64Array,
  span: Span,
  startUs: number,
  { colour, width, dashed }: Stroke,
): void {
  const { ctx, bbox } = plot;
  const scale = devicePixelRatio;
  const thick = Math.max(1, Math.round(width * scale));
  const half = thick / 2;
  const columnUs = (span.toUs - span.fromUs) / span.columns;
  const xOf = (column: number): number => plot.valToPos((span.fromUs - startUs + column * columnUs) / 1e6, 'x', true);
  const left = xOf(0);
  const wide = (xOf(span.columns) - left) / span.columns;
  if (!(wide > 0)) return;
  const yOf = (value: number): number => plot.valToPos(value, 'y', true);
  const first = Math.max(0, Math.floor((bbox.left - left) / wide));
  const end = Math.min(points.length / POINTS_PER_COLUMN, Math.ceil((bbox.left + bbox.width - left) / wide));
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.fillStyle = colour;
  /** A level that goes on: where it began, and its height. */
  let runFrom = Number.NaN;
  let runValue = Number.NaN;
  const endRun = (column: number): void => {
    if (Number.isNaN(runFrom)) return;
    const from = Math.round(left + runFrom * wide);
    level(ctx, from, Math.round(left + column * wide), Math.round(yOf(runValue) - half), thick, dashed ? scale : 0);
    runFrom = Number.NaN;
  };
  for (let column = first; column < end; column += 1) {
    const at = column * POINTS_PER_COLUMN;
    const low = points[at + 1]!;
    const high = points[at + 2]!;
    const last = points[at + 3]!;
    if (low === high && points[at]! === low && last === low) {
      if (low === runValue && !Number.isNaN(runFrom)) continue;
      endRun(column);
      runFrom = column;
      runValue = low;
      continue;
    }
    endRun(column);
    if (Number.isNaN(low)) continue;
    const from = Math.round(left + column * wide);
    const to = Math.max(from + thick, Math.round(left + (column + 1) * wide));
    if (dashed && isGap(from, scale)) continue;
    const top = Math.round(yOf(high) - half);
    ctx.fillRect(from, top, to - from, Math.round(yOf(low) - half) + thick - top);
  }
  endRun(end);
  ctx.restore();
}

function isGap(x: number, scale: number): boolean {
  return x % (DASH * scale) >= DASH_ON * scale;
}

/** A level stroke, in dashes where `dashScale` is not 0. */
function level(
  ctx: CanvasRenderingContext2D,
  from: number,
  to: number,
  top: number,
  thick: number,
  dashScale: number,
): void {
  if (dashScale === 0) {
    ctx.fillRect(from, top, Math.max(1, to - from), thick);
    return;
  }
  const dash = DASH * dashScale;
  for (let at = Math.floor(from / dash) * dash; at < to; at += dash) {
    const begins = Math.max(from, at);
    const ends = Math.min(to, at + DASH_ON * dashScale);
    if (ends > begins) ctx.fillRect(begins, top, ends - begins, thick);
  }
}
