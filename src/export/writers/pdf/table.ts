import type { Content } from 'pdfmake';
import { keyColumnsOf, LIGHT, type Table } from '../../document/index.ts';
import { layBands } from '../column-bands.ts';
import { LINE_HEIGHT } from './faces.ts';
import { flatTable } from './flat-table.ts';
import { linesNode } from './line-nodes.ts';
import { CAPTION_PT, ROW_LINE_PT, WHOLE_TABLE_SHARE, type LaidTable, type Side } from './row-pieces.ts';
import { TABLE_PT, type Ground } from './setting.ts';
import { cellSetter, CELL_SIDE_PT } from './table-cells.ts';
import { TIER_LETTER_PT, tieredTable } from './tiered-table.ts';
import { typeset } from './typeset.ts';

export type { LaidTable };

function emptyTable(table: Table, ground: Ground): LaidTable {
  const small = { sizePt: TABLE_PT, face: 'italic', metrics: ground.metrics } as const;
  const title = typeset(table.title, { sizePt: CAPTION_PT, face: 'bold', metrics: ground.metrics }, ground.page.roomPt);
  const said = typeset(table.whenEmpty ?? 'None.', small, ground.page.roomPt);
  const heightPt = title.length * CAPTION_PT * LINE_HEIGHT + said.length * ROW_LINE_PT + 6;
  return {
    nodes: [
      { stack: [linesNode(title, { fontSize: CAPTION_PT })], margin: [CELL_SIDE_PT, 0, 0, 2] },
      { stack: [linesNode(said, { fontSize: TABLE_PT, color: LIGHT.muted })], margin: [CELL_SIDE_PT, 0, 0, 0] },
    ],
    heightPt,
    startPt: heightPt,
  };
}

/**
 * Lays a table for its page: in one piece of columns when they fit, else each row over tiers or the table in parts, as it
 * asks. The caption and the header are repeated on every page; rows stay whole unless higher than half a page, and then say
 * that they continue; nothing is clipped. A table that fits well is kept on one page.
 */
export function layTable(table: Table, ground: Ground): LaidTable {
  if (table.rows.length === 0) return emptyTable(table, ground);
  const setter = cellSetter(table, ground.metrics);
  const side: Side = { table, setter, ground };
  const tierRoom = ground.page.roomPt - TIER_LETTER_PT;
  const keyCount = keyColumnsOf(table).length;
  const whole = layBands(table, setter.needs, ground.page.roomPt);
  if (whole.bands.length <= 1) {
    const at = [...whole.keys.at, ...(whole.bands[0]?.at ?? [])];
    const widths = [...whole.keys.widths, ...(whole.bands[0]?.widths ?? [])];
    const laid = flatTable(side, table.title, { at, widths }, table.rows, keyCount);
    const keeps = laid.heightPt <= ground.page.heightRoomPt * WHOLE_TABLE_SHARE;
    return keeps ? { ...laid, nodes: [{ unbreakable: true, stack: laid.nodes }], startPt: laid.heightPt } : laid;
  }
  if (table.whenWide === 'parts') {
    const parts = whole.bands.map((band, part) =>
      flatTable(
        side,
        `${table.title} — part ${part + 1} of ${whole.bands.length}`,
        { at: [...whole.keys.at, ...band.at], widths: [...whole.keys.widths, ...band.widths] },
        // A row is the target of links once, in the first part.
        part === 0
          ? table.rows
          : table.rows.map(({ cells, mark }) => (mark === undefined ? { cells } : { cells, mark })),
        keyCount,
      ),
    );
    return {
      nodes: parts.flatMap((part): Content[] => [{ stack: part.nodes, margin: [0, 0, 0, 8] }]),
      heightPt: parts.reduce((total, part) => total + part.heightPt + 8, 0),
      startPt: parts[0]?.startPt ?? 0,
    };
  }
  return tieredTable(side, layBands(table, setter.needs, tierRoom));
}
