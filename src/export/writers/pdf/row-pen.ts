import type { PdfDocument, PdfFont } from 'pdfmake';
import { LIGHT } from '../../document/index.ts';
import type { DrawnCell, DrawnLine, RowDrawing, Rule } from './row-drawing.ts';
import { fontOf } from './line-nodes.ts';
import type { Span } from './typeset.ts';

/** A text in one font, ready for a page: its glyphs with kerning, and its width in thousandths of the type size. */
interface SetText {
  readonly width: number;
  /** The operators that show it, at a type size. */
  readonly shown: (sizePt: number) => string;
}

/** Draws rows of tables straight into the content of a page: all text of a row between one BT and ET. */
export class RowPen {
  readonly #document: PdfDocument;
  readonly #set = new Map<PdfFont, Map<string, SetText>>();

  constructor(document: PdfDocument) {
    this.#document = document;
  }

  draw(row: RowDrawing, xPt: number, yPt: number): void {
    const document = this.#document;
    const { height } = document.page;
    if (row.id !== null) document.addNamedDestination(row.id, 'XYZ', xPt, yPt, null);
    // What was drawn before may have left the page in another opacity.
    document.opacity(1);
    const content: string[] = ['q', `1 0 0 -1 0 ${points(height)} cm`, 'BT'];
    const state: PenState = { color: '', font: '' };
    const { cells, rules } = row.parts();
    for (const cell of cells) {
      for (const line of cell.lines) this.#line(cell, line, xPt + cell.xPt, yPt, height, state, content);
    }
    content.push('ET', 'Q');
    document.addContent(content.join('\n'));
    for (const rule of rules) this.#rule(rule, xPt, yPt);
  }

  #line(
    cell: DrawnCell,
    line: DrawnLine,
    leftPt: number,
    rowTopPt: number,
    pageHeightPt: number,
    state: PenState,
    content: string[],
  ): void {
    const { sizePt } = line;
    const spans = trimmed(line.line.spans);
    const set = spans.map((span) => {
      const font = this.#document.provideFont(...fontOf(span.face));
      return { span, font, text: this.#textOf(font, span.text) };
    });
    const widthPt = set.reduce((sum, { text }) => sum + (text.width * sizePt) / 1000, 0);
    const restPt = cell.widthPt - widthPt;
    let x = leftPt + (cell.align === 'right' ? restPt : cell.align === 'center' ? restPt / 2 : 0);
    const topPt = rowTopPt + line.topPt;
    const y = pageHeightPt - topPt - line.ascentPt;
    for (const { span, font, text } of set) {
      const spanPt = (text.width * sizePt) / 1000;
      this.#document.page.fonts[font.id] ??= font.ref();
      const color = span.to === null ? line.color : LIGHT.accent;
      if (color !== state.color) content.push(`/DeviceRGB cs ${rgb(color)} scn`);
      const wanted = `/${font.id} ${points(sizePt)} Tf`;
      if (wanted !== state.font) content.push(wanted);
      state.color = color;
      state.font = wanted;
      content.push(`1 0 0 1 ${points(x)} ${points(y)} Tm`, text.shown(sizePt));
      if (span.to !== null) this.#document.goTo(x, topPt, spanPt, font.lineHeight(sizePt), span.to);
      x += spanPt;
    }
  }

  #textOf(font: PdfFont, text: string): SetText {
    let known = this.#set.get(font);
    if (!known) this.#set.set(font, (known = new Map()));
    const before = known.get(text);
    if (before) return before;
    const set = setText(font, text);
    known.set(text, set);
    return set;
  }

  #rule({ x1, y1, x2, y2, lineWidth = 1, lineColor = LIGHT.rule, dash }: Rule, x: number, y: number) {
    const document = this.#document;
    document.save();
    document.lineWidth(lineWidth);
    if (dash) document.dash(dash.length, { space: dash.space ?? dash.length });
    document
      .moveTo(x + x1, y + y1)
      .lineTo(x + x2, y + y2)
      .strokeColor(lineColor, 1)
      .stroke();
    document.restore();
  }
}

/** What the text operators of the row at hand were told last. */
interface PenState {
  color: string;
  font: string;
}

/** Blanks at both ends of a line take no room. */
function trimmed(spans: readonly Span[]): readonly Span[] {
  const full = spans.filter(({ text }) => text !== '');
  return full.map((span, at) => {
    let { text } = span;
    if (at === 0) text = text.replace(/^ +/, '');
    if (at === full.length - 1) text = text.replace(/ +$/, '');
    return text === span.text ? span : { ...span, text };
  });
}

/**
 * Glyphs as TJ operators: hexadecimal glyph numbers, parted where a pair is kerned. A mark that stands off its base is moved there by an
 * adjustment and a rise of its own.
 */
function setText(font: PdfFont, text: string): SetText {
  const [glyphs, positions] = font.encode(text);
  const parts: Part[] = [];
  let width = 0;
  let run = '';
  const close = (adjust: number): void => {
    if (run !== '' || adjust !== 0) parts.push({ run, adjust, rise: 0 });
    run = '';
  };
  positions.forEach(({ xAdvance, advanceWidth, xOffset, yOffset }, at) => {
    width += xAdvance;
    const kern = xAdvance - advanceWidth;
    if (xOffset !== 0 || yOffset !== 0) {
      close(xOffset);
      parts.push({ run: glyphs[at]!, adjust: kern - xOffset, rise: yOffset });
      return;
    }
    run += glyphs[at]!;
    if (kern !== 0) close(kern);
  });
  close(0);
  if (parts.every(({ rise }) => rise === 0)) {
    const shown = `[${parts.map(partText).join(' ')}] TJ`;
    return { width, shown: () => shown };
  }
  return {
    width,
    shown: (sizePt) =>
      parts.map((part) => `${points((part.rise * sizePt) / 1000)} Ts [${partText(part)}] TJ`).join('\n') + '\n0 Ts',
  };
}

/** Glyphs, and how far what follows stands from where they end; in thousandths of the type size, as the rise above the line. */
interface Part {
  readonly run: string;
  readonly adjust: number;
  readonly rise: number;
}

function partText({ run, adjust }: Part): string {
  return `${run === '' ? '' : `<${run}>`}${adjust === 0 ? '' : ` ${points(-adjust)}`}`;
}

/** Thousandths of a point are finer than any printer. */
function points(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}

const colors = new Map<string, string>();

/** `#1a2b3c` → its three shares as a PDF writes them. */
function rgb(color: string): string {
  let known = colors.get(color);
  if (known === undefined) {
    const shares = [1, 3, 5].map((at) => points(Number.parseInt(color.slice(at, at + 2), 16) / 255));
    colors.set(color, (known = shares.join(' ')));
  }
  return known;
}
