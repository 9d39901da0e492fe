export interface CsvCell {
  readonly text: string;
  /** Where it begins, from 1. */
  readonly column: number;
}

/** The cells of one line of CSV (RFC 4180): separated by commas, in quotes where they hold one. */
export function csvCells(line: string): readonly CsvCell[] | { readonly problem: string; readonly column: number } {
  const cells: CsvCell[] = [];
  let at = 0;
  for (;;) {
    const column = at + 1;
    if (line.charAt(at) !== '"') {
      const comma = line.indexOf(',', at);
      const to = comma < 0 ? line.length : comma;
      cells.push({ text: line.slice(at, to), column });
      if (comma < 0) return cells;
      at = comma + 1;
      continue;
    }
    let text = '';
    for (at += 1; ; at += 1) {
      const quote = line.indexOf('"', at);
      if (quote < 0) return { problem: 'a quote is not closed on this line', column };
      text += line.slice(at, quote);
      at = quote + 1;
      if (line.charAt(at) !== '"') break;
      text += '"';
    }
    cells.push({ text, column });
    if (at === line.length) return cells;
    if (line.charAt(at) !== ',') return { problem: 'text after the closing quote of a cell', column: at + 1 };
    at += 1;
  }
}
