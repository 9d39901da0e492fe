import type { Content, TableLayout } from 'pdfmake';
import { columnAlign, LIGHT, type Column, type Row } from '../../document/index.ts';
import type { Band, Bands } from '../column-bands.ts';
import { LINE_HEIGHT } from './faces.ts';
import { bottomOf, drawnCell, rowNode, type Align, type DrawnCell, type RowParts, type Rule } from './row-drawing.ts';
import {
  anchorOf,
  captionRow,
  CAPTION_PT,
  groupSpans,
  groupTitle,
  heightOf,
  keyCells,
  keyPiece,
  pieceCount,
  pieceLimit,
  piecesOf,
  ROW_LINE_PT,
  rowFill,
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

const alignOf = (column: Column | undefined): Align => (column === undefined ? 'left' : columnAlign(column));

const letterOf = (tier: number): string => String.fromCharCode(97 + (tier % 26));

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** Things drawn in a row, and where they end below its top. */
interface Drawn {
  readonly cells: readonly DrawnCell[];
  readonly rules: readonly Rule[];
  readonly bottomPt: number;
}

/** A line of columns side by side, as a tier of a row or of the header has them; `xPt`: where the tiers begin. */
function drawTier(
  tier: number,
  band: Band,
  at: { readonly xPt: number; readonly topPt: number },
  { table, ground }: Side,
  linesOf: (column: number, place: number) => readonly Line[],
): Drawn {
  const { topPt } = at;
  const letter: Line = { spans: [{ text: letterOf(tier), face: 'regular', to: null }], width: 0 };
  const room = { xPt: at.xPt + 2, widthPt: TIER_LETTER_PT - 2, topPt };
  const cells = [drawnCell([letter], room, ground.metrics, { color: LIGHT.muted })];
  let xPt = at.xPt + TIER_LETTER_PT;
  band.at.forEach((column, place) => {
    const widthPt = band.widths[place] ?? 0;
    cells.push(
      drawnCell(
        linesOf(column, place),
        {
          xPt: xPt + CELL_SIDE_PT,
          widthPt: widthPt - 2 * CELL_SIDE_PT,
          topPt,
          align: alignOf(table.columns[column]),
        },
        ground.metrics,
      ),
    );
    xPt += widthPt;
  });
  return { cells, rules: [], bottomPt: bottomOf(cells) };
}

/** Tiers under one another with a dotted line between each two; `draw` is told where each begins. */
function drawTiers(
  count: number,
  room: { readonly xPt: number; readonly widthPt: number },
  draw: (at: number, topPt: number) => Drawn,
): Drawn {
  const cells: DrawnCell[] = [];
  const rules: Rule[] = [];
  let topPt = 0;
  for (let at = 0; at < count; at += 1) {
    if (at > 0) {
      const y = topPt + TIER_EDGE_PT;
      rules.push({
        type: 'line',
        x1: room.xPt,
        y1: y,
        x2: room.xPt + room.widthPt,
        y2: y,
        lineWidth: 0.3,
        lineColor: LIGHT.rule,
        dash: { length: 1, space: 1.5 },
      });
      topPt = y + TIER_EDGE_PT;
    }
    const drawn = draw(at, topPt);
    cells.push(...drawn.cells);
    rules.push(...drawn.rules);
    topPt = drawn.bottomPt;
  }
  return { cells, rules, bottomPt: topPt };
}

/** One tier of the header: headings of its groups over the titles of its columns. */
function drawTierHeader(
  side: Side,
  tier: number,
  band: Band,
  at: { readonly xPt: number; readonly topPt: number },
): Drawn & { readonly groupLines: number } {
  const { table, setter, ground } = side;
  let place = 0;
  let groupLines = 0;
  let xPt = at.xPt + TIER_LETTER_PT;
  const groups = groupSpans(table, band.at).map((group): DrawnCell => {
    const widthPt = sum(band.widths.slice(place, place + group.count));
    place += group.count;
    const lines = groupTitle(group.title, widthPt, ground);
    groupLines = Math.max(groupLines, lines.length);
    const look = { color: LIGHT.accent, sizePt: SMALL_PT };
    const cell = drawnCell(
      lines,
      { xPt: xPt + CELL_SIDE_PT, widthPt: widthPt - CELL_SIDE_PT, topPt: at.topPt },
      ground.metrics,
      look,
    );
    xPt += widthPt;
    return cell;
  });
  // Beside the headings of groups stands a line of body text's height, for the letter.
  const leastPt = at.topPt + ground.metrics.regular.lineHeight * TABLE_PT;
  const topPt = groups.length === 0 ? at.topPt : Math.max(leastPt, bottomOf(groups));
  const titles = drawTier(tier, band, { xPt: at.xPt, topPt }, side, (column, index) =>
    setter.header(column, band.widths[index] ?? 0),
  );
  return { cells: [...groups, ...titles.cells], rules: [], bottomPt: titles.bottomPt, groupLines };
}

/** Where the key columns stand, each between the blanks at its sides. */
function keyRooms(bands: Bands): readonly { readonly xPt: number; readonly widthPt: number }[] {
  let xPt = 0;
  return bands.keys.widths.map((width) => {
    const room = { xPt: xPt + CELL_SIDE_PT, widthPt: width - 2 * CELL_SIDE_PT };
    xPt += width;
    return room;
  });
}

function headRows(side: Side, bands: Bands, restPt: number): { readonly rows: Content[]; readonly heightPt: number } {
  const { table, setter, ground } = side;
  const widthPt = ground.page.roomPt;
  const rooms = keyRooms(bands);
  const keys = bands.keys.at.map((at, place) =>
    drawnCell(setter.header(at, bands.keys.widths[place] ?? 0), rooms[place]!, ground.metrics),
  );
  const xPt = widthPt - restPt;
  const heights: number[] = [];
  const tiers = drawTiers(bands.bands.length, { xPt, widthPt: restPt }, (tier, topPt) => {
    const band = bands.bands[tier]!;
    const drawn = drawTierHeader(side, tier, band, { xPt, topPt });
    const lines = band.at.map((at, column) => setter.header(at, band.widths[column] ?? 0).length);
    heights.push(heightOf(lines) + drawn.groupLines * ROW_LINE_PT + 2 * TIER_EDGE_PT);
    return drawn;
  });
  const heightPt = Math.max(bottomOf(keys), tiers.bottomPt);
  return {
    rows: [
      captionRow(table.title, ground, widthPt),
      rowNode(
        widthPt,
        () => heightPt,
        () => ({ cells: [...keys, ...tiers.cells], rules: tiers.rules }),
      ),
    ],
    heightPt: CAPTION_PT * LINE_HEIGHT + sum(heights) + 6 * CELL_EDGE_PT,
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
  readonly node: Content;
  readonly heightPt: number;
}

function bodyRows(side: Side, bands: Bands, restPt: number, limit: PieceLimit, row: Row, position: number): BodyRow[] {
  const { setter, ground } = side;
  const widthPt = ground.page.roomPt;
  const rooms = keyRooms(bands);
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
    const xPt = widthPt - restPt;
    const parts = (): RowParts => {
      const keys = bands.keys.at.flatMap((at, place) => {
        const lines = keyPiece(keyLines[place] ?? [], piece, limit);
        return keyCells(printed, at, { ...rooms[place]!, isFirst: place === 0, isLast: place === last }, lines, side);
      });
      const tiers = drawTiers(gathered.length, { xPt, widthPt: restPt }, (at, topPt) => {
        const slice = gathered[at]!;
        return drawTier(slice.tier, slice.band, { xPt, topPt }, side, (column) => slice.lines.get(column) ?? []);
      });
      return { cells: [...keys, ...tiers.cells], rules: tiers.rules };
    };
    const node = rowNode(widthPt, ({ cells }) => bottomOf(cells), parts, anchorOf(printed));
    return { row, position, piece, node, heightPt: sum(gathered.map((slice) => slice.heightPt)) + 2 * CELL_EDGE_PT };
  });
}

/**
 * A table in several bands: each row is printed over as many tiers, one under another, its key beside all of them; the
 * header has the same tiers, and letters join the two.
 */
export function tieredTable(side: Side, bands: Bands): LaidTable {
  const { table, ground } = side;
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
    paddingLeft: () => 0,
    paddingRight: () => 0,
    paddingTop: () => CELL_EDGE_PT,
    paddingBottom: () => CELL_EDGE_PT,
    fillColor: (row) => {
      if (row < headCount) return row === 0 ? LIGHT.paper : LIGHT.shade;
      const one = body[row - headCount];
      return one === undefined ? null : rowFill(one.row, one.position);
    },
  };
  const node: Content = {
    table: {
      headerRows: headCount,
      keepWithHeaderRows: Math.min(1, body.length),
      dontBreakRows: true,
      widths: [ground.page.roomPt],
      body: [...head.rows, ...body.map((one) => one.node)].map((row) => [row]),
    },
    layout,
  };
  return {
    nodes: [node],
    heightPt: head.heightPt + sum(body.map((one) => one.heightPt)),
    startPt: head.heightPt + (body[0]?.heightPt ?? 0),
  };
}
