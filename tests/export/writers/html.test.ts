import { describe, expect, it } from 'vitest';
import {
  formatNumber,
  columnDecimals,
  plainText,
  renderHtml,
  tablesOf,
  visibleText,
} from '../../../src/export/index.ts';
import { pageOf } from './page.ts';
import { HOSTILE, sampleDocument } from './sample-document.ts';

const document = sampleDocument({ circuits: 200 });
const html = renderHtml(document);
const page = pageOf(html);

describe('HTML', () => {
  it('is one page without script, outside resource or handler', () => {
    expect(page.querySelectorAll('script, img, iframe, object, embed, link, base, form, input')).toHaveLength(0);
    for (const element of page.querySelectorAll('*')) {
      for (const { name, value } of element.attributes) {
        expect(name).not.toMatch(/^on/i);
        if (name === 'href' || name === 'src') expect(value).toMatch(/^#/);
        if (name === 'style') expect(value).toMatch(/^page:a[34]-(portrait|landscape)$/);
      }
    }
    expect(page.title).toBe('NOT FOR BUILD: Wiring spec: Orrin 32 powertrain in Halden FT-6 chassis, revision C');
    expect(page.querySelector('meta[http-equiv="Content-Security-Policy"]')?.getAttribute('content')).toMatch(
      /^default-src 'none'; style-src 'unsafe-inline'/,
    );
    expect(page.querySelectorAll('style')).toHaveLength(1);
    expect(html).not.toMatch(/url\(|@import|https?:\/\/(?!192\.0\.2\.1|www\.w3\.org\/2000\/svg)/);
  });

  it('shows hostile texts as they are written', () => {
    const text = page.body.textContent ?? '';
    for (const said of [HOSTILE.script, HOSTILE.style, HOSTILE.attribute, HOSTILE.entity, HOSTILE.formula])
      expect(text).toContain(said);
    expect(text).toContain('abc⟨U+202E⟩fdp.exe');
  });

  it('does not let a mark or a title out of the style sheet', () => {
    const odd = renderHtml({
      ...document,
      title: HOSTILE.style,
      mark: { text: '"} body{display:none} /*', reason: HOSTILE.style },
    });
    const read = pageOf(odd);
    expect(read.querySelectorAll('img, script')).toHaveLength(0);
    expect(read.querySelectorAll('style')).toHaveLength(1);
    expect(read.querySelector('style')?.textContent).not.toMatch(/body\{display:none/);
    expect(read.querySelector('h1')?.textContent).toBe(HOSTILE.style);
  });

  it('has every cell of every table in full', () => {
    let cells = 0;
    for (const { table } of tablesOf(document)) {
      const decimals = columnDecimals(table);
      const rows = page.getElementById(table.id)?.querySelectorAll('tbody tr') ?? [];
      expect(rows).toHaveLength(table.rows.length);
      table.rows.forEach((row, at) => {
        const shown = [...(rows[at]?.children ?? [])];
        expect(shown).toHaveLength(row.cells.length);
        row.cells.forEach((cell, column) => {
          const content = shown[column]?.cloneNode(true) as Element;
          content.querySelector('.mark')?.remove();
          for (const end of content.querySelectorAll('br')) end.replaceWith('\n');
          const kind = table.columns[column]?.kind;
          const expected =
            typeof cell === 'number'
              ? formatNumber(cell, decimals[column] ?? 0)
              : kind === 'check'
                ? cell === true
                  ? '☑'
                  : '☐'
                : visibleText(cell === null ? '' : typeof cell === 'boolean' ? String(cell) : plainText(cell));
          expect(content.textContent).toBe(expected);
          cells += 1;
        });
      });
    }
    expect(cells).toBeGreaterThan(8000);
  });

  it('has links that lead somewhere and ids that occur once', () => {
    const ids = [...page.querySelectorAll('[id]')].map((element) => element.id);
    expect(new Set(ids).size).toBe(ids.length);
    const links = [...page.querySelectorAll('a')].map((link) => link.getAttribute('href')?.slice(1) ?? '');
    expect(links.length).toBeGreaterThan(100);
    expect(links.filter((to) => !ids.includes(to))).toEqual([]);
  });

  it('tells tables to a screen reader: captions, scopes, regions that take the keyboard', () => {
    expect(page.documentElement.lang).toBe('en');
    for (const table of page.querySelectorAll('table')) {
      expect(table.caption?.textContent).not.toBe('');
      expect(table.querySelectorAll('tbody tr > th[scope="row"]')).toHaveLength(table.tBodies[0]?.rows.length ?? 0);
      expect(table.querySelectorAll('thead tr:last-child > th[scope="col"]').length).toBeGreaterThan(0);
      expect(table.parentElement?.getAttribute('tabindex')).toBe('0');
      expect(table.parentElement?.getAttribute('role')).toBe('region');
    }
    const levels = [...page.querySelectorAll('h1,h2,h3,h4,h5')].map((heading) => Number(heading.tagName[1]));
    levels.forEach((level, at) => expect(level - (levels[at - 1] ?? 0)).toBeLessThanOrEqual(1));
    expect(page.querySelector('svg[role="img"] > title')?.textContent).toMatch(/^Face of connector X1/);
  });

  it('has the mark in words at the top, across and at the head of printed pages; none without one', () => {
    expect(page.querySelector('.bar')?.textContent).toMatch(/^NOT FOR BUILD — 3 stop findings/);
    expect(page.querySelector('.watermark')?.textContent).toBe('NOT FOR BUILD');
    expect(html).toMatch(/@page\{[^\n]*@top-center\{content:"NOT FOR BUILD \\2014 /);
    const clean = renderHtml({ ...document, mark: null });
    expect(clean).not.toContain('NOT FOR BUILD');
    expect(clean).not.toContain('class="watermark"');
  });

  it('is the same text each time', () => expect(renderHtml(sampleDocument({ circuits: 200 }))).toBe(html));
});
