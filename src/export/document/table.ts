import { plainText, type RichText, type Run } from './text.ts';

/**
 * What a column holds.
 * - `text`: words; `code`: ids and bit patterns, set in fixed pitch
 * - `number`: numbers, right-aligned, one precision down the column; a string is allowed (`≥ 10`, `0x1C0`)
 * - `check`: a box; `true` prints it ticked, anything else leaves it open for a pen
 * - `entry`: a blank to be filled in by hand; a cell with a value prints the value
 */
export type ColumnKind = 'text' | 'number' | 'code' | 'check' | 'entry';

export interface Column {
  /** Stable key of the machine-readable forms: letters, digits, `_`, `-`, `.`; starts with a letter. */
  readonly key: string;
  readonly title: string;
  readonly kind: ColumnKind;
  /** Printed once, in the header, never in the cells. */
  readonly unit?: string;
  /** How many characters should find room on one line, 2 to 80. Writers size columns and split wide tables by it. */
  readonly weight: number;
  readonly align?: 'left' | 'right' | 'center';
  /** Heading over neighbouring columns of the same group; a wide table is split between groups where it can. */
  readonly group?: string;
  /** Digits after the decimal point; left out, the most that any number of the column needs, at most 6. */
  readonly decimals?: number;
  /** `key` columns name the row and are repeated in each part of a split table. None marked: the first column. */
  readonly role?: 'key';
}

/** A cell. `null` is *nothing to say*; a document that means *none* or *not applicable* writes it in words. */
export type Cell = string | number | boolean | null | readonly Run[];

/** A word on a row which tells it from the others: the word is printed, the tone only underlines it. */
export interface RowMark {
  readonly tone: 'stop' | 'caution' | 'note' | 'changed';
  readonly text: string;
}

export interface Row {
  /** Target for a `ref`. */
  readonly id?: string;
  /** One cell a column, in the order of the columns. */
  readonly cells: readonly Cell[];
  readonly mark?: RowMark;
}

export interface Table {
  readonly kind: 'table';
  readonly id: string;
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  readonly note?: RichText;
  /** Name of the spreadsheet page; the writer makes it legal and unique. Left out: the title. */
  readonly sheetName?: string;
  /** How paper splits it when it is too wide: each row over several `tiers` (default), or `parts`, one below another. */
  readonly whenWide?: 'tiers' | 'parts';
  /** Said in place of rows when there are none. Left out: `None.` */
  readonly whenEmpty?: string;
}

/** The columns that name a row: those marked `key`, or else the first. Positions in `table.columns`. */
export function keyColumnsOf(table: Table): readonly number[] {
  const marked = table.columns.flatMap((column, at) => (column.role === 'key' ? [at] : []));
  return marked.length > 0 ? marked : [0];
}

/** Header text of a column, its unit in brackets behind it: `Cut length (mm)`. */
export function columnHeader(column: Column): string {
  return column.unit === undefined || column.unit === '' ? column.title : `${column.title} (${column.unit})`;
}

/** Alignment of a column: as declared, else right for numbers, centre for check boxes, left for all others. */
export function columnAlign(column: Column): 'left' | 'right' | 'center' {
  if (column.align !== undefined) return column.align;
  switch (column.kind) {
    case 'number':
      return 'right';
    case 'check':
      return 'center';
    case 'text':
    case 'code':
    case 'entry':
      return 'left';
  }
}

/** Whether any row of the table carries a mark, so that flat forms need a column for it. */
export function hasRowMarks(table: Table): boolean {
  return table.rows.some((row) => row.mark !== undefined);
}

/** The text of a cell that is not a number; `true` is `yes`, `false` is `no`, `null` is empty. */
export function cellText(cell: Exclude<Cell, number>): string {
  if (cell === null) return '';
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  return plainText(cell);
}
