import {
  cellText,
  columnDecimals,
  columnHeader,
  formatNumber,
  keyColumnsOf,
  type Cell,
  type Column,
  type RichText,
  type Row,
  type Table,
} from '../../document/index.ts';
import type { ColumnNeed } from '../column-bands.ts';
import type { Face, FaceMetrics } from './faces.ts';
import { SMALL_PT, TABLE_PT } from './setting.ts';
import { naturalWidths, typeset, type Line, type Setting } from './typeset.ts';

/** Blank left and right of a cell, points. */
export const CELL_SIDE_PT = 3.6;
/** Blank above and below a cell, points. */
export const CELL_EDGE_PT = 2;

/** Mean advance of lower-case text, by the type size: what one character of a column's weight is counted as. */
const MEAN_ADVANCE = 0.53;
/** A long name gives way to breaking at its punctuation above this many type sizes. */
const WORD_LIMIT = 9;

/** Said under the key of a row that goes on from above. */
export const CONTINUED = 'cont.';

export const OPEN_BOX = '☐';
export const TICKED_BOX = '☑';

function faceOf(column: Column, role: 'key' | 'other'): Face {
  if (role === 'key') return column.kind === 'code' ? 'monoBold' : 'bold';
  return column.kind === 'code' ? 'mono' : 'regular';
}

/** What is printed in a cell. */
export function printedCell(cell: Cell, column: Column, decimals: number): RichText {
  if (typeof cell === 'number') return formatNumber(cell, decimals);
  if (column.kind === 'check') return cell === true ? TICKED_BOX : OPEN_BOX;
  return typeof cell === 'object' && cell !== null ? cell : cellText(cell);
}

/** The cells of a table set into the widths of its columns. */
export interface CellSetter {
  /** What each column asks for, blanks at the sides included; points. */
  readonly needs: readonly ColumnNeed[];
  readonly header: (at: number, widthPt: number) => readonly Line[];
  readonly cell: (row: Row, at: number, widthPt: number) => readonly Line[];
}

/**
 * A setter for one table. A column wants the width of its longest cell, at most the characters of its weight, at least
 * its widest word. Equal texts of a column are measured and set once.
 */
export function cellSetter(table: Table, metrics: FaceMetrics): CellSetter {
  const decimals = columnDecimals(table);
  const keys = keyColumnsOf(table);
  const settings = table.columns.map((column, at): Setting => {
    return { sizePt: TABLE_PT, face: faceOf(column, keys.includes(at) ? 'key' : 'other'), metrics };
  });
  const headerSetting: Setting = { sizePt: TABLE_PT, face: 'bold', metrics };
  const known = table.columns.map(() => new Map<string, readonly Line[]>());
  const settingOf = (at: number): Setting => settings[at] ?? headerSetting;

  // The last key column also holds what marks a row, and the word that a broken row goes on with.
  const lastKey = keys.at(-1);
  const markSetting: Setting = { sizePt: SMALL_PT, face: 'bold', metrics };
  const marks = Math.max(
    naturalWidths(CONTINUED, markSetting).word,
    ...Array.from(
      new Set(table.rows.map((row) => row.mark?.text ?? '')),
      (text) => naturalWidths(text, markSetting).word,
    ),
  );
  const needs = table.columns.map((column, at): ColumnNeed => {
    const header = naturalWidths(columnHeader(column), headerSetting);
    const measured = new Set<string>();
    let line = Math.min(header.line, header.word * 1.6);
    let word = Math.min(Math.max(header.word, at === lastKey ? marks : 0), WORD_LIMIT * TABLE_PT);
    for (const row of table.rows) {
      const text = printedCell(row.cells[at] ?? null, column, decimals[at] ?? 0);
      const id = typeof text === 'string' ? text : JSON.stringify(text);
      if (measured.has(id)) continue;
      measured.add(id);
      const natural = naturalWidths(text, settingOf(at));
      line = Math.max(line, natural.line);
      word = Math.max(word, Math.min(natural.word, WORD_LIMIT * TABLE_PT));
    }
    const most = column.weight * MEAN_ADVANCE * TABLE_PT;
    const blank = column.kind === 'entry' ? most : 0;
    const sides = 2 * CELL_SIDE_PT + 0.5;
    const least = Math.max(word, blank) + sides;
    return { natural: Math.max(least, line + sides), wanted: Math.max(least, Math.min(line, most) + sides), least };
  });

  return {
    needs,
    header: (at, widthPt) => {
      const column = table.columns[at];
      return column === undefined ? [] : typeset(columnHeader(column), headerSetting, widthPt - 2 * CELL_SIDE_PT);
    },
    cell: (row, at, widthPt) => {
      const column = table.columns[at];
      if (column === undefined) return [];
      const text = printedCell(row.cells[at] ?? null, column, decimals[at] ?? 0);
      const room = widthPt - 2 * CELL_SIDE_PT;
      if (typeof text !== 'string') return typeset(text, settingOf(at), room);
      const cache = known[at];
      const before = cache?.get(text);
      if (before !== undefined) return before;
      const lines = typeset(text, settingOf(at), room);
      cache?.set(text, lines);
      return lines;
    },
  };
}
