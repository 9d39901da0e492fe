import type { Content, TextNode } from 'pdfmake';
import { columnAlign, LIGHT, type Row, type RowMark, type Table } from '../../document/index.ts';
import { LINE_HEIGHT } from './faces.ts';
import { anchorNode, lineNode, linesNode } from './line-nodes.ts';
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

export function keyNodes(
  printed: PrintedRow,
  at: number,
  isLastKey: boolean,
  keyLines: readonly Line[],
  table: Table,
  ground: Ground,
  widthPt: number,
): Content {
  const column = table.columns[at];
  const look: Omit<TextNode, 'text'> = { alignment: column === undefined ? 'left' : columnAlign(column) };
  const mark = printed.row.mark;
  const small = { sizePt: SMALL_PT, face: 'bold', metrics: ground.metrics } as const;
  const said =
    isLastKey && mark !== undefined && printed.piece === 0 ? typeset(mark.text, small, widthPt - 2 * CELL_SIDE_PT) : [];
  const continued =
    isLastKey && printed.piece > 0 ? typeset(CONTINUED, { ...small, face: 'italic' }, widthPt - 2 * CELL_SIDE_PT) : [];
  const stack: Content[] = keyLines.map((line) => lineNode(line, look));
  if (mark !== undefined)
    stack.push(...said.map((line) => lineNode(line, { color: markColour(mark), fontSize: SMALL_PT })));
  stack.push(...continued.map((line) => lineNode(line, { color: LIGHT.muted, fontSize: SMALL_PT })));
  return stack.length === 1 && stack[0] !== undefined ? stack[0] : { stack };
}

export function withAnchor(content: Content, printed: PrintedRow): Content {
  if (printed.row.id === undefined || printed.piece > 0) return content;
  return { stack: [anchorNode(printed.row.id), content] };
}

export function captionRow(title: string, span: number, ground: Ground, roomPt: number): Content[] {
  const lines = typeset(
    title,
    { sizePt: CAPTION_PT, face: 'bold', metrics: ground.metrics },
    roomPt - 2 * CELL_SIDE_PT,
  );
  const caption: Content = {
    ...(linesNode(lines, { color: LIGHT.ink, fontSize: CAPTION_PT }) as TextNode),
    colSpan: span,
    border: [false, false, false, true],
    fillColor: LIGHT.paper,
  };
  return [caption, ...Array.from({ length: span - 1 }, (): Content => ({ text: '' }))];
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
