import type { Content, TableLayout, TextNode } from 'pdfmake';
import { columnAlign, LIGHT, type Column, type Row } from '../../document/index.ts';
import type { Band } from '../column-bands.ts';
import { LINE_HEIGHT } from './faces.ts';
import { linesNode } from './line-nodes.ts';
import {
  captionRow,
  CAPTION_PT,
  ENTRY_ROW_PT,
  groupSpans,
  groupTitle,
  heightOf,
  keyNodes,
  keyPiece,
  pieceLimit,
  piecesOf,
  ROW_LINE_PT,
  rowFill,
  withAnchor,
  type LaidTable,
  type PrintedRow,
  type Side,
} from './row-pieces.ts';
import { SMALL_PT, TABLE_PT } from './setting.ts';
import { CELL_EDGE_PT, CELL_SIDE_PT } from './table-cells.ts';

const CHECK_BOX_PT = TABLE_PT * 1.35;

const alignOf = (column: Column | undefined): 'left' | 'right' | 'center' =>
  column === undefined ? 'left' : columnAlign(column);

function headRows(side: Side, title: string, band: Band): { readonly rows: Content[][]; readonly heightPt: number } {
  const { table, setter, ground } = side;
  const roomPt = band.widths.reduce((total, width) => total + width, 0);
  const headers = band.at.map((at, place) => setter.header(at, band.widths[place] ?? 0));
  const titles = headers.map((lines, place): Content => ({
    ...(linesNode(lines, { alignment: alignOf(table.columns[band.at[place] ?? 0]) }) as TextNode),
    fillColor: LIGHT.shade,
  }));
  let place = 0;
  let groupLines = 0;
  const groups = groupSpans(table, band.at).flatMap((group): Content[] => {
    const widthPt = band.widths.slice(place, place + group.count).reduce((total, width) => total + width, 0);
    place += group.count;
    const lines = groupTitle(group.title, widthPt, ground);
    groupLines = Math.max(groupLines, lines.length);
    const heading = linesNode(lines, { color: LIGHT.accent, fontSize: SMALL_PT }) as TextNode;
    return [
      { ...heading, colSpan: group.count, fillColor: LIGHT.shade },
      ...Array.from({ length: group.count - 1 }, (): Content => ({ text: '' })),
    ];
  });
  return {
    rows: [captionRow(title, band.at.length, ground, roomPt), ...(groups.length > 0 ? [groups] : []), titles],
    heightPt:
      CAPTION_PT * LINE_HEIGHT +
      groupLines * ROW_LINE_PT +
      heightOf(headers.map((lines) => lines.length)) +
      6 * CELL_EDGE_PT,
  };
}

/**
 * A table in which every column is a column of the PDF's table. `band.at` starts with the `keyCount` key columns; blanks for
 * a pen get room to write and lines around them.
 */
export function flatTable(side: Side, title: string, band: Band, rows: readonly Row[], keyCount: number): LaidTable {
  const { table, setter, ground } = side;
  const widthOf = (place: number): number => band.widths[place] ?? 0;
  const hasEntries = band.at.some((at) => table.columns[at]?.kind === 'entry');
  const limit = pieceLimit(ground);
  const head = headRows(side, title, band);
  const headCount = head.rows.length;

  const printed: PrintedRow[] = rows.flatMap((row, position) => {
    const lines = new Map(band.at.map((at, place) => [at, setter.cell(row, at, widthOf(place))]));
    return piecesOf(lines, limit).map((piece, number) => ({ row, position, piece: number, lines: piece }));
  });
  const body = printed.map((one) =>
    band.at.map((at, place): Content => {
      if (place < keyCount) {
        const keyLines = keyPiece(setter.cell(one.row, at, widthOf(place)), one.piece, limit);
        const content = keyNodes(one, at, place === keyCount - 1, keyLines, table, ground, widthOf(place));
        return place === 0 ? withAnchor(content, one) : content;
      }
      const column = table.columns[at];
      const look: Omit<TextNode, 'text'> = { alignment: alignOf(column) };
      return linesNode(one.lines.get(at) ?? [], column?.kind === 'check' ? { ...look, fontSize: CHECK_BOX_PT } : look);
    }),
  );
  const heights = printed.map((one) => {
    const counts = band.at.map((at) => one.lines.get(at)?.length ?? 1);
    counts[keyCount - 1] = (counts[keyCount - 1] ?? 1) + (one.row.mark === undefined && one.piece === 0 ? 0 : 1);
    return Math.max(hasEntries ? ENTRY_ROW_PT : 0, heightOf(counts)) + 2 * CELL_EDGE_PT + 0.4;
  });

  const vLinePt = hasEntries ? 0.4 : 0;
  const layout: TableLayout = {
    hLineWidth: (line) => {
      if (line === 1 || line === headCount) return 0.9;
      if (line < headCount) return 0;
      return (printed[line - headCount]?.piece ?? 0) > 0 ? 0 : 0.35;
    },
    vLineWidth: () => vLinePt,
    hLineColor: (line) => (line <= headCount ? LIGHT.ink : LIGHT.rule),
    vLineColor: () => LIGHT.rule,
    paddingLeft: () => CELL_SIDE_PT,
    paddingRight: () => CELL_SIDE_PT,
    paddingTop: () => CELL_EDGE_PT,
    paddingBottom: () => CELL_EDGE_PT,
    fillColor: (row) => {
      const one = printed[row - headCount];
      return one === undefined ? null : rowFill(one.row, one.position);
    },
  };
  const node: Content = {
    fontSize: TABLE_PT,
    table: {
      headerRows: headCount,
      keepWithHeaderRows: Math.min(1, body.length),
      dontBreakRows: true,
      widths: band.widths.map((width) => width - 2 * CELL_SIDE_PT - vLinePt),
      ...(hasEntries ? { heights: (row: number) => (row < headCount ? 'auto' : ENTRY_ROW_PT) } : {}),
      body: [...head.rows, ...body],
    },
    layout,
  };
  return {
    nodes: [node],
    heightPt: head.heightPt + heights.reduce((total, height) => total + height, 0),
    startPt: head.heightPt + (heights[0] ?? 0),
  };
}
