import type { Content } from 'pdfmake';
import { columnAlign, LIGHT, type Row, type RowMark, type Table } from '../../document/index.ts';
import { LINE_HEIGHT } from './faces.ts';
import { drawnCell, rowNode, type DrawnCell } from './row-drawing.ts';
import { SMALL_PT, TABLE_PT, type Ground } from './setting.ts';
import { CELL_SIDE_PT, CONTINUED, type CellSetter } from './table-cells.ts';
import { typeset, type Line } from './typeset.ts';

/** A table laid for the PDF: its nodes, and the height that its head with one row needs together. */
export interface LaidTable {
  readonly nodes: readonly Content[];
  readonly heightPt: number;
  readonly startPt: number;
}

/** A table with what sets its cells and the page it is set for. */
export interface Side {
  readonly table: Table;
  readonly setter: CellSetter;
  readonly ground: Ground;
}

export const ROW_LINE_PT = TABLE_PT * LINE_HEIGHT;
export const ENTRY_ROW_PT = 15;
/** A row higher than this share of the page is broken into pieces that say that they continue. */
const HIGHEST_ROW_SHARE = 0.5;
/** How high such a piece is; small pieces fill pages well. */
const PIECE_SHARE = 0.25;
/** A table up to this share of the page is kept on one page. */
export const WHOLE_TABLE_SHARE = 0.45;
export const CAPTION_PT = 9;

function markColour(mark: RowMark): string {
  switch (mark.tone) {
    case 'stop':
      return LIGHT.stop;
    case 'caution':
      return LIGHT.caution;
    case 'note':
    case 'changed':
      return LIGHT.accent;
  }
}

export function rowFill(row: Row | undefined, position: number): string | null {
  if (row?.mark?.tone === 'stop') return LIGHT.stopShade;
  if (row?.mark?.tone === 'caution') return LIGHT.cautionShade;
  return position % 2 === 1 ? LIGHT.stripe : null;
}

/** A row as it is printed: set lines by column, and its place among the pieces of one row. */
export interface PrintedRow {
  readonly row: Row;
  readonly position: number;
  readonly piece: number;
  readonly lines: ReadonlyMap<number, readonly Line[]>;
}

export const heightOf = (lineCounts: readonly number[]): number => Math.max(1, ...lineCounts) * ROW_LINE_PT;

/** How many lines a row may have before it is broken, and how many each piece has then. */
export interface PieceLimit {
  readonly mostLines: number;
  readonly pieceLines: number;
}

export function pieceLimit(ground: Ground): PieceLimit {
  const lines = (share: number): number => Math.max(4, Math.floor((ground.page.heightRoomPt * share) / ROW_LINE_PT));
  return { mostLines: lines(HIGHEST_ROW_SHARE), pieceLines: lines(PIECE_SHARE) };
}

/** Cuts lines that are too high for a page into pieces; what is not, is one piece. */
export function piecesOf(
  lines: ReadonlyMap<number, readonly Line[]>,
  limit: PieceLimit,
): readonly ReadonlyMap<number, readonly Line[]>[] {
  let highest = 1;
  for (const set of lines.values()) highest = Math.max(highest, set.length);
  if (highest <= limit.mostLines) return [lines];
  const pieces: ReadonlyMap<number, readonly Line[]>[] = [];
  for (let from = 0; from < highest; from += limit.pieceLines) {
    pieces.push(new Map([...lines].map(([at, set]) => [at, set.slice(from, from + limit.pieceLines)])));
  }
  return pieces;
}

/** How many pieces the lines of a cell make. */
export function pieceCount(lineCount: number, limit: PieceLimit): number {
  return lineCount <= limit.mostLines ? 1 : Math.ceil(lineCount / limit.pieceLines);
}

/** A key cell in one piece of its row: named again in full, for the piece may head a page, unless itself too high. */
export function keyPiece(lines: readonly Line[], piece: number, limit: PieceLimit): readonly Line[] {
  return lines.length <= limit.mostLines
    ? lines
    : lines.slice(piece * limit.pieceLines, (piece + 1) * limit.pieceLines);
}

/** A key cell of a row: its lines, and under the last key, at the left, what marks the row or says that it goes on from above. */
export function keyCells(
  printed: PrintedRow,
  at: number,
  place: { readonly isFirst: boolean; readonly isLast: boolean; readonly xPt: number; readonly widthPt: number },
  keyLines: readonly Line[],
  { table, ground }: Side,
): readonly DrawnCell[] {
  const { xPt, widthPt, isFirst, isLast } = place;
  const column = table.columns[at];
  const { mark } = printed.row;
  const small = { sizePt: SMALL_PT, face: 'bold', metrics: ground.metrics } as const;
  const topPt = isFirst && anchorOf(printed) !== null ? ANCHOR_PT : 0;
  const align = column === undefined ? 'left' : columnAlign(column);
  const cells = [drawnCell(keyLines, { xPt, widthPt, topPt, align }, ground.metrics)];
  const under = (lines: readonly Line[], color: string): void => {
    const top = cells.at(-1)!.bottomPt;
    cells.push(drawnCell(lines, { xPt, widthPt, topPt: top }, ground.metrics, { sizePt: SMALL_PT, color }));
  };
  if (isLast && mark !== undefined && printed.piece === 0) under(typeset(mark.text, small, widthPt), markColour(mark));
  if (isLast && printed.piece > 0) under(typeset(CONTINUED, { ...small, face: 'italic' }, widthPt), LIGHT.muted);
  return cells;
}

/** What the target of a link took when it was a line of its own; rows keep their height. */
const ANCHOR_PT = 0.1 * LINE_HEIGHT;

/** The id of a row as the target of links; only its first piece is one. */
export function anchorOf(printed: PrintedRow): string | null {
  return printed.row.id === undefined || printed.piece > 0 ? null : printed.row.id;
}

/** The caption of a table, over its whole width. */
export function captionRow(title: string, ground: Ground, roomPt: number): Content {
  const widthPt = roomPt - 2 * CELL_SIDE_PT;
  const lines = typeset(title, { sizePt: CAPTION_PT, face: 'bold', metrics: ground.metrics }, widthPt);
  const cell = drawnCell(lines, { xPt: CELL_SIDE_PT, widthPt }, ground.metrics, { sizePt: CAPTION_PT });
  return rowNode(
    roomPt,
    () => cell.bottomPt,
    () => ({ cells: [cell], rules: [] }),
  );
}

/** Headings over the groups of neighbouring columns, or none when no column has one. */
export function groupSpans(
  table: Table,
  columns: readonly number[],
): { readonly title: string; readonly count: number }[] {
  const spans: { title: string; count: number }[] = [];
  for (const at of columns) {
    const title = table.columns[at]?.group ?? '';
    const last = spans.at(-1);
    if (last !== undefined && last.title === title) last.count += 1;
    else spans.push({ title, count: 1 });
  }
  return spans.some((span) => span.title !== '') ? spans : [];
}

/** The heading over a group of columns, in lines of the width of the group. */
export function groupTitle(title: string, widthPt: number, ground: Ground): readonly Line[] {
  return typeset(title, { sizePt: SMALL_PT, face: 'bold', metrics: ground.metrics }, widthPt - 2 * CELL_SIDE_PT);
}
