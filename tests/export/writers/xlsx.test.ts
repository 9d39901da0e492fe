import { strFromU8, unzipSync } from 'fflate';
import readXlsxFile from 'read-excel-file/node';
import { describe, expect, it } from 'vitest';
import { guardFormula, plainText, renderXlsx, tablesOf, visibleText, type Cell } from '../../../src/export/index.ts';
import { columnLetters, lineCount } from '../../../src/export/writers/xlsx/sheet.ts';
import { sheetName } from '../../../src/export/writers/xlsx/sheet-name.ts';
import { isWellFormedXml } from './page.ts';
import { sampleDocument } from './sample-document.ts';

const document = sampleDocument({ circuits: 200 });
const bytes = renderXlsx(document);
const sheets = await readXlsxFile(Buffer.from(bytes), { trim: false });

describe('XLSX, read back by an independent library', () => {
  it('has a sheet of facts, a sheet of texts and a sheet a table, named legally', () => {
    expect(sheets.map((sheet) => sheet.sheet)).toEqual([
      'About',
      'Text',
      'From–to all circuits',
      'Connector X1, cavities',
      'Connector C2, cavities',
      'Grounds',
      'From–to all circuits (2)',
      'Test sheet',
      'A row higher than a page',
    ]);
  });

  it('has the mark in the first row of every sheet, and none without one', async () => {
    for (const { data } of sheets) expect(String(data[0]?.[0])).toMatch(/^NOT FOR BUILD — 3 stop findings/);
    const clean = await readXlsxFile(Buffer.from(renderXlsx({ ...document, mark: null })));
    for (const { data } of clean) expect(String(data[0]?.[0])).not.toContain('NOT FOR BUILD');
  });

  it('has every cell of every table: numbers as numbers, texts guarded', () => {
    const expected = (cell: Cell, kind: string): unknown => {
      if (typeof cell === 'number') return cell;
      if (kind === 'check') return cell === true ? 'x' : null;
      if (cell === null || cell === '') return null;
      return guardFormula(visibleText(typeof cell === 'boolean' ? (cell ? 'yes' : 'no') : plainText(cell)));
    };
    let cells = 0;
    tablesOf(document).forEach(({ table }, at) => {
      const data = sheets[at + 2]?.data ?? [];
      const headerAt = data.findIndex((row) => row[0] === table.columns[0]?.title && row[1] !== null);
      expect(headerAt).toBeGreaterThan(0);
      expect(data[headerAt]?.slice(0, table.columns.length)).toEqual(
        table.columns.map((column) => (column.unit === undefined ? column.title : `${column.title} (${column.unit})`)),
      );
      table.rows.forEach((row, rowAt) => {
        row.cells.forEach((cell, column) => {
          expect(data[headerAt + 1 + rowAt]?.[column] ?? null).toEqual(
            expected(cell, table.columns[column]?.kind ?? ''),
          );
          cells += 1;
        });
      });
    });
    expect(cells).toBeGreaterThan(8000);
  });

  it('has no text that a program takes for a formula, and no formula', () => {
    for (const value of sheets.flatMap((sheet) => sheet.data.flat())) {
      if (typeof value === 'string') expect(value).not.toMatch(/^\s*[=+\-@\t\r]/);
    }
    for (const part of Object.values(unzipSync(bytes))) expect(strFromU8(part)).not.toContain('<f>');
  });

  it('prints a foot whose lines leave the page number its room, on the narrowest page', () => {
    const parts = Object.entries(unzipSync(bytes)).filter(([name]) => name.startsWith('xl/worksheets/sheet'));
    expect(parts.length).toBeGreaterThan(5);
    for (const [, part] of parts) {
      const xml = strFromU8(part);
      const foot = /<oddFooter>([^]*?)<\/oddFooter>/.exec(xml)![1]!;
      const [, left, right] = /^&amp;L&amp;7 ([^]*)&amp;R&amp;7 (.*)$/.exec(foot)!;
      expect(right).toBe('Page &amp;P of &amp;N');
      const isNarrow = xml.includes('paperSize="9" orientation="portrait"');
      // 7 pt are 2.47 mm; half of that a character is 1.23 mm: 95 of them and the 30 mm of the number fill 147 of 190 mm.
      for (const line of left!.split('\n')) expect(line.length).toBeLessThanOrEqual(isNarrow ? 95 : 200);
      expect(left!.split('\n').length).toBeLessThanOrEqual(3);
      // ECMA-376 part 1, 18.3.1.46: at most 255 characters in all.
      expect(foot.replaceAll('&amp;', '&').length).toBeLessThanOrEqual(255);
    }
  });

  it('carries facts, cautions, section texts', () => {
    const about = sheets[0]?.data.map((row) => row.slice(0, 2)) ?? [];
    expect(about).toContainEqual(['Digest', document.stamp.digest]);
    for (const caution of document.cautions) expect(about.map((row) => row[1])).toContain(caution);
    expect(sheets[1]?.data.map((row) => row[2])).toContain('Battery disconnected');
  });
});

describe('XLSX package', () => {
  const parts = unzipSync(bytes);

  it('is well-formed XML in every part', () => {
    expect(Object.keys(parts)).toHaveLength(7 + sheets.length);
    for (const [name, part] of Object.entries(parts)) expect(isWellFormedXml(strFromU8(part)), name).toBe(true);
    expect(isWellFormedXml('<a><b></a>')).toBe(false);
  });

  it('freezes header and key, repeats them on paper, filters, and prints the mark at the head of pages', () => {
    const sheet = strFromU8(parts['xl/worksheets/sheet3.xml'] ?? new Uint8Array());
    expect(sheet).toContain('<pane xSplit="1" ySplit="5" topLeftCell="B6" activePane="bottomRight" state="frozen"/>');
    expect(sheet).toContain('<autoFilter ref="A5:AP205"/>');
    expect(sheet).toMatch(/<oddHeader>[^<]*NOT FOR BUILD<\/oddHeader>/);
    expect(sheet).toContain('paperSize="8" orientation="landscape"');
    const book = strFromU8(parts['xl/workbook.xml'] ?? new Uint8Array());
    expect(book).toContain(
      'localSheetId="2">&#39;From–to all circuits&#39;!$A:$A,&#39;From–to all circuits&#39;!$1:$5</definedName>',
    );
  });

  it('is the same bytes each time and in every time zone', () => {
    const zone = process.env['TZ'];
    const made = ['UTC', 'America/Sao_Paulo', 'Pacific/Kiritimati', 'Asia/Kathmandu'].map((name) => {
      process.env['TZ'] = name;
      return Buffer.from(renderXlsx(sampleDocument({ circuits: 20 }))).toString('base64');
    });
    if (zone === undefined) delete process.env['TZ'];
    else process.env['TZ'] = zone;
    expect(new Set(made).size).toBe(1);
  });

  it('cuts a text that no cell can hold, and says so', async () => {
    const long = {
      ...document,
      sections: [{ id: 's', title: 'S', blocks: [{ kind: 'paragraph' as const, text: 'x'.repeat(40_000) }] }],
    };
    const [, texts] = await readXlsxFile(Buffer.from(renderXlsx(long)));
    const cell = String(texts?.data[2]?.[2]);
    expect(cell).toHaveLength(32_767);
    expect(cell).toMatch(/cut: too long for a spreadsheet cell/);
  });

  it('spells out an underscore that would read as an escape', async () => {
    const odd = { ...document, title: 'a_x0041_b' };
    expect(strFromU8(unzipSync(renderXlsx(odd))['xl/sharedStrings.xml'] ?? new Uint8Array())).toContain(
      'a_x005F_x0041_b',
    );
  });
});

describe('parts of a sheet', () => {
  it('names sheets legally and uniquely', () => {
    const taken = new Set<string>();
    const names = [
      'a/b:c*?',
      '',
      "'quoted'",
      'History',
      'x'.repeat(40),
      `${'X'.repeat(40)}y`,
      'A B C',
      '🚗'.repeat(20),
    ].map((wanted) => sheetName(wanted, taken));
    for (const name of names) {
      expect(name.length).toBeLessThanOrEqual(31);
      expect(name).not.toMatch(/[[\]:*?/\\]|^'|'$|^\s*$|^history$/i);
      expect(name).not.toMatch(/[\uD800-\uDBFF]$/);
    }
    expect(new Set(names.map((name) => name.toLowerCase())).size).toBe(names.length);
  });
  it('letters columns as spreadsheets do', () => {
    // ECMA-376 part 1, 18.3.1.4: the last of 16,384 columns is XFD.
    expect([0, 25, 26, 51, 52, 701, 702, 16_383].map(columnLetters)).toEqual([
      'A',
      'Z',
      'AA',
      'AZ',
      'BA',
      'ZZ',
      'AAA',
      'XFD',
    ]);
  });
  it('counts the lines of a wrapped text', () => {
    expect(lineCount('', 10)).toBe(1);
    expect(lineCount('one two three', 7)).toBe(2);
    expect(lineCount('x'.repeat(25), 10)).toBe(3);
    expect(lineCount('a\nb\n', 10)).toBe(3);
  });
});
