import {
  allFacts,
  cautionWord,
  cellText,
  columnAlign,
  columnDecimals,
  columnHeader,
  hasRowMarks,
  keyColumnsOf,
  plainText,
  tablesOf,
  type Block,
  type Cell,
  type Column,
  type PageFormat,
  type Row,
  type SpecDocument,
  type Table,
} from '../document/index.ts';
import { sheetName } from './xlsx/sheet-name.ts';
import { styleBook, type CellLook } from './xlsx/styles.ts';
import { packWorkbook } from './xlsx/workbook.ts';
import type { Sheet, SheetCell } from './xlsx/sheet.ts';

const text = (value: string, look: CellLook = { font: 'body' }): SheetCell => ({ value, look });

interface NamedTable {
  readonly table: Table;
  readonly name: string;
  readonly page: PageFormat;
}

/** The mark as a row across the sheet, or no row. */
function markRow(document: SpecDocument, columns: number): readonly (readonly SheetCell[])[] {
  if (document.mark === null) return [];
  const value = `${document.mark.text} — ${document.mark.reason}`;
  return [[{ value, look: { font: 'mark', fill: 'mark', flow: 'over' }, span: Math.max(1, columns) }]];
}

function paper(document: SpecDocument): Pick<Sheet, 'head' | 'foot'> {
  return {
    head: { left: `${document.title}, revision ${document.stamp.revision}`, right: document.mark?.text ?? '' },
    foot: `${document.stamp.date}  ${document.cautions[0] ?? ''}`,
  };
}

function aboutSheet(
  document: SpecDocument,
  name: string,
  contents: readonly { readonly name: string; readonly title: string }[],
): Sheet {
  const heading: CellLook = { font: 'bold', fill: 'shade', border: 'header' };
  const caution: CellLook = { font: 'bold', fill: 'caution' };
  return {
    name,
    widths: [24, 90],
    frozenRows: document.mark === null ? 0 : 1,
    frozenColumns: 0,
    filter: null,
    page: document.page,
    ...paper(document),
    rows: [
      ...markRow(document, 2),
      [text(document.title, { font: 'title', flow: 'over' })],
      [text(document.subtitle, { font: 'muted', flow: 'over' })],
      [],
      ...allFacts(document).map((fact) => [text(fact.label, { font: 'muted' }), text(plainText(fact.value))]),
      [],
      [{ value: 'Cautions', look: heading, span: 2 }],
      ...document.cautions.map((said, at) => [text(`Caution ${at + 1}`, caution), text(said, caution)]),
      [],
      [{ value: 'Sheets', look: heading, span: 2 }],
      ...contents.map((sheet): SheetCell[] => [
        { value: sheet.name, look: { font: 'link' }, link: { sheet: sheet.name, cell: 'A1' } },
        text(sheet.title),
      ]),
      [],
      [
        text('Note', { font: 'muted' }),
        text(
          'A text that starts with = + - or @ has an apostrophe before it, so that no program takes it for a formula.',
        ),
      ],
    ],
  };
}

/** What a block that is no table says in plain text: its kind, and its lines. */
function blockTexts(block: Block): { readonly kind: string; readonly texts: readonly string[] } {
  switch (block.kind) {
    case 'paragraph':
      return { kind: '', texts: [plainText(block.text)] };
    case 'heading':
      return { kind: 'Heading', texts: [block.text] };
    case 'keyValues':
      return {
        kind: block.title ?? '',
        texts: block.entries.map((entry) => `${entry.label}: ${plainText(entry.value)}`),
      };
    case 'list':
      return {
        kind: '',
        texts: block.entries.map((entry, at) =>
          block.style === 'number' ? `${at + 1}. ${plainText(entry)}` : plainText(entry),
        ),
      };
    case 'caution':
      return { kind: cautionWord(block.tone), texts: [plainText(block.text)] };
    case 'figure':
      return {
        kind: 'Figure',
        texts: [`${block.title}. ${block.drawing.description}. The drawing is in the HTML and PDF forms.`],
      };
    case 'code':
      return { kind: block.title ?? 'Code', texts: [block.text] };
    case 'formula':
      return { kind: block.title ?? 'Formula', texts: [block.text] };
    case 'table':
    case 'pageBreak':
      return { kind: '', texts: [] };
  }
}

function textSheet(document: SpecDocument, name: string): Sheet {
  const header: CellLook = { font: 'bold', fill: 'shade', border: 'header' };
  const lines = document.sections.flatMap((section, at) => {
    const title = `${at + 1}  ${section.title}`;
    const said = [
      ...(section.intro === undefined ? [] : [{ kind: '', texts: [plainText(section.intro)] }]),
      ...section.blocks.map(blockTexts),
    ];
    return said.flatMap(({ kind, texts }) =>
      texts.map((line): SheetCell[] => [
        text(title, { font: 'muted', border: 'row' }),
        text(kind, { font: 'bold', border: 'row' }),
        text(line, { font: 'body', border: 'row' }),
      ]),
    );
  });
  const mark = markRow(document, 3);
  return {
    name,
    widths: [22, 14, 80],
    frozenRows: mark.length + 1,
    frozenColumns: 0,
    filter: null,
    page: document.page,
    ...paper(document),
    rows: [...mark, [text('Section', header), text('Kind', header), text('Text', header)], ...lines],
  };
}

function rowFill(row: Row): Pick<CellLook, 'fill'> {
  if (row.mark?.tone === 'stop') return { fill: 'stop' };
  if (row.mark?.tone === 'caution') return { fill: 'caution' };
  return {};
}

function bodyCell(cell: Cell, column: Column, row: Row, decimals: number, isKey: boolean): SheetCell {
  const base = { border: 'row', ...rowFill(row), align: columnAlign(column) } as const;
  if (typeof cell === 'number') return { value: cell, look: { ...base, font: isKey ? 'bold' : 'body', decimals } };
  const font = column.kind === 'code' ? (isKey ? 'monoBold' : 'mono') : isKey ? 'bold' : 'body';
  if (column.kind === 'check') return { value: cell === true ? 'x' : '', look: { ...base, font } };
  return { value: cellText(cell), look: { ...base, font } };
}

function groupRow(table: Table, extra: number): readonly (readonly SheetCell[])[] {
  if (!table.columns.some((column) => column.group !== undefined)) return [];
  const cells: SheetCell[] = [];
  let last: string | undefined;
  for (const column of table.columns) {
    const group = column.group ?? '';
    const before = cells.at(-1);
    if (before !== undefined && group !== '' && group === last)
      cells[cells.length - 1] = { ...before, span: (before.span ?? 1) + 1 };
    else cells.push(text(group, { font: 'bold', fill: 'shade' }));
    last = group;
  }
  return [[...cells, ...Array.from({ length: extra }, () => text('', { font: 'bold', fill: 'shade' }))]];
}

function tableSheet(document: SpecDocument, { table, name, page }: NamedTable): Sheet {
  const marks = hasRowMarks(table) ? 1 : 0;
  const columns = table.columns.length + marks;
  const header: CellLook = { font: 'bold', fill: 'shade', border: 'header' };
  const decimals = columnDecimals(table);
  const keys = keyColumnsOf(table);
  const top = [
    ...markRow(document, columns),
    [text(table.title, { font: 'title', flow: 'over' })],
    ...(table.note === undefined ? [] : [[text(plainText(table.note), { font: 'muted', flow: 'over' })]]),
    ...groupRow(table, marks),
    [
      ...table.columns.map((column) => text(columnHeader(column), { ...header, align: columnAlign(column) })),
      ...(marks === 0 ? [] : [text('Row mark', header)]),
    ],
  ];
  const body = table.rows.map((row): SheetCell[] => [
    ...table.columns.map((column, at) =>
      bodyCell(row.cells[at] ?? null, column, row, decimals[at] ?? 0, keys.includes(at)),
    ),
    ...(marks === 0 ? [] : [text(row.mark?.text ?? '', { font: 'bold', border: 'row', ...rowFill(row) })]),
  ]);
  const empty = [[text(table.whenEmpty ?? 'None.', { font: 'muted', flow: 'over' })]];
  // Only key columns that stand at the left can stay in view there.
  let frozenColumns = 0;
  while (keys.includes(frozenColumns)) frozenColumns += 1;
  return {
    name,
    widths: [
      ...table.columns.map((column) => Math.max(column.weight, longestWord(columnHeader(column))) + 3),
      ...(marks === 0 ? [] : [20]),
    ],
    frozenRows: top.length,
    frozenColumns: frozenColumns < table.columns.length ? frozenColumns : 0,
    filter: body.length === 0 ? null : { firstRow: top.length, lastRow: top.length + body.length, columns },
    page,
    ...paper(document),
    rows: [...top, ...(body.length === 0 ? empty : body)],
  };
}

function longestWord(header: string): number {
  return Math.max(...header.split(' ').map((word) => word.length));
}

/**
 * A document as a workbook (ECMA-376, .xlsx): a first sheet with mark, facts, cautions and a list of the sheets; one sheet of
 * all texts that are no table; one sheet a table with all its columns, header frozen, filter buttons, numbers as numbers with
 * the unit in the header. The mark is the first row of every sheet and at the head of every printed page. Texts that a
 * program could take for a formula carry an apostrophe. The same document gives the same bytes.
 *
 * Written here on fflate rather than with a spreadsheet library: those at hand zip in workers made from blobs, which the
 * window's content security policy refuses, and know neither print titles nor page heads.
 */
export function renderXlsx(document: SpecDocument): Uint8Array {
  const taken = new Set<string>();
  const aboutName = sheetName('About', taken);
  const textName = sheetName('Text', taken);
  const named = tablesOf(document).map(({ section, table }): NamedTable => ({
    table,
    name: sheetName(table.sheetName ?? table.title, taken),
    page: section.page ?? document.page,
  }));
  const contents = [
    { name: textName, title: 'Everything that is not a table, section by section' },
    ...named.map(({ name, table }) => ({ name, title: table.title })),
  ];
  const sheets = [
    aboutSheet(document, aboutName, contents),
    textSheet(document, textName),
    ...named.map((one) => tableSheet(document, one)),
  ];
  return packWorkbook(document, sheets, styleBook());
}
