import {
  allFacts,
  cellText,
  columnHeader,
  hasRowMarks,
  plainText,
  tablesOf,
  visibleText,
  type Cell,
  type Column,
  type SpecDocument,
  type Table,
} from '../document/index.ts';
import { fileNamePart, freeName } from './file-name.ts';
import { guardFormula } from './formula-guard.ts';

/** One CSV file as text. */
export interface CsvFile {
  readonly name: string;
  readonly text: string;
}

export interface CsvOptions {
  /** `with` starts each file with U+FEFF, by which spreadsheet programs know UTF-8. */
  readonly byteOrderMark: 'with' | 'without';
}

const BYTE_ORDER_MARK = '\uFEFF';
const LINE_END = '\r\n';

function field(text: string): string {
  const safe = guardFormula(visibleText(text));
  return /[",\n\r]/.test(safe) || safe !== safe.trim() ? `"${safe.replace(/"/g, '""')}"` : safe;
}

function cellField(cell: Cell, column: Column): string {
  if (typeof cell === 'number') return String(cell);
  if (column.kind === 'check') return cell === true ? 'x' : '';
  return field(cellText(cell));
}

function tableLines(table: Table, document: SpecDocument): string[] {
  const withRowMarks = hasRowMarks(table);
  const header = table.columns.map((column) => field(columnHeader(column)));
  if (withRowMarks) header.push('Row mark');
  if (document.mark !== null) header.push('Document mark');
  const lines = [header.join(',')];
  for (const row of table.rows) {
    const fields = table.columns.map((column, at) => cellField(row.cells[at] ?? null, column));
    if (withRowMarks) fields.push(field(row.mark?.text ?? ''));
    if (document.mark !== null) fields.push(field(document.mark.text));
    lines.push(fields.join(','));
  }
  return lines;
}

function aboutLines(document: SpecDocument): string[] {
  const line = (label: string, value: string): string => `${field(label)},${field(value)}`;
  return [
    'Fact,Value',
    ...(document.mark === null ? [] : [line('Mark', `${document.mark.text}: ${document.mark.reason}`)]),
    line('Title', document.title),
    line('Subtitle', document.subtitle),
    ...allFacts(document).map((fact) => line(fact.label, plainText(fact.value))),
    ...document.cautions.map((caution) => line('Caution', caution)),
  ];
}

/**
 * The tables of a document as CSV after RFC 4180: comma, CR LF, one header line, fields with a comma, quote, line end or
 * outer blank in quotes. First a file `…--about.csv` with facts, cautions and mark, then one file a table, named by document
 * and table. Numbers in full precision with a decimal point; a ticked box is `x`. A mark of the document stands in a last
 * column of every line. Texts that a spreadsheet could run are guarded by an apostrophe.
 */
export function renderCsv(document: SpecDocument, options: CsvOptions): readonly CsvFile[] {
  const start = options.byteOrderMark === 'with' ? BYTE_ORDER_MARK : '';
  const taken = new Map<string, number>();
  const file = (part: string, lines: readonly string[]): CsvFile => ({
    name: `${freeName(`${document.id}--${part}`, taken)}.csv`,
    text: start + lines.map((line) => line + LINE_END).join(''),
  });
  return [
    file('about', aboutLines(document)),
    ...tablesOf(document).map(({ table }) => file(fileNamePart(table.id), tableLines(table, document))),
  ];
}
