import { describe, expect, it } from 'vitest';
import {
  checkDocument,
  columnDecimals,
  DARK,
  drawingSvg,
  formatNumber,
  LIGHT,
  visibleText,
  type Palette,
  type SpecDocument,
  type Table,
} from '../../../src/export/index.ts';
import { sampleDocument } from '../writers/sample-document.ts';

/** WCAG 2.2, definitions of relative luminance and contrast ratio. */
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
function contrast(one: string, other: string): number {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light + 0.05) / (dark + 0.05);
}

describe('palette', () => {
  it('uses the contrast formula as the W3C does', () => {
    // W3C, Understanding SC 1.4.3: black on white is 21:1; #767676 on white is 4.54:1, #777777 is 4.48:1.
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });

  const pairs = (palette: Palette): readonly (readonly [string, string, string])[] => [
    ...(['paper', 'shade', 'stripe', 'stopShade', 'cautionShade'] as const).flatMap((ground) =>
      (['ink', 'muted', 'accent'] as const).map(
        (text) => [`${text} on ${ground}`, palette[text], palette[ground]] as const,
      ),
    ),
    ['stop on paper', palette.stop, palette.paper],
    ['stop on stopShade', palette.stop, palette.stopShade],
    ['stop on stripe', palette.stop, palette.stripe],
    ['caution on paper', palette.caution, palette.paper],
    ['caution on cautionShade', palette.caution, palette.cautionShade],
    ['onStop on stop', palette.onStop, palette.stop],
  ];
  for (const [name, palette] of [
    ['light', LIGHT],
    ['dark', DARK],
  ] as const) {
    // WCAG 2.2, SC 1.4.3 (AA): at least 4.5:1 for text.
    it.each(pairs(palette))(`${name}: %s reaches 4.5:1`, (_, text, ground) => {
      expect(contrast(text, ground)).toBeGreaterThanOrEqual(4.5);
    });
  }
});

describe('visibleText', () => {
  it('shows what does not show by itself', () => {
    // Unicode: U+2400 block pictures C0 controls, U+2421 pictures DEL; U+202E turns the direction (Unicode TR 36, 2.1).
    expect(visibleText('a\u0000b\u0007c\u007F')).toBe('a\u2400b\u2407c\u2421');
    expect(visibleText('abc\u202Efdp')).toBe('abc⟨U+202E⟩fdp');
    expect(visibleText('id\u200Bone')).toBe('id⟨U+200B⟩one');
    expect(visibleText('x\uD800y\uDC00')).toBe('x\uFFFDy\uFFFD');
  });
  it('keeps letters of all scripts, pairs of surrogates, tabs and line ends', () => {
    expect(visibleText('Ω µ ² 漢 🚗\ta\r\nb\rc\nd')).toBe('Ω µ ² 漢 🚗\ta\nb\nc\nd');
  });
});

describe('numbers of a column', () => {
  const column = (values: readonly (number | string | null)[], decimals?: number): Table => ({
    kind: 'table',
    id: 't',
    title: 'T',
    columns: [{ key: 'v', title: 'V', kind: 'number', weight: 8, ...(decimals === undefined ? {} : { decimals }) }],
    rows: values.map((value) => ({ cells: [value] })),
  });
  it('have the precision that the most exact of them needs', () => {
    expect(columnDecimals(column([1, 0.25, -40.5, 'n/a', null]))).toEqual([2]);
    expect(columnDecimals(column([1, 20, 300]))).toEqual([0]);
    expect(columnDecimals(column([1e-9, 1 / 3]))).toEqual([6]);
    expect(columnDecimals(column([1.23456], 2))).toEqual([2]);
  });
  it('never lose a small or large value to the format', () => {
    expect(formatNumber(13.8, 2)).toBe('13.80');
    expect(formatNumber(-0.001, 2)).toBe('-0.001');
    expect(formatNumber(-0, 1)).toBe('0.0');
    expect(formatNumber(1e21, 2)).toBe('1e+21');
  });
});

describe('drawings', () => {
  it('escape their texts and hold nothing that acts', () => {
    const svg = drawingSvg(
      {
        width: 10,
        height: 10,
        unitMm: 1,
        description: 'a <b> & "c"',
        shapes: [{ kind: 'text', at: { x: 1, y: 2 }, text: '</text><script>x</script>', size: 3 }],
      },
      { paint: () => '#000000', sans: 'a" onload="x', mono: 'm' },
    );
    expect(svg).not.toMatch(/<script|onload="/);
    expect(svg).toContain('&lt;/text&gt;&lt;script&gt;x&lt;/script&gt;');
    expect(svg).toContain('<title>a &lt;b&gt; &amp; &quot;c&quot;</title>');
  });
});

describe('checkDocument', () => {
  const good = sampleDocument({ circuits: 3 });
  it('finds nothing in the sample', () => {
    // The sample's links lead to circuits up to 36.
    expect(checkDocument(sampleDocument({ circuits: 40 }))).toEqual([]);
  });
  it('finds links to nowhere', () => {
    expect(checkDocument(good).map((fault) => fault.message)).toContain(
      'a link leads to “circuit-4”, which is not in the document',
    );
  });

  const table: Table = {
    kind: 'table',
    id: 't',
    title: 'T',
    columns: [{ key: 'a', title: 'A', kind: 'text', weight: 8 }],
    rows: [{ cells: ['x'] }],
  };
  const having = (changed: Partial<Table>): SpecDocument => ({
    ...good,
    sections: [{ id: 's', title: 'S', blocks: [{ ...table, ...changed }] }],
  });
  const messages = (document: SpecDocument): readonly string[] =>
    checkDocument(document).map(({ where, message }) => `${where}: ${message}`);

  it.each([
    ['a file id with a path', { ...good, sections: [], id: '../x' }, /id: “\.\.\/x” is not lower-case/],
    [
      'an unreadable date',
      { ...good, sections: [], stamp: { ...good.stamp, date: '31.1.2026' } },
      /stamp\.date: “31\.1\.2026” is not a date/,
    ],
    ['a day that no month has', { ...good, sections: [], stamp: { ...good.stamp, date: '2026-13-01' } }, /stamp\.date/],
    ['no caution', { ...good, sections: [], cautions: [] }, /cautions: every document carries/],
    ['a mark without text', { ...good, sections: [], mark: { text: ' ', reason: '' } }, /mark: the mark has no text/],
    ['too few cells', having({ rows: [{ cells: [] }] }), /row 1: 0 cells for 1 columns/],
    ['a number that is none', having({ rows: [{ cells: [Number.NaN] }] }), /column “a”: NaN is not a finite number/],
    [
      'a prototype key',
      having({ columns: [{ key: '__proto__', title: 'A', kind: 'text', weight: 8 }] }),
      /column “__proto__”: the key is not/,
    ],
    [
      'an inherited key',
      having({ columns: [{ key: 'constructor', title: 'A', kind: 'text', weight: 8 }] }),
      /column “constructor”: the key is not/,
    ],
    ['an id twice', having({ id: 's' }), /the id “s” is taken already/],
    [
      'a weight outside',
      having({ columns: [{ key: 'a', title: 'A', kind: 'text', weight: 0 }] }),
      /weight 0 is outside 2 to 80/,
    ],
  ])('reports %s with its place', (_, document, expected) => {
    expect(messages(document as SpecDocument)).toHaveLength(1);
    expect(messages(document as SpecDocument)[0]).toMatch(expected);
  });
  it('reports every fault, not the first', () => {
    expect(
      checkDocument({ ...having({ rows: [{ cells: [] }, { cells: [Infinity] }] }), id: 'A', cautions: [] }),
    ).toHaveLength(4);
  });
});
