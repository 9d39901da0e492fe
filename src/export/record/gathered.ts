import type { Block, Column, Row, Table } from '../document/index.ts';

/** The rows of one subject: a message, a connector, a route. */
export interface SubjectRows {
  /** Cells of the columns that name the subject, for the arrangement in sheets. */
  readonly names: Row['cells'];
  readonly rows: readonly Row[];
}

/** One table for all subjects, their names in front of every row. */
export function gathered(
  head: Pick<Table, 'id' | 'title' | 'sheetName' | 'whenEmpty' | 'note'>,
  nameColumns: readonly Column[],
  columns: readonly Column[],
  parts: readonly SubjectRows[],
): Block {
  return {
    kind: 'table',
    ...head,
    columns: [...nameColumns.map((column) => ({ ...column, role: 'key' as const })), ...columns],
    rows: parts.flatMap(({ names, rows }) =>
      rows.map(({ cells, mark }): Row => ({ cells: [...names, ...cells], ...(mark === undefined ? {} : { mark }) })),
    ),
  };
}
