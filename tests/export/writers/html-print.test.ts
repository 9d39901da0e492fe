import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { renderHtml } from '../../../src/export/index.ts';
import { canRun, inFolder, pageTexts, placedWords } from './outside.ts';
import { sampleDocument } from './sample-document.ts';

const QUIET = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

function printed(html: string): Uint8Array {
  return inFolder((folder) => {
    const source = join(folder, 'a.html');
    const target = join(folder, 'a.pdf');
    writeFileSync(source, html);
    execFileSync(
      'chromium',
      [
        ...QUIET,
        `--user-data-dir=${folder}`,
        `--print-to-pdf=${target}`,
        '--no-pdf-header-footer',
        pathToFileURL(source).href,
      ],
      { stdio: 'ignore', timeout: 60_000 },
    );
    return readFileSync(target);
  });
}

describe.runIf(canRun('chromium', '--version') && canRun('pdftotext', '-v'))(
  'HTML on paper, printed by a browser',
  () => {
    const document = sampleDocument({ circuits: 60 });
    const pdf = printed(renderHtml(document));
    const pages = pageTexts(pdf);

    it('has the mark, the caution, the digest and the page number on every page', () => {
      expect(pages.length).toBeGreaterThan(8);
      pages.forEach((page, at) => {
        expect(page.replace(/\s+/g, ' ')).toContain('NOT FOR BUILD — 3 stop');
        expect(page.replace(/\s+/g, ' ')).toContain('Planning aid only. A qualified person must review');
        expect(page).toContain(document.stamp.digest);
        expect(page.replace(/\s+/g, ' ')).toMatch(new RegExp(`Page ${at + 1} of`));
      });
    });

    it('gives the wide list a landscape page of its own, its header on each, every circuit once', () => {
      const { sizes, words } = placedWords(pdf);
      const wide = sizes.flatMap((size, at) => (size.width > size.height ? [at] : []));
      expect(wide.length).toBeGreaterThanOrEqual(3);
      for (const at of wide)
        for (const title of ['Circuit', 'Criticality', 'Notes', 'Unfused']) expect(pages[at]).toContain(title);
      const keys = words.filter((word) => wide.includes(word.page) && /^C\d{4}$/.test(word.text) && word.left < 50);
      keys.sort((a, b) => a.page - b.page || a.top - b.top);
      expect(keys.map((word) => word.text)).toEqual(
        Array.from({ length: 60 }, (_, at) => `C${String(at + 1).padStart(4, '0')}`),
      );
    });

    it('keeps every word on the paper', () => {
      const { sizes, words } = placedWords(pdf);
      const outside = words.filter(
        (word) => word.bottom - word.top < 30 && (word.left < 20 || word.right > (sizes[word.page]?.width ?? 0) - 20),
      );
      expect(outside).toEqual([]);
    });
  },
);
