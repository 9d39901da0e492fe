import type uPlot from 'uplot';
import type { Ink } from './ink.ts';
import type { Band } from './recording/columns.ts';

/** Stretches without a value, with the word for each kind of them. */
export interface PlotBands {
  readonly words: readonly string[];
  readonly tone: 'stale' | 'loss';
  readonly bands: readonly Band[];
}

/** Distance of the hatching's lines, and length of a clip mark, in CSS pixels. */
const HATCH = 7;
const MARK = 5;

/** Stretches without a value, behind the lines: a ground, a hatching of their own, and their name where there is room. */
export function drawBands(plot: uPlot, { bands, words, tone }: PlotBands, startUs: number, ink: Ink): void {
  const { ctx, bbox } = plot;
  const scale = devicePixelRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  for (const { fromUs, toUs, kind } of bands) {
    const left = plot.valToPos((fromUs - startUs) / 1e6, 'x', true);
    const right = Math.max(left + scale, plot.valToPos((toUs - startUs) / 1e6, 'x', true));
    if (right < bbox.left || left > bbox.left + bbox.width) continue;
    const from = Math.max(left, bbox.left);
    const width = Math.min(right, bbox.left + bbox.width) - from;
    const strong = kind === 1;
    ctx.fillStyle = strong ? (tone === 'stale' ? ink.staleGround : ink.lossGround) : ink.staleGround;
    ctx.fillRect(from, bbox.top, width, bbox.height);
    hatch(
      ctx,
      from,
      bbox.top,
      width,
      bbox.height,
      scale,
      strong ? (tone === 'stale' ? ink.stale : ink.loss) : ink.soft,
      tone === 'loss',
    );
    label(ctx, words[kind] ?? '', from, bbox.top, width, scale, ink);
  }
  ctx.restore();
}

function hatch(
  ctx: CanvasRenderingContext2D,
  left: number,
  top: number,
  width: number,
  height: number,
  scale: number,
  colour: string,
  falling: boolean,
): void {
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  ctx.strokeStyle = colour;
  ctx.globalAlpha = 0.35;
  ctx.lineWidth = scale;
  ctx.beginPath();
  const step = HATCH * scale;
  for (let at = Math.floor((left - height) / step) * step; at < left + width; at += step) {
    ctx.moveTo(at, falling ? top : top + height);
    ctx.lineTo(at + height, falling ? top + height : top);
  }
  ctx.stroke();
  ctx.restore();
}

function label(
  ctx: CanvasRenderingContext2D,
  text: string,
  left: number,
  top: number,
  width: number,
  scale: number,
  ink: Ink,
): void {
  if (text === '') return;
  ctx.font = `${10.5 * scale}px ${getComputedStyle(document.documentElement).getPropertyValue('--font')}`;
  const room = ctx.measureText(text).width + 8 * scale;
  if (room > width) return;
  ctx.fillStyle = ink.surface;
  ctx.fillRect(left + 2 * scale, top + 2 * scale, room - 2 * scale, 14 * scale);
  ctx.fillStyle = ink.ink;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  ctx.fillText(text, left + 5 * scale, top + 9.5 * scale);
}

/** Where the target cannot show the value: a bar with teeth along the edge it runs into. */
export function drawClips(plot: uPlot, clips: readonly Band[], startUs: number, ink: Ink): void {
  const { ctx, bbox } = plot;
  const scale = devicePixelRatio;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.fillStyle = ink.clip;
  for (const { fromUs, toUs, kind } of clips) {
    const left = Math.max(bbox.left, plot.valToPos((fromUs - startUs) / 1e6, 'x', true));
    const right = Math.min(
      bbox.left + bbox.width,
      Math.max(left + 2 * scale, plot.valToPos((toUs - startUs) / 1e6, 'x', true)),
    );
    if (right <= left) continue;
    const high = kind === 2;
    const edge = high ? bbox.top : bbox.top + bbox.height;
    const inward = high ? 1 : -1;
    ctx.fillRect(left, high ? edge : edge - 2 * scale, right - left, 2 * scale);
    const middle = (left + right) / 2;
    ctx.beginPath();
    ctx.moveTo(middle - MARK * scale, edge);
    ctx.lineTo(middle + MARK * scale, edge);
    ctx.lineTo(middle, edge + inward * (MARK + 2) * scale);
    ctx.closePath();
    ctx.fill();
  }
  ctx.restore();
}
