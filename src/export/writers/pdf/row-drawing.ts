import type { Content, Vector } from 'pdfmake';
import { LIGHT } from '../../document/index.ts';
import type { FaceMetrics } from './faces.ts';
import { TABLE_PT } from './setting.ts';
import type { Line } from './typeset.ts';

export type Align = 'left' | 'right' | 'center';

/** How a line of a cell is set; body text of a table where it says nothing. */
export interface LineLook {
  readonly sizePt?: number;
  readonly color?: string;
}

/** A line of type with its top, relative to the row. */
export interface DrawnLine {
  readonly line: Line;
  readonly topPt: number;
  /** Height of its baseline below its top. */
  readonly ascentPt: number;
  readonly sizePt: number;
  readonly color: string;
}

/** Lines under one another in a room of their own, `xPt` from the left of the row. */
export interface DrawnCell {
  readonly xPt: number;
  readonly widthPt: number;
  readonly align: Align;
  readonly lines: readonly DrawnLine[];
  /** Where the lines end, from the top of the row. */
  readonly bottomPt: number;
}

/**
 * A whole row of a table as one thing to draw: pdfmake places it and breaks pages around it, the row pen draws it. A row of many
 * cells as many nodes costs pdfmake about forty times as much.
 */
export interface RowDrawing {
  readonly kind: 'row';
  readonly widthPt: number;
  readonly heightPt: number;
  /** What is drawn, made when it is: thousands of rows are laid long before their page is written. */
  readonly parts: () => RowParts;
  /** The row as the target of links. */
  readonly id: string | null;
}

export type Rule = Extract<Vector, { type: 'line' }>;

/** Cells and lines of a row, relative to its left top. */
export interface RowParts {
  readonly cells: readonly DrawnCell[];
  readonly rules: readonly Rule[];
}

export function isRowDrawing(drawing: unknown): drawing is RowDrawing {
  return typeof drawing === 'object' && drawing !== null && (drawing as { kind?: unknown }).kind === 'row';
}

/** Lines set under one another from `topPt`; a line without text takes no room. */
export function drawnLines(
  lines: readonly Line[],
  topPt: number,
  metrics: FaceMetrics,
  { sizePt = TABLE_PT, color = LIGHT.ink }: LineLook = {},
): { readonly lines: readonly DrawnLine[]; readonly bottomPt: number } {
  const drawn: DrawnLine[] = [];
  let top = topPt;
  for (const line of lines) {
    let ascent = 0;
    let height = 0;
    for (const { face, text } of line.spans) {
      if (text === '') continue;
      ascent = Math.max(ascent, metrics[face].ascent);
      height = Math.max(height, metrics[face].lineHeight);
    }
    if (height === 0) continue;
    drawn.push({ line, topPt: top, ascentPt: ascent * sizePt, sizePt, color });
    top += height * sizePt;
  }
  return { lines: drawn, bottomPt: top };
}

/** Where and how a cell stands in its row. */
export interface CellPlace {
  readonly xPt: number;
  readonly widthPt: number;
  readonly topPt?: number;
  readonly align?: Align;
}

export function drawnCell(
  lines: readonly Line[],
  { xPt, widthPt, topPt = 0, align = 'left' }: CellPlace,
  metrics: FaceMetrics,
  look?: LineLook,
): DrawnCell {
  return { xPt, widthPt, align, ...drawnLines(lines, topPt, metrics, look) };
}

export function bottomOf(cells: readonly DrawnCell[]): number {
  return cells.reduce((bottom, cell) => Math.max(bottom, cell.bottomPt), 0);
}

/** The row as a node; `heightPt` is worked out once from its parts, which are then made again when they are drawn. */
export function rowNode(
  widthPt: number,
  heightOfParts: (parts: RowParts) => number,
  parts: () => RowParts,
  id: string | null = null,
): Content {
  const drawing: RowDrawing = { kind: 'row', widthPt, heightPt: heightOfParts(parts()), parts, id };
  return { svg: drawing };
}
