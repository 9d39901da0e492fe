import type { Content, TableLayout } from 'pdfmake';
import { columnAlign, LIGHT, type Column, type Row } from '../../document/index.ts';
import type { Band } from '../column-bands.ts';
import { LINE_HEIGHT } from './faces.ts';
import { bottomOf, drawnCell, rowNode, type Align, type DrawnCell, type RowParts, type Rule } from './row-drawing.ts';
import {
  anchorOf,
  captionRow,
  CAPTION_PT,
  ENTRY_ROW_PT,
  groupSpans,
  groupTitle,
  heightOf,
  keyCells,
  keyPiece,
  pieceLimit,
  piecesOf,
  ROW_LINE_PT,
  rowFill,
  type LaidTable,
  type PrintedRow,
  type Side,
} from './row-pieces.ts';
import { SMALL_PT, TABLE_PT } from './setting.ts';
import { CELL_EDGE_PT, CELL_SIDE_PT } from './table-cells.ts';

const CHECK_BOX_PT = TABLE_PT * 1.35;
const ROW_RULE_PT = 0.35;

const alignOf = (column: Column | undefined): Align => (column === undefined ? 'left' : columnAlign(column));

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** Where the columns of a table stand, lines between them counted; points. */
interface Columns {
  readonly band: Band;
  readonly widthPt: number;
  readonly linePt: number;
  /** The room between the blanks at the sides of a column. */
  readonly room: (place: number) => { readonly xPt: number; readonly widthPt: number };
  readonly edgePt: (place: number) => number;
}

function columnsOf(band: Band, linePt: number): Columns {
  const edges = [0];
  for (const width of band.widths) edges.push(edges.at(-1)! + width);
  const edgePt = (place: number): number => edges[place] ?? 0;
  return {
    band,
    widthPt: edges.at(-1)!,
    linePt,
    edgePt,
    room: (place) => ({
      xPt: edgePt(place) + linePt + CELL_SIDE_PT,
      widthPt: (band.widths[place] ?? 0) - 2 * CELL_SIDE_PT - linePt,
    }),
  };
}

/** Lines at the edges of the columns, over the whole height of a row. */
function edgeRules({ band, linePt, edgePt }: Columns, heightPt: number): readonly Rule[] {
  if (linePt === 0) return [];
  const [y1, y2] = [-CELL_EDGE_PT - ROW_RULE_PT, heightPt + CELL_EDGE_PT];
  return Array.from({ length: band.widths.length + 1 }, (_, place) => {
    const x = edgePt(place) + linePt / 2;
    return { type: 'line' as const, x1: x, y1, x2: x, y2, lineWidth: linePt, lineColor: LIGHT.rule };
  });
}

function headRows(
  side: Side,
  title: string,
  columns: Columns,
): { readonly rows: Content[]; readonly heightPt: number } {
  const { table, setter, ground } = side;
  const { band, widthPt } = columns;
  const headers = band.at.map((at, place) => setter.header(at, band.widths[place] ?? 0));
  const titles = headers.map((lines, place) =>
    drawnCell(lines, { ...columns.room(place), align: alignOf(table.columns[band.at[place] ?? 0]) }, ground.metrics),
  );
  let place = 0;
  let groupLines = 0;
  const groups = groupSpans(table, band.at).map((group): DrawnCell => {
    const groupPt = sum(band.widths.slice(place, place + group.count));
    const xPt = columns.room(place).xPt;
    place += group.count;
    const lines = groupTitle(group.title, groupPt, ground);
    groupLines = Math.max(groupLines, lines.length);
    const look = { color: LIGHT.accent, sizePt: SMALL_PT };
    return drawnCell(lines, { xPt, widthPt: groupPt - 2 * CELL_SIDE_PT }, ground.metrics, look);
  });
  const row = (cells: readonly DrawnCell[]): Content => {
    const heightPt = bottomOf(cells);
    return rowNode(
      widthPt,
      () => heightPt,
      () => ({ cells, rules: edgeRules(columns, heightPt) }),
    );
  };
  return {
    rows: [captionRow(title, ground, widthPt), ...(groups.length > 0 ? [row(groups)] : []), row(titles)],
    heightPt:
      CAPTION_PT * LINE_HEIGHT +
      groupLines * ROW_LINE_PT +
      heightOf(headers.map((lines) => lines.length)) +
      6 * CELL_EDGE_PT,
  };
}

/** One printed row, drawn. */
function bodyRow(side: Side, columns: Columns, one: PrintedRow, keyCount: number, leastPt: number): Content {
  const { table, setter, ground } = side;
  const limit = pieceLimit(ground);
  const cellsOf = (): readonly DrawnCell[] =>
    columns.band.at.flatMap((at, place): readonly DrawnCell[] => {
      const room = columns.room(place);
      if (place < keyCount) {
        const keyLines = keyPiece(setter.cell(one.row, at, columns.band.widths[place] ?? 0), one.piece, limit);
        return keyCells(one, at, { ...room, isFirst: place === 0, isLast: place === keyCount - 1 }, keyLines, side);
      }
      const column = table.columns[at];
      const look = column?.kind === 'check' ? { sizePt: CHECK_BOX_PT } : {};
      return [drawnCell(one.lines.get(at) ?? [], { ...room, align: alignOf(column) }, ground.metrics, look)];
    });
  const heightOfRow = (cells: readonly DrawnCell[]): number => Math.max(leastPt, bottomOf(cells));
  return rowNode(
    columns.widthPt,
    ({ cells }) => heightOfRow(cells),
    (): RowParts => {
      const cells = cellsOf();
      return { cells, rules: edgeRules(columns, heightOfRow(cells)) };
    },
    anchorOf(one),
  );
}

/**
 * A table in which every column has its own place. `band.at` starts with the `keyCount` key columns; blanks for a pen get
 * room to write and lines around them.
 */
export function flatTable(side: Side, title: string, band: Band, rows: readonly Row[], keyCount: number): LaidTable {
  const { table, setter, ground } = side;
  const hasEntries = band.at.some((at) => table.columns[at]?.kind === 'entry');
  const limit = pieceLimit(ground);
  const columns = columnsOf(band, hasEntries ? 0.4 : 0);
  const head = headRows(side, title, columns);
  const headCount = head.rows.length;

  const printed: PrintedRow[] = rows.flatMap((row, position) => {
    const lines = new Map(band.at.map((at, place) => [at, setter.cell(row, at, band.widths[place] ?? 0)]));
    return piecesOf(lines, limit).map((piece, number) => ({ row, position, piece: number, lines: piece }));
  });
  const leastPt = hasEntries ? ENTRY_ROW_PT : 0;
  const body = printed.map((one) => bodyRow(side, columns, one, keyCount, leastPt));
  const heights = printed.map((one) => {
    const counts = band.at.map((at) => one.lines.get(at)?.length ?? 1);
    counts[keyCount - 1] = (counts[keyCount - 1] ?? 1) + (one.row.mark === undefined && one.piece === 0 ? 0 : 1);
    return Math.max(leastPt, heightOf(counts)) + 2 * CELL_EDGE_PT + 0.4;
  });

  const layout: TableLayout = {
    hLineWidth: (line) => {
      if (line === 1 || line === headCount) return 0.9;
      if (line < headCount) return 0;
      return (printed[line - headCount]?.piece ?? 0) > 0 ? 0 : ROW_RULE_PT;
    },
    vLineWidth: () => 0,
    hLineColor: (line) => (line <= headCount ? LIGHT.ink : LIGHT.rule),
    paddingLeft: () => 0,
    paddingRight: () => 0,
    paddingTop: () => CELL_EDGE_PT,
    paddingBottom: () => CELL_EDGE_PT,
    fillColor: (row) => {
      if (row < headCount) return row === 0 ? LIGHT.paper : LIGHT.shade;
      const one = printed[row - headCount];
      return one === undefined ? null : rowFill(one.row, one.position);
    },
  };
  const node: Content = {
    table: {
      headerRows: headCount,
      keepWithHeaderRows: Math.min(1, body.length),
      dontBreakRows: true,
      widths: [columns.widthPt],
      body: [...head.rows, ...body].map((row) => [row]),
    },
    layout,
  };
  return {
    nodes: [node],
    heightPt: head.heightPt + sum(heights),
    startPt: head.heightPt + (heights[0] ?? 0),
  };
}
