import {
  cautionWord,
  drawingSvg,
  type Block,
  type Caution,
  type Figure,
  type List,
  type Paint,
  type PageFormat,
  type RichText,
} from '../../document/index.ts';
import { tableHtml, type TableHtml } from './table.ts';
import { elementId, escaped, richHtml } from './text.ts';

const plain = (html: string): TableHtml => ({ html, style: '' });

const paint = (named: Paint): string => (named.startsWith('#') ? named : `var(--${named})`);

/** A box with its tone as a word. */
export function cautionHtml(tone: Caution['tone'], text: RichText): string {
  return `<div class="note-box ${tone}" role="note"><strong>${cautionWord(tone)}</strong>${richHtml(text)}</div>`;
}

function listHtml(list: List): string {
  const entries = list.entries.map((entry) => `<li>${richHtml(entry)}</li>`).join('');
  switch (list.style) {
    case 'bullet':
      return `<ul>${entries}</ul>`;
    case 'number':
      return `<ol>${entries}</ol>`;
    case 'check':
      return `<ul class="check">${entries}</ul>`;
  }
}

function figureHtml(figure: Figure): string {
  const { drawing } = figure;
  const svg = drawingSvg(drawing, { paint, sans: 'system-ui, sans-serif', mono: 'ui-monospace, monospace' });
  const note = figure.note === undefined ? '' : `<p class="note">${richHtml(figure.note)}</p>`;
  const widthMm = Math.round(drawing.width * drawing.unitMm * 10) / 10;
  return (
    `<figure class="drawing" id="${elementId(figure.id)}"><figcaption>${escaped(figure.title)}</figcaption>` +
    `${svg.replace(/ width="[^"]*" height="[^"]*"/, ` width="${widthMm}mm"`)}${note}</figure>`
  );
}

function preHtml(kind: 'code' | 'formula', text: string, title: string | undefined): string {
  const heading = title === undefined ? '' : `<p class="title">${escaped(title)}</p>`;
  return `${heading}<pre class="${kind}">${escaped(text)}</pre>`;
}

/** One block of a section. */
export function blockHtml(block: Block, page: PageFormat): TableHtml {
  switch (block.kind) {
    case 'paragraph':
      return plain(`<p>${richHtml(block.text)}</p>`);
    case 'heading': {
      const tag = block.level === 2 ? 'h3' : 'h4';
      const id = block.id === undefined ? '' : ` id="${elementId(block.id)}"`;
      return plain(`<${tag}${id}>${escaped(block.text)}</${tag}>`);
    }
    case 'keyValues': {
      const title = block.title === undefined ? '' : `<p class="title">${escaped(block.title)}</p>`;
      const entries = block.entries.map((entry) => `<dt>${escaped(entry.label)}</dt><dd>${richHtml(entry.value)}</dd>`);
      return plain(`${title}<dl>${entries.join('')}</dl>`);
    }
    case 'table':
      return tableHtml(block, page);
    case 'list':
      return plain(listHtml(block));
    case 'caution':
      return plain(cautionHtml(block.tone, block.text));
    case 'figure':
      return plain(figureHtml(block));
    case 'code':
    case 'formula':
      return plain(preHtml(block.kind, block.text, block.title));
    case 'pageBreak':
      return plain('<div class="page-break"></div>');
  }
}
