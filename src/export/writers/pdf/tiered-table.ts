import type { Content, TableLayout, TextNode } from 'pdfmake';
import { columnAlign, LIGHT, type Column, type Row } from '../../document/index.ts';
import type { Band, Bands } from '../column-bands.ts';
import { LINE_HEIGHT } from './faces.ts';
import { linesNode } from './line-nodes.ts';
import {
  captionRow,
  CAPTION_PT,
  groupSpans,
  groupTitle,
  heightOf,
  keyNodes,
  keyPiece,
  pieceCount,
  pieceLimit,
  piecesOf,
  ROW_LINE_PT,
  rowFill,
  withAnchor,
  type LaidTable,
  type PieceLimit,
  type PrintedRow,
  type Side,
} from './row-pieces.ts';
import { SMALL_PT, TABLE_PT } from './setting.ts';
import { CELL_EDGE_PT, CELL_SIDE_PT } from './table-cells.ts';
import type { Line } from './typeset.ts';

/** Room left of each tier for the letter that joins it to its line of the header. */
export const TIER_LETTER_PT = 11;

const TIER_EDGE_PT = CELL_EDGE_PT * 0.6;

const alignOf = (column: Column | undefined): 'left' | 'right' | 'center' =>
  column === undefined ? 'left' : columnAlign(column);

const letterOf = (tier: number): string => String.fromCharCode(97 + (tier % 26));

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** A line of columns side by side, as a tier of a row or of the header has them. */
function tierNode(tier: number, band: Band, cellOf: (at: number, place: number) => Content): Content {
  return {
    columnGap: 0,
    columns: [
      { text: letterOf(tier), width: TIER_LETTER_PT, color: LIGHT.muted, margin: [2, 0, 0, 0] },
      ...band.at.map((at, place): Content => ({
        width: band.widths[place] ?? 0,
        margin: [CELL_SIDE_PT, 0, CELL_SIDE_PT, 0],
        stack: [cellOf(at, place)],
      })),
    ],
  };
}

/** The dotted line between two tiers of one row. */
function between(widthPt: number): Content {
  const dash = { length: 1, space: 1.5 };
  return {
    canvas: [{ type: 'line', x1: 0, y1: 0, x2: widthPt, y2: 0, lineWidth: 0.3, lineColor: LIGHT.rule, dash }],
    margin: [0, TIER_EDGE_PT, 0, TIER_EDGE_PT],
  };
}

function tierHeader(side: Side, tier: number, band: Band): { readonly node: Content; readonly heightPt: number } {
  const { table, setter, ground } = side;
  let place = 0;
  let groupLines = 0;
  const groups = groupSpans(table, band.at).map((group): Content => {
    const width = sum(band.widths.slice(place, place + group.count));
    place += group.count;
    const lines = groupTitle(group.title, width, ground);
    groupLines = Math.max(groupLines, lines.length);
    return {
      stack: [linesNode(lines, { color: LIGHT.accent, fontSize: SMALL_PT })],
      width,
      margin: [CELL_SIDE_PT, 0, 0, 0],
    };
  });
  const headers = band.at.map((at, column) => setter.header(at, band.widths[column] ?? 0));
  const titles = tierNode(tier, band, (at, column) =>
    linesNode(headers[column] ?? [], { alignment: alignOf(table.columns[at]) }),
  );
  const letterRoom: Content = { text: '', width: TIER_LETTER_PT };
  return {
    node: groups.length === 0 ? titles : { stack: [{ columnGap: 0, columns: [letterRoom, ...groups] }, titles] },
    heightPt: heightOf(headers.map((lines) => lines.length)) + groupLines * ROW_LINE_PT + 2 * TIER_EDGE_PT,
  };
}

function headRows(side: Side, bands: Bands, restPt: number): { readonly rows: Content[][]; readonly heightPt: number } {
  const { table, setter, ground } = side;
  const keys = bands.keys.at.map((at, place): Content => ({
    ...(linesNode(setter.header(at, bands.keys.widths[place] ?? 0)) as TextNode),
    fillColor: LIGHT.shade,
  }));
  const tiers = bands.bands.map((band, tier) => tierHeader(side, tier, band));
  const stack = tiers.flatMap((tier, at) => (at === 0 ? [tier.node] : [between(restPt), tier.node]));
  return {
    rows: [
      captionRow(table.title, bands.keys.at.length + 1, ground, ground.page.roomPt),
      [...keys, { stack, fillColor: LIGHT.shade }],
    ],
    heightPt: CAPTION_PT * LINE_HEIGHT + sum(tiers.map((tier) => tier.heightPt)) + 6 * CELL_EDGE_PT,
  };
}

/** One tier of a row, or a piece of one that is too high. */
interface Slice {
  readonly tier: number;
  readonly band: Band;
  readonly lines: ReadonlyMap<number, readonly Line[]>;
  readonly heightPt: number;
}

/** The slices of a row, gathered into rows of the PDF's table that are not too high; at least `least` of them. */
function gather(slices: readonly Slice[], mostPt: number, least: number): readonly (readonly Slice[])[] {
  const rows: Slice[][] = [];
  let usedPt = Infinity;
  for (const slice of slices) {
    const last = rows.at(-1);
    if (last !== undefined && usedPt + slice.heightPt <= mostPt) {
      last.push(slice);
      usedPt += slice.heightPt;
    } else {
      rows.push([slice]);
      usedPt = slice.heightPt;
    }
  }
  while (rows.length < least) rows.push([]);
  return rows;
}

interface BodyRow {
  readonly row: Row;
  readonly position: number;
  readonly piece: number;
  readonly cells: readonly Content[];
  readonly heightPt: number;
}

function bodyRows(side: Side, bands: Bands, restPt: number, limit: PieceLimit, row: Row, position: number): BodyRow[] {
  const { table, setter, ground } = side;
  const keyLines = bands.keys.at.map((at, place) => setter.cell(row, at, bands.keys.widths[place] ?? 0));
  const slices = bands.bands.flatMap((band, tier): Slice[] => {
    const lines = new Map(band.at.map((at, place) => [at, setter.cell(row, at, band.widths[place] ?? 0)]));
    return piecesOf(lines, limit).map((piece) => ({
      tier,
      band,
      lines: piece,
      heightPt: heightOf([...piece.values()].map((set) => set.length)) + 2 * TIER_EDGE_PT,
    }));
  });
  const least = Math.max(...keyLines.map((lines) => pieceCount(lines.length, limit)));
  return gather(slices, limit.mostLines * ROW_LINE_PT, least).map((gathered, piece): BodyRow => {
    const printed: PrintedRow = { row, position, piece, lines: new Map() };
    const last = bands.keys.at.length - 1;
    const keys = bands.keys.at.map((at, place): Content => {
      const lines = keyPiece(keyLines[place] ?? [], piece, limit);
      const content = keyNodes(printed, at, place === last, lines, table, ground, bands.keys.widths[place] ?? 0);
      return place === 0 ? withAnchor(content, printed) : content;
    });
    const tiers = gathered.flatMap((slice, at): Content[] => {
      const node = tierNode(slice.tier, slice.band, (column) =>
        linesNode(slice.lines.get(column) ?? [], { alignment: alignOf(table.columns[column]) }),
      );
      return at === 0 ? [node] : [between(restPt), node];
    });
    const heightPt = sum(gathered.map((slice) => slice.heightPt)) + 2 * CELL_EDGE_PT;
    return { row, position, piece, cells: [...keys, { stack: tiers }], heightPt };
  });
}

/**
 * A table in several bands: each row is printed over as many tiers, one under another, its key beside all of them; the
 * header has the same tiers, and letters join the two.
 */
export function tieredTable(side: Side, bands: Bands): LaidTable {
  const { table, ground } = side;
  const keyCount = bands.keys.at.length;
  const restPt = ground.page.roomPt - sum(bands.keys.widths);
  const limit = pieceLimit(ground);
  const head = headRows(side, bands, restPt);
  const headCount = head.rows.length;
  const body = table.rows.flatMap((row, position) => bodyRows(side, bands, restPt, limit, row, position));
  const layout: TableLayout = {
    hLineWidth: (line) => {
      if (line === 0) return 0;
      if (line <= headCount) return 0.9;
      return (body[line - headCount]?.piece ?? 0) > 0 ? 0 : 0.6;
    },
    vLineWidth: () => 0,
    hLineColor: (line) => (line <= headCount ? LIGHT.ink : LIGHT.muted),
    paddingLeft: (column) => (column < keyCount ? CELL_SIDE_PT : 0),
    paddingRight: (column) => (column < keyCount ? CELL_SIDE_PT : 0),
    paddingTop: () => CELL_EDGE_PT,
    paddingBottom: () => CELL_EDGE_PT,
    fillColor: (row) => {
      const one = body[row - headCount];
      return one === undefined ? null : rowFill(one.row, one.position);
    },
  };
  const node: Content = {
    fontSize: TABLE_PT,
    table: {
      headerRows: headCount,
      keepWithHeaderRows: Math.min(1, body.length),
      dontBreakRows: true,
      widths: [...bands.keys.widths.map((width) => width - 2 * CELL_SIDE_PT), restPt],
      body: [...head.rows, ...body.map((one) => one.cells)],
    },
    layout,
  };
  return {
    nodes: [node],
    heightPt: head.heightPt + sum(body.map((one) => one.heightPt)),
    startPt: head.heightPt + (body[0]?.heightPt ?? 0),
  };
}
