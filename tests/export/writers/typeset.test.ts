import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mono, strong, type RichText } from '../../../src/export/index.ts';
import { FACES, readFaces } from '../../../src/export/writers/pdf/faces.ts';
import { naturalWidths, oneLine, typeset, type Line, type Setting } from '../../../src/export/writers/pdf/typeset.ts';
import { loadPdfFonts } from '../../../src/host/pdf-fonts.ts';

interface IndependentFont {
  readonly postscriptName: string;
  readonly unitsPerEm: number;
  hasGlyphForCodePoint(code: number): boolean;
  glyphForCodePoint(code: number): { readonly advanceWidth: number };
}
// fontkit comes with the PDF library: a font reader that is not ours.
const require = createRequire(import.meta.url);
const fromPdfLibrary = createRequire(require.resolve('pdfmake/package.json'));
const fontkit = createRequire(fromPdfLibrary.resolve('pdfkit'))('fontkit') as {
  create: (bytes: Buffer) => IndependentFont;
};

const fonts = await loadPdfFonts();
const metrics = readFaces(fonts);
const body: Setting = { sizePt: 7, face: 'regular', metrics };
const textOf = (lines: readonly Line[]): string =>
  lines.map((line) => line.spans.map((span) => span.text).join('')).join('\n');
const squeezed = (text: string): string => text.replace(/[\s\u00A0]+/g, '');

describe('font metrics', () => {
  it.each(FACES)('of %s agree with fontkit on every character up to U+2FFF and some beyond', (face) => {
    const independent = fontkit.create(Buffer.from(fonts[face]));
    expect(metrics[face].postScriptName).toBe(independent.postscriptName);
    const beyond = [0x4e2d, 0xfb01, 0xfffd, 0x1d7d8, 0x1f600];
    let present = 0;
    for (const code of [...Array.from({ length: 0x3000 - 0x20 }, (_, at) => at + 0x20), ...beyond]) {
      const advance = metrics[face].advance(code);
      expect(advance !== null, `U+${code.toString(16)}`).toBe(independent.hasGlyphForCodePoint(code));
      if (advance === null) continue;
      present += 1;
      expect(advance).toBeCloseTo(
        (independent.glyphForCodePoint(code).advanceWidth * 1000) / independent.unitsPerEm,
        6,
      );
    }
    expect(present).toBeGreaterThan(2000);
  });
  it('have what specs are written with', () => {
    for (const character of 'Ω²µ→°±≤≥½×−–…☐☑⟨⟩αΔ') {
      expect(metrics.regular.advance(character.codePointAt(0) ?? 0), character).not.toBeNull();
    }
  });
});

describe('typeset', () => {
  const word = fc.string({
    unit: fc.constantFrom('a', 'B', '0', '.', '_', ':', '-', '(', 'W', 'Ω', '漢'),
    minLength: 1,
    maxLength: 40,
  });
  const text = fc
    .array(fc.oneof(word, fc.constant('\n'), fc.constant('  ')), { maxLength: 30 })
    .map((parts) => parts.join(' '));
  const rich: fc.Arbitrary<RichText> = fc.array(fc.oneof(text, text.map(strong), text.map(mono)), { maxLength: 4 });

  it('never sets a line wider than the room, and loses no character', () => {
    fc.assert(
      fc.property(rich, fc.double({ min: 20, max: 300, noNaN: true }), (said, room) => {
        const lines = typeset(said, body, room);
        expect(lines.length).toBeGreaterThanOrEqual(1);
        for (const line of lines) {
          const isOne =
            Array.from(
              line.spans
                .map((span) => span.text)
                .join('')
                .trim(),
            ).length <= 1;
          if (!isOne) expect(line.width).toBeLessThanOrEqual(room + 1e-6);
        }
        const given =
          typeof said === 'string' ? said : said.map((run) => (typeof run === 'string' ? run : run.text)).join('');
        expect(squeezed(textOf(lines))).toBe(squeezed(given).replace(/漢/g, '<U+6F22>'));
      }),
      { numRuns: 500 },
    );
  });

  it('sets what fits on one line on one line', () => {
    fc.assert(
      fc.property(word, (said) => {
        const { line } = naturalWidths(said, body);
        expect(typeset(said, body, line + 0.01)).toHaveLength(1);
      }),
    );
  });

  it('breaks at blanks, then at punctuation, then at inner capitals, then anywhere', () => {
    const at = (characters: number): number => characters * 7 * 0.6021;
    const fixed: Setting = { ...body, face: 'mono' };
    expect(textOf(typeset('one two three', fixed, at(8.5)))).toBe('one two\nthree');
    expect(textOf(typeset('donor:Msg12.EngineSpeed', fixed, at(12.5)))).toBe('donor:Msg12.\nEngineSpeed');
    expect(textOf(typeset('EngineCoolantTemp', fixed, at(9)))).toBe('Engine\nCoolant\nTemp');
    expect(textOf(typeset('abcdefghij', fixed, at(4.5)))).toBe('abcd\nefgh\nij');
    expect(textOf(typeset('between(0.25)and(1,000)', fixed, at(8.5)))).toBe('between\n(0.25)\nand\n(1,000)');
    expect(textOf(typeset('x -40 y', fixed, at(3.5)))).toBe('x\n-40\ny');
  });

  it('keeps the indent of code and empty lines', () => {
    expect(textOf(typeset('if\n\n    x = 1', { ...body, face: 'mono' }, 400))).toBe('if\n\n    x = 1');
  });

  it('is linear: a text of a million characters in a breath', () => {
    const started = performance.now();
    const lines = typeset('X'.repeat(500_000) + ' word'.repeat(100_000), body, 100);
    expect(lines.length).toBeGreaterThan(10_000);
    // Ten seconds are far above what linear work takes, and far below what quadratic work would.
    expect(performance.now() - started).toBeLessThan(10_000);
  });

  it('cuts one line with an ellipsis inside the room', () => {
    const cut = oneLine('A rather long title of a document that does not fit', body, 60);
    expect(cut.width).toBeLessThanOrEqual(60);
    expect(cut.spans.map((span) => span.text).join('')).toMatch(/^A rather .*…$/);
    expect(oneLine('short', body, 60).spans.map((span) => span.text)).toEqual(['short']);
  });
});
