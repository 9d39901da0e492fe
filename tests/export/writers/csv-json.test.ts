import { describe, expect, it } from 'vitest';
import {
  guardFormula,
  plainText,
  renderCsv,
  renderJson,
  tablesOf,
  visibleText,
  type Cell,
} from '../../../src/export/index.ts';
import { readRfc4180 } from './csv-reader.ts';
import { HOSTILE, LONG_ID, sampleDocument, SYMBOLS, UNBROKEN } from './sample-document.ts';

const document = sampleDocument({ circuits: 200 });

describe('guardFormula', () => {
  // OWASP, "CSV Injection": = + - @, tab and carriage return at the start of a cell; prefix with an apostrophe.
  it.each([
    HOSTILE.formula,
    HOSTILE.dde,
    HOSTILE.at,
    HOSTILE.minus,
    HOSTILE.tab,
    HOSTILE.carriageReturn,
    HOSTILE.fullWidth,
    ' =1+1',
    '\u00A0@x',
    '-',
    '\n=1',
  ])('guards %j', (text) => expect(guardFormula(text)).toBe(`'${text}`));
  it.each(['X1', '', '-40', '+12', '-40.5', '1e-3', '-1E+3', 'a=b', '≥ 10', LONG_ID])('leaves %j alone', (text) =>
    expect(guardFormula(text)).toBe(text),
  );
});

describe('CSV', () => {
  const files = renderCsv(document, { byteOrderMark: 'without' });
  const tables = tablesOf(document);

  it('is one file a table behind one of facts, with safe names', () => {
    expect(files.map((file) => file.name)).toEqual([
      'sample-wiring-spec--about.csv',
      ...['from-to', 'cavities-x1', 'cavities-c2', 'grounds', 'parts', 'test-sheet', 'tall'].map(
        (id) => `sample-wiring-spec--${id}.csv`,
      ),
    ]);
  });

  it('reads back cell by cell by the grammar of RFC 4180', () => {
    const expected = (cell: Cell, kind: string): string => {
      if (typeof cell === 'number') return String(cell);
      if (kind === 'check') return cell === true ? 'x' : '';
      if (cell === null) return '';
      return guardFormula(visibleText(typeof cell === 'boolean' ? (cell ? 'yes' : 'no') : plainText(cell)));
    };
    let cells = 0;
    tables.forEach(({ table }, at) => {
      const [header = [], ...records] = readRfc4180(files[at + 1]?.text ?? '');
      expect(records).toHaveLength(table.rows.length);
      expect(header.slice(0, table.columns.length)).toEqual(
        table.columns.map((column) => (column.unit === undefined ? column.title : `${column.title} (${column.unit})`)),
      );
      table.rows.forEach((row, rowAt) => {
        expect(records[rowAt]).toHaveLength(header.length);
        row.cells.forEach((cell, column) => {
          expect(records[rowAt]?.[column]).toBe(expected(cell, table.columns[column]?.kind ?? ''));
          cells += 1;
        });
        expect(records[rowAt]?.at(-1)).toBe('NOT FOR BUILD');
      });
    });
    expect(cells).toBeGreaterThan(8000);
  });

  it('has no field that a spreadsheet takes for a formula', () => {
    for (const file of files) {
      for (const field of readRfc4180(file.text).flat()) {
        if (!/^[+-]?\d+(\.\d+)?(e[+-]?\d+)?$/i.test(field)) expect(field).not.toMatch(/^[\s]*[=+\-@\t\r]/);
      }
    }
  });

  it('carries facts, cautions and mark, and row marks where there are any', () => {
    const about = readRfc4180(files[0]?.text ?? '');
    expect(about).toContainEqual(['Revision', 'C']);
    expect(about).toContainEqual(['Digest', document.stamp.digest]);
    expect(about.filter(([label]) => label === 'Caution').map(([, said]) => said)).toEqual(document.cautions);
    expect(about[1]?.[1]).toMatch(/^NOT FOR BUILD: 3 stop findings/);
    const fromTo = readRfc4180(files[1]?.text ?? '');
    expect(fromTo[0]?.at(-2)).toBe('Row mark');
    expect(fromTo[10]?.at(-2)).toBe('stop finding');
  });

  it('starts with a byte order mark when asked to, and only then', () => {
    expect(renderCsv(document, { byteOrderMark: 'with' }).every((file) => file.text.startsWith('\uFEFF'))).toBe(true);
    expect(files.some((file) => file.text.includes('\uFEFF'))).toBe(false);
  });

  it('gives files of tables with like ids names of their own', () => {
    const [first] = tables;
    if (first === undefined) throw new Error('the sample has tables');
    const like = {
      ...document,
      sections: [{ id: 's', title: 'S', blocks: ['A b', 'a-B', 'a b'].map((id) => ({ ...first.table, id })) }],
    };
    const names = renderCsv(like, { byteOrderMark: 'without' }).map((file) => file.name);
    expect(new Set(names).size).toBe(4);
  });
});

describe('JSON', () => {
  const text = renderJson(document);
  interface Read {
    readonly format: string;
    readonly version: number;
    readonly revision: string;
    readonly mark: { readonly text: string };
    readonly sections: readonly {
      readonly blocks: readonly {
        readonly kind: string;
        readonly id?: string;
        readonly rows?: readonly { readonly cells: Record<string, unknown> }[];
      }[];
    }[];
  }
  const read = JSON.parse(text) as Read;

  it('names its format and version and is canonical', () => {
    expect(read).toMatchObject({
      format: 'crossloom-spec',
      version: 1,
      revision: 'C',
      mark: { text: 'NOT FOR BUILD' },
    });
    expect(text).toBe(`${JSON.stringify(read, null, 2)}\n`);
    expect(renderJson(sampleDocument({ circuits: 200 }))).toBe(text);
  });
  it('has every cell as it is, unguarded and in full precision', () => {
    const blocks = read.sections.flatMap((section) => section.blocks).filter((block) => block.kind === 'table');
    tablesOf(document).forEach(({ table }, at) => {
      table.rows.forEach((row, rowAt) => {
        const cells = blocks[at]?.rows?.[rowAt]?.cells ?? {};
        row.cells.forEach((cell, column) => {
          const key = table.columns[column]?.key ?? '';
          expect(cells[key]).toEqual(typeof cell === 'object' && cell !== null ? plainText(cell) : cell);
        });
      });
    });
    const notes = blocks[0]?.rows?.map((row) => row.cells['notes']);
    for (const said of [HOSTILE.formula, LONG_ID, UNBROKEN, SYMBOLS]) expect(notes).toContain(said);
  });
});
