import { escapeXml, visibleText, type PageFormat } from '../../document/index.ts';
import { guardFormula } from '../formula-guard.ts';
import type { CellLook, StyleBook } from './styles.ts';

/** A cell of a sheet. A text is guarded and made visible when written; `link` leads to a cell of another sheet. */
export interface SheetCell {
  readonly value: string | number | null;
  readonly look: CellLook;
  readonly link?: { readonly sheet: string; readonly cell: string };
  /** Columns that the cell is merged over, itself included. */
  readonly span?: number;
}

export interface Sheet {
  readonly name: string;
  readonly rows: readonly (readonly SheetCell[])[];
  /** Widths of the columns in characters. */
  readonly widths: readonly number[];
  /** Rows and columns at the top and left that stay in view, and are repeated on paper. */
  readonly frozenRows: number;
  readonly frozenColumns: number;
  /** Row and last row, counted from 1, of the list with its header, for filter buttons. */
  readonly filter: { readonly firstRow: number; readonly lastRow: number; readonly columns: number } | null;
  readonly page: PageFormat;
  /** Texts at the head and foot of printed pages. */
  readonly head: { readonly left: string; readonly right: string };
  readonly foot: string;
}

/** Longest text of a cell (ECMA-376 practice: 32,767 characters). */
const LONGEST_TEXT = 32_767;
const CUT_NOTE = ' … (cut: too long for a spreadsheet cell; see the JSON form)';
/** Most characters of a page's head or foot (ECMA-376 part 1, 18.3.1.39: 255), shared out to its parts. */
const LONGEST = { headLeft: 110, headRight: 90, foot: 200 } as const;
/** Heights of one line of type by font, points. */
const LINE_PT = { body: 12, mark: 18, title: 21 } as const;
/** Highest row (ECMA-376 practice: 409 points). */
const HIGHEST_ROW_PT = 409;
/** Characters side by side on a printed page at a size that can still be read, by paper and orientation. */
const PAGE_CHARACTERS = { A4: { portrait: 120, landscape: 180 }, A3: { portrait: 180, landscape: 260 } } as const;

const FOOT_PT = 7;
/**
 * Characters of a line of the foot at 7 pt, the page number's room left free: a character is about 1.3 mm wide, the paper less its
 * margins is 190, 277 or 400 mm (ISO 216, margins of 0.4 inch), the number takes 30 mm. Up to three lines fit under the sheet.
 */
const FOOT_CHARACTERS = { A4: { portrait: 95, landscape: 150 }, A3: { portrait: 150, landscape: 200 } } as const;

/** Letters of a column counted from 0: 0 is A, 26 is AA. */
export function columnLetters(at: number): string {
  let letters = '';
  for (let rest = at + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  }
  return letters;
}

/** A sheet name as it stands in a reference: in quotes, its own quotes doubled. */
export function quotedSheet(name: string): string {
  return `'${name.replace(/'/g, "''")}'`;
}

/** The text as a cell holds it. */
export function cellValue(text: string): string {
  const safe = guardFormula(visibleText(text));
  if (safe.length <= LONGEST_TEXT) return safe;
  return safe.slice(0, LONGEST_TEXT - CUT_NOTE.length).replace(/[\uD800-\uDBFF]$/, '') + CUT_NOTE;
}

/** Numbers of the shared texts of a workbook, in order of first use. */
export interface SharedTexts {
  readonly numberOf: (text: string) => number;
  readonly xml: () => string;
}

/** A fresh list of shared texts; the part xl/sharedStrings.xml (ECMA-376 part 1, 18.4.9). */
export function sharedTexts(): SharedTexts {
  const numbers = new Map<string, number>();
  let uses = 0;
  return {
    numberOf: (text) => {
      uses += 1;
      const known = numbers.get(text);
      if (known !== undefined) return known;
      numbers.set(text, numbers.size);
      return numbers.size - 1;
    },
    xml: () =>
      '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
      `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="${uses}" uniqueCount="${numbers.size}">` +
      [...numbers.keys()].map((text) => `<si><t xml:space="preserve">${escapedText(text)}</t></si>`).join('') +
      '</sst>',
  };
}

/** `_x0041_` stands for a character in a cell's text, so the underscore of a text that looks so is itself spelt out. */
function escapedText(text: string): string {
  return escapeXml(text.replace(/_(?=x[0-9A-Fa-f]{4}_)/g, '_x005F_'));
}

function cellXml(cell: SheetCell, reference: string, styles: StyleBook, texts: SharedTexts): string {
  const style = styles.style(cell.look);
  if (cell.value === null || cell.value === '') return `<c r="${reference}" s="${style}"/>`;
  if (typeof cell.value === 'number') return `<c r="${reference}" s="${style}"><v>${cell.value}</v></c>`;
  return `<c r="${reference}" s="${style}" t="s"><v>${texts.numberOf(cellValue(cell.value))}</v></c>`;
}

function rowXml(sheet: Sheet, at: number, styles: StyleBook, texts: SharedTexts): string {
  const row = sheet.rows[at] ?? [];
  const number = at + 1;
  let column = 0;
  const cells = row.map((cell) => {
    const first = column;
    column += cell.span ?? 1;
    const covered = Array.from({ length: column - first - 1 }, (_, more) =>
      cellXml({ ...cell, value: null }, `${columnLetters(first + 1 + more)}${number}`, styles, texts),
    );
    return cellXml(cell, `${columnLetters(first)}${number}`, styles, texts) + covered.join('');
  });
  return `<row r="${number}" ht="${rowHeightPt(row, sheet.widths)}">${cells.join('')}</row>`;
}

function placesOf(sheet: Sheet): readonly { readonly cell: SheetCell; readonly from: string; readonly to: string }[] {
  return sheet.rows.flatMap((row, at) => {
    let column = 0;
    return row.flatMap((cell) => {
      const first = column;
      column += cell.span ?? 1;
      if (cell.link === undefined && (cell.span ?? 1) === 1) return [];
      return [{ cell, from: `${columnLetters(first)}${at + 1}`, to: `${columnLetters(column - 1)}${at + 1}` }];
    });
  });
}

/**
 * The text at the left of the foot in lines short enough to leave the page number its room: a section of a foot is not wrapped by
 * the program that prints it, it runs over the next. Lines break at blanks. The result is escaped as `headText`.
 */
export function foldText(said: string, most: number, characters: number): readonly string[] {
  const lines: string[] = [];
  for (const word of shortened(said, most).split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= characters) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.map((line) => line.replace(/&/g, '&&'));
}

function shortened(said: string, most: number): string {
  const line = visibleText(said).replace(/\s+/g, ' ');
  return line.length <= most ? line : `${line.slice(0, most - 1).replace(/[\uD800-\uDBFF]$/, '')}…`;
}

function headText(said: string, most: number): string {
  return shortened(said, most).replace(/&/g, '&&');
}

/** How many lines a text takes in a column of so many characters, breaking at blanks and inside longer words. */
export function lineCount(said: string, characters: number): number {
  let lines = 0;
  for (const paragraph of said.split('\n')) {
    lines += 1;
    let used = 0;
    for (const word of paragraph.split(' ')) {
      const needed = used === 0 ? word.length : used + 1 + word.length;
      if (needed <= characters) {
        used = needed;
        continue;
      }
      if (used > 0) lines += 1;
      const more = Math.max(0, Math.ceil(word.length / characters) - 1);
      lines += more;
      used = word.length - more * characters;
    }
  }
  return lines;
}

/** The height of a row: not every program works it out by itself on opening. */
function rowHeightPt(row: readonly SheetCell[], widths: readonly number[]): number {
  let highest: number = LINE_PT.body;
  let at = 0;
  for (const cell of row) {
    const first = at;
    at += cell.span ?? 1;
    if (cell.look.font === 'mark') highest = Math.max(highest, LINE_PT.mark);
    if (cell.look.font === 'title') highest = Math.max(highest, LINE_PT.title);
    if (typeof cell.value !== 'string' || cell.look.flow === 'over') continue;
    const room = widths.slice(first, at).reduce((total, width) => total + width, 0) - 1;
    const isMono = cell.look.font === 'mono' || cell.look.font === 'monoBold';
    const lines = lineCount(cellValue(cell.value), Math.max(2, Math.floor(room * (isMono ? 0.92 : 1.08))));
    highest = Math.max(highest, lines * LINE_PT.body);
  }
  return Math.min(HIGHEST_ROW_PT, highest + 2);
}

/**
 * One sheet as its part xl/worksheets/sheetN.xml; element order after ECMA-376 part 1, 18.3.1.99. A page is as wide as the
 * sheet needs, at a size that can be read; header rows and key columns are repeated on paper (with `printTitles`).
 */
export function sheetXml(sheet: Sheet, position: number, styles: StyleBook, texts: SharedTexts): string {
  const { frozenRows, frozenColumns } = sheet;
  const corner = `${columnLetters(frozenColumns)}${frozenRows + 1}`;
  const pane =
    frozenRows === 0
      ? ''
      : frozenColumns === 0
        ? `<pane ySplit="${frozenRows}" topLeftCell="${corner}" activePane="bottomLeft" state="frozen"/><selection pane="bottomLeft"/>`
        : `<pane xSplit="${frozenColumns}" ySplit="${frozenRows}" topLeftCell="${corner}" activePane="bottomRight" state="frozen"/>` +
          '<selection pane="topRight"/><selection pane="bottomLeft"/><selection pane="bottomRight"/>';
  const places = placesOf(sheet);
  const merges = places.filter((place) => (place.cell.span ?? 1) > 1);
  const links = places.filter((place) => place.cell.link !== undefined);
  const characters = sheet.widths.reduce((total, width) => total + width, 0);
  const pagesWide = Math.max(1, Math.ceil(characters / PAGE_CHARACTERS[sheet.page.paper][sheet.page.orientation]));
  const head = `&L${headText(sheet.head.left, LONGEST.headLeft)}&R&B${headText(sheet.head.right, LONGEST.headRight)}`;
  const footLines = foldText(sheet.foot, LONGEST.foot, FOOT_CHARACTERS[sheet.page.paper][sheet.page.orientation]);
  const foot = `&L&${FOOT_PT} ${footLines.join('\n')}&R&${FOOT_PT} Page &P of &N`;
  return (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' +
    '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">' +
    '<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>' +
    `<sheetViews><sheetView showGridLines="0"${position === 0 ? ' tabSelected="1"' : ''} workbookViewId="0">${pane}</sheetView></sheetViews>` +
    '<sheetFormatPr defaultRowHeight="13"/>' +
    `<cols>${sheet.widths.map((width, at) => `<col min="${at + 1}" max="${at + 1}" width="${width}" customWidth="1"/>`).join('')}</cols>` +
    `<sheetData>${sheet.rows.map((_, at) => rowXml(sheet, at, styles, texts)).join('')}</sheetData>` +
    (sheet.filter === null
      ? ''
      : `<autoFilter ref="A${sheet.filter.firstRow}:${columnLetters(sheet.filter.columns - 1)}${sheet.filter.lastRow}"/>`) +
    (merges.length === 0
      ? ''
      : `<mergeCells count="${merges.length}">${merges.map(({ from, to }) => `<mergeCell ref="${from}:${to}"/>`).join('')}</mergeCells>`) +
    (links.length === 0
      ? ''
      : `<hyperlinks>${links
          .map(({ cell, from }) => {
            const to = cell.link === undefined ? '' : `${quotedSheet(cell.link.sheet)}!${cell.link.cell}`;
            return `<hyperlink ref="${from}" location="${escapeXml(to)}"/>`;
          })
          .join('')}</hyperlinks>`) +
    '<pageMargins left="0.4" right="0.4" top="0.7" bottom="0.7" header="0.3" footer="0.3"/>' +
    `<pageSetup paperSize="${sheet.page.paper === 'A3' ? 8 : 9}" orientation="${sheet.page.orientation}" fitToWidth="${pagesWide}" fitToHeight="0"/>` +
    `<headerFooter><oddHeader>${escapeXml(head)}</oddHeader><oddFooter>${escapeXml(foot)}</oddFooter></headerFooter>` +
    '</worksheet>'
  );
}
