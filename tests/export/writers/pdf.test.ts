import { describe, expect, it } from 'vitest';
import {
  ExportCancelled,
  plainText,
  renderPdf,
  tablesOf,
  visibleText,
  type ExportProgress,
  type SpecDocument,
} from '../../../src/export/index.ts';
import { loadPdfFonts } from '../../../src/host/pdf-fonts.ts';
import { canRun, pageTexts, placedWords } from './outside.ts';
import { LONG_ID, sampleDocument, UNBROKEN } from './sample-document.ts';

const fonts = await loadPdfFonts();
const document = sampleDocument({ circuits: 200 });
const pdf = await renderPdf(document, fonts);

/** Page objects of a PDF whose objects stand uncompressed (PDF 32000-1, 7.7.3.3). */
const pageCount = (bytes: Uint8Array): number =>
  Buffer.from(bytes)
    .toString('latin1')
    .match(/\/Type \/Page\n/g)?.length ?? 0;
const squeezed = (text: string): string => text.replace(/\s+/g, '');

describe('PDF', () => {
  it('is a PDF of several pages, dated by the stamp alone', () => {
    const text = Buffer.from(pdf).toString('latin1');
    expect(text.startsWith('%PDF-1.')).toBe(true);
    expect(text.trimEnd().endsWith('%%EOF')).toBe(true);
    expect(pageCount(pdf)).toBeGreaterThan(10);
    expect(text.match(/D:\d{14}Z/g)).toEqual(['D:20260131093000Z', 'D:20260131093000Z']);
  });

  it('is the same bytes for the same document', async () => {
    const small = sampleDocument({ circuits: 40 });
    const first = await renderPdf(small, fonts);
    const second = await renderPdf(sampleDocument({ circuits: 40 }), await loadPdfFonts());
    expect(Buffer.from(first).equals(Buffer.from(second))).toBe(true);
  });

  it('is not mixed up by two written at once', async () => {
    const [one, other] = [
      sampleDocument({ circuits: 40 }),
      { ...sampleDocument({ circuits: 40 }), mark: null, title: 'Other' },
    ];
    const together = await Promise.all([renderPdf(one, fonts), renderPdf(other, fonts)]);
    expect(Buffer.from(together[0]).equals(Buffer.from(await renderPdf(one, fonts)))).toBe(true);
    expect(Buffer.from(together[1]).equals(Buffer.from(await renderPdf(other, fonts)))).toBe(true);
  });

  it('tells how far it is, sections then pages, and is the same bytes when followed', async () => {
    const told: ExportProgress[] = [];
    const followed = await renderPdf(document, fonts, {
      onProgress: (progress) => told.push(progress),
      breathe: () => Promise.resolve(),
      isCancelled: () => false,
    });
    expect(Buffer.from(followed).equals(Buffer.from(pdf))).toBe(true);
    const doing = (what: string) => told.filter((progress) => progress.doing === what);
    expect(doing('sections').map(({ done }) => done)).toEqual(document.sections.map((_, at) => at + 1));
    const pages = doing('pages');
    expect(pages.at(-1)).toEqual({ doing: 'pages', done: pageCount(pdf), total: pageCount(pdf) });
    expect(pages.map(({ done }) => done)).toEqual(pages.map(({ done }) => done).toSorted((a, b) => a - b));
    expect(told.indexOf(pages[0]!)).toBe(document.sections.length);
  });

  it('can be called off at every step, and gives no bytes then', async () => {
    let steps = 0;
    await renderPdf(document, fonts, { onProgress: () => (steps += 1) });
    expect(steps).toBeGreaterThan(document.sections.length);
    for (const last of [1, 3, steps - 1, steps]) {
      let step = 0;
      const watch = { onProgress: () => (step += 1), isCancelled: () => step >= last };
      await expect(renderPdf(document, fonts, watch)).rejects.toBeInstanceOf(ExportCancelled);
      expect(step).toBe(last);
    }
  });

  it('refuses fonts that are none', async () => {
    await expect(renderPdf(document, { ...fonts, bold: new Uint8Array(40) })).rejects.toThrow(
      /not a TrueType font|no head table/,
    );
    await expect(renderPdf(document, { ...fonts, bold: fonts.bold.slice(0, 2000) })).rejects.toThrow(/cut short/);
  });
});

describe.runIf(canRun('pdftotext', '-v'))('PDF, read by poppler', () => {
  const pages = pageTexts(pdf);
  const { sizes, words } = placedWords(pdf);
  const all = squeezed(pages.join('\n'));
  // The mark across the page is the only type larger than 30 points, turned.
  const isMarkAcross = (word: { readonly top: number; readonly bottom: number }): boolean =>
    word.bottom - word.top > 30;

  it('counts the pages as poppler does', () => expect(pages).toHaveLength(pageCount(pdf)));

  it('has mark, revision, caution, digest, date and page number on every page', () => {
    pages.forEach((page, at) => {
      expect(page).toContain('NOT FOR BUILD — 3 stop findings are open');
      expect(page).toContain('Revision C');
      expect(page).toContain('Planning aid only. A qualified person must review, bench-test and road-test');
      expect(page).toContain(document.stamp.digest);
      expect(page).toMatch(new RegExp(`2026-01-31T09:30:00Z +· +Page ${at + 1} of ${pages.length}\n`));
    });
  });

  it('has the mark across every page, and nowhere when there is none', async () => {
    for (let page = 0; page < pages.length; page++) {
      expect(words.some((word) => word.page === page && isMarkAcross(word))).toBe(true);
    }
    const clean = await renderPdf({ ...sampleDocument({ circuits: 40 }), mark: null }, fonts);
    expect(pageTexts(clean).join('')).not.toContain('NOT FOR BUILD');
    expect(placedWords(clean).words.some(isMarkAcross)).toBe(false);
  });

  it('keeps every word inside the margins', () => {
    const outside = words.filter((word) => {
      const size = sizes[word.page];
      return (
        !isMarkAcross(word) &&
        (word.left < 33 ||
          word.right > (size?.width ?? 0) - 33 ||
          word.top < 12 ||
          word.bottom > (size?.height ?? 0) - 8)
      );
    });
    expect(outside).toEqual([]);
  });

  it('prints no word over another', () => {
    const overlaps: string[] = [];
    for (let page = 0; page < pages.length; page++) {
      const placed = words.filter((word) => word.page === page && !isMarkAcross(word)).sort((a, b) => a.top - b.top);
      placed.forEach((word, at) => {
        for (let next = at + 1; next < placed.length; next++) {
          const other = placed[next];
          // Boxes have the height of the font, a little more than its lines; 1.6 points of that may meet.
          if (other === undefined || other.top >= word.bottom - 1.6) break;
          if (other.left < word.right - 0.4 && word.left < other.right - 0.4)
            overlaps.push(`${page + 1}: ${word.text} / ${other.text}`);
        }
      });
    }
    // One label of the sample's drawing is turned, and its upright box is larger than it.
    expect(overlaps.filter((pair) => !pair.includes('turned'))).toEqual([]);
  });

  it('loses no cell: each is there in full, however long', () => {
    const lacking: string[] = [];
    for (const { table } of tablesOf(document)) {
      for (const row of table.rows) {
        row.cells.forEach((cell, at) => {
          if (cell === null || typeof cell === 'number' || typeof cell === 'boolean') return;
          if (table.columns[at]?.kind === 'check') return;
          const text = visibleText(plainText(cell));
          // Words, for the lines of a cell stand between those of its neighbours.
          for (const word of text.split(/[\s._:/\-,;|=+&)\]}>#@<([{'"]+|(?<=\p{Ll})(?=\p{Lu})/u)) {
            if (/^[\x20-\x7e]{1,24}$/.test(word) && !all.includes(word)) lacking.push(`${table.id}: ${word}`);
          }
        });
      }
    }
    expect(lacking).toEqual([]);
    expect(all.split('X'.repeat(20)).length).toBeGreaterThan(UNBROKEN.length / 20 / 2);
    for (const part of ['TransmissionOutput', 'OutputShaftSpeedFilteredValue']) expect(all).toContain(part);
    expect(squeezed(pages[1] ?? '') + squeezed(pages[0] ?? '')).toContain(LONG_ID);
  });

  it('repeats caption and header of a table on every page that it runs over', () => {
    const first = pages.findIndex(
      (page) => /^\s*2\s+Circuits/m.test(page) && page.includes('C0001') && page.includes('Branch'),
    );
    const last = pages.findIndex((page) => page.includes('C0200'));
    expect(last - first).toBeGreaterThanOrEqual(4);
    for (let page = first; page <= last; page++) {
      for (const title of ['From–to list', 'Circuit', 'Criticality', 'Unfused', 'Notes', 'Conductor', 'Protection']) {
        expect(pages[page], `page ${page + 1}`).toContain(title);
      }
    }
  });

  it('puts every row of a list over one page, in order, once', () => {
    const start = words.filter(
      (word) =>
        /^C\d{4}$/.test(word.text) &&
        word.left < 45 &&
        sizes[word.page]?.width === Math.max(...sizes.map((size) => size.width)),
    );
    start.sort((a, b) => a.page - b.page || a.top - b.top);
    expect(start.map((word) => word.text)).toEqual(
      Array.from({ length: 200 }, (_, at) => `C${String(at + 1).padStart(4, '0')}`),
    );
  });

  it('goes on with a row that is higher than a page and says so', () => {
    expect(pages.filter((page) => page.includes('A row higher than a page')).join('')).toContain('cont.');
  });

  it('spells out characters that no face has', () => {
    expect(all).toContain('<U+6F22><U+5B57>and<U+1F697>');
  });

  it('says on which page each section and table is', () => {
    const contents = pages[0] ?? '';
    const pageOf = (title: string): number => Number(new RegExp(`${title} +(\\d+)\n`).exec(contents)?.[1]);
    const heading = (pattern: RegExp): number => pages.findIndex((page, at) => at > 0 && pattern.test(page)) + 1;
    expect(pageOf('2 +Circuits')).toBe(heading(/^\s*2\s+Circuits/m));
    expect(pageOf('4 +Arithmetic')).toBe(heading(/^\s*4\s+Arithmetic/m));
    expect(pageOf('Test sheet')).toBe(heading(/^\s*Test sheet/m));
    expect(pageOf('Connector C2, cavities')).toBe(heading(/^\s*Connector C2, cavities/m));
  });

  it('leaves no page empty and none for a section that would follow one', async () => {
    for (const page of pages) expect(page.split('\n').filter((line) => line.trim() !== '').length).toBeGreaterThan(5);
    const bare: SpecDocument = { ...document, sections: [] };
    expect(pageCount(await renderPdf(bare, fonts))).toBe(1);
  });
});
