import type { Content, Style, TableLayout, TextNode, TextSpan } from 'pdfmake';
import { LIGHT } from '../../document/index.ts';
import type { Face } from './faces.ts';
import type { Line, Span } from './typeset.ts';

/** Names of the two families as the PDF definition knows them. */
export const SANS = 'sans';
export const MONO = 'mono';

function faceStyle(face: Face): Style {
  switch (face) {
    case 'regular':
      return { font: SANS };
    case 'bold':
      return { font: SANS, bold: true };
    case 'italic':
      return { font: SANS, italics: true };
    case 'mono':
      return { font: MONO };
    case 'monoBold':
      return { font: MONO, bold: true };
  }
}

/** Family, bold, italic: how the PDF document names a face. */
export function fontOf(face: Face): readonly [family: string, bold: boolean, italic: boolean] {
  const { font = SANS, bold = false, italics = false } = faceStyle(face);
  return [font, bold, italics];
}

function spanNode(span: Span): TextSpan {
  const link = span.to === null ? {} : { linkToDestination: span.to, color: LIGHT.accent };
  return { ...faceStyle(span.face), ...link, text: span.text };
}

/** A set line as a node that is never wrapped again. */
export function lineNode(line: Line, look: Omit<TextNode, 'text'> = {}): TextNode {
  if (line.spans.length === 1 && line.spans[0] !== undefined) return { ...look, ...spanNode(line.spans[0]) };
  return { ...look, text: line.spans.map(spanNode) };
}

/** Set lines under one another; `id` and other once-only properties go to the first. */
export function linesNode(
  lines: readonly Line[],
  look: Omit<TextNode, 'text'> = {},
  first: Omit<TextNode, 'text'> = {},
): Content {
  const nodes = lines.map((line, at) => lineNode(line, at === 0 ? { ...look, ...first } : look));
  return nodes.length === 1 && nodes[0] !== undefined ? nodes[0] : { stack: nodes };
}

/** A zero-high target for links, put where nothing repeats it. */
export function anchorNode(id: string): Content {
  return { text: ' ', fontSize: 0.1, id };
}

/** The layout of a table that only puts things side by side. */
export const PLAIN_LAYOUT: TableLayout = {
  hLineWidth: () => 0,
  vLineWidth: () => 0,
  paddingTop: () => 0,
  paddingBottom: () => 0,
  paddingLeft: () => 0,
  paddingRight: () => 0,
};
