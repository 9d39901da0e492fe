import { allFacts, type Section, type SpecDocument } from '../document/index.ts';
import { blockHtml, cautionHtml } from './html/blocks.ts';
import { pageName, styleSheet } from './html/style.ts';
import type { TableHtml } from './html/table.ts';
import { elementId, escaped, richHtml } from './html/text.ts';

/** Refuses everything but the style of the page itself, should an escape ever fail. */
const CONTENT_POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

function sectionHtml(section: Section, number: number, document: SpecDocument): TableHtml {
  const blocks = section.blocks.map((block) => blockHtml(block, section.page ?? document.page));
  const intro = section.intro === undefined ? '' : `<p>${richHtml(section.intro)}</p>`;
  const starts = section.startsPage === true || section.page !== undefined ? ' class="starts-page"' : '';
  const page = section.page === undefined ? '' : ` style="page:${pageName(section.page)}"`;
  const id = elementId(section.id);
  return {
    html:
      `<section id="${id}" aria-labelledby="${id}_h_"${starts}${page}>` +
      `<h2 id="${id}_h_"><span class="no">${number}</span>${escaped(section.title)}</h2>${intro}\n` +
      `${blocks.map((block) => block.html).join('\n')}\n</section>`,
    style: blocks.map((block) => block.style).join(''),
  };
}

function contentsHtml(document: SpecDocument): string {
  const entries = document.sections.map((section, at) => {
    const tables = section.blocks.flatMap((block) =>
      block.kind === 'table' || block.kind === 'figure'
        ? [`<li><a href="#${elementId(block.id)}">${escaped(block.title)}</a></li>`]
        : [],
    );
    const inner = tables.length === 0 ? '' : `<ol>${tables.join('')}</ol>`;
    return `<li><span class="no">${at + 1}</span><a href="#${elementId(section.id)}">${escaped(section.title)}</a>${inner}</li>`;
  });
  return entries.length === 0
    ? ''
    : `<nav aria-labelledby="__contents"><h2 id="__contents">Contents</h2><ol>${entries.join('')}</ol></nav>`;
}

/**
 * A document as one self-contained page: no script, no outside resource, everything escaped. On the screen: contents, wide
 * tables that scroll with header and key in view, light or dark by the reader's system. On paper: head and foot, repeated
 * table headers, wide tables in tiers, the mark on every page. The same document gives the same text.
 */
export function renderHtml(document: SpecDocument): string {
  const { mark, stamp } = document;
  const sections = document.sections.map((section, at) => sectionHtml(section, at + 1, document));
  const facts = allFacts(document).map((fact) => `<dt>${escaped(fact.label)}</dt><dd>${richHtml(fact.value)}</dd>`);
  const bar =
    mark === null
      ? ''
      : `<aside class="bar" aria-label="Mark">${escaped(mark.text)} — ${escaped(mark.reason)}</aside>` +
        `<div class="watermark" aria-hidden="true"><span>${escaped(mark.text)}</span></div>`;
  return (
    '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n' +
    `<meta http-equiv="Content-Security-Policy" content="${CONTENT_POLICY}">\n` +
    '<meta name="viewport" content="width=device-width, initial-scale=1">\n' +
    `<meta name="generator" content="${escaped(stamp.tool)}">\n` +
    `<title>${mark === null ? '' : `${escaped(mark.text)}: `}${escaped(document.title)}, revision ${escaped(stamp.revision)}</title>\n` +
    `<style>\n${styleSheet(document, sections.map((section) => section.style).join('\n'))}</style>\n</head>\n<body>\n` +
    `<a class="skip" href="#__main">Skip to the content</a>\n${bar}\n<div class="page">\n<header>` +
    `<h1>${escaped(document.title)}</h1><p class="subtitle">${escaped(document.subtitle)}</p>` +
    `<dl>${facts.join('')}</dl>${document.cautions.map((caution) => cautionHtml('caution', caution)).join('')}</header>\n` +
    `${contentsHtml(document)}\n<main id="__main">\n${sections.map((section) => section.html).join('\n')}\n</main>\n` +
    `<footer><p>${escaped(document.cautions[0] ?? '')}</p>` +
    `<p>Revision ${escaped(stamp.revision)}, ${escaped(stamp.date)}. Digest <code>${escaped(stamp.digest)}</code></p></footer>\n` +
    '</div>\n</body>\n</html>\n'
  );
}
