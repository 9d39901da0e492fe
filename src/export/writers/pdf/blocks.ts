import type { Content } from 'pdfmake';
import {
  cautionWord,
  drawingSvg,
  LIGHT,
  strong,
  type Block,
  type Caution,
  type Figure,
  type KeyValues,
  type List,
  type RichText,
} from '../../document/index.ts';
import { LINE_HEIGHT, settableText } from './faces.ts';
import { anchorNode, lineNode, linesNode, MONO, PLAIN_LAYOUT, SANS } from './line-nodes.ts';
import { POINTS_PER_MM } from './page.ts';
import { BODY_PT, CODE_PT, HEADING_PT, SMALL_PT, type Ground } from './setting.ts';
import { layTable } from './table.ts';
import { naturalWidths, typeset, type Setting } from './typeset.ts';

/** Nodes of a block, and the height that its beginning needs to stand under a heading; points. */
export interface LaidBlock {
  readonly nodes: readonly Content[];
  readonly startPt: number;
}

const CODE_SIDE_PT = 6;
const CAUTION_SIDE_PT = 8;

const setting = (ground: Ground, sizePt: number, face: Setting['face'] = 'regular'): Setting => ({
  sizePt,
  face,
  metrics: ground.metrics,
});

/** Body text in lines of the given width. */
export function paragraphNode(
  text: RichText,
  ground: Ground,
  roomPt: number,
  sizePt: number = BODY_PT,
): { readonly node: Content; readonly heightPt: number } {
  const lines = typeset(text, setting(ground, sizePt), roomPt);
  return {
    node: linesNode(lines, { fontSize: sizePt, lineHeight: 1.08 }),
    heightPt: lines.length * sizePt * LINE_HEIGHT * 1.08,
  };
}

function laidParagraph(text: RichText, ground: Ground): LaidBlock {
  const { node, heightPt } = paragraphNode(text, ground, ground.page.roomPt);
  return { nodes: [node], startPt: Math.min(heightPt, 30) };
}

/** Names and values side by side; the names as wide as the widest, at most a third of the page. */
export function keyValuesNode(entries: KeyValues['entries'], ground: Ground): LaidBlock {
  const label = setting(ground, BODY_PT);
  const widest = Math.max(0, ...entries.map((entry) => naturalWidths(entry.label, label).line));
  const labelPt = Math.min(widest + 2, ground.page.roomPt / 3);
  const valuePt = ground.page.roomPt - labelPt - 14;
  const body = entries.map((entry): Content[] => [
    linesNode(typeset(entry.label, label, labelPt), { color: LIGHT.muted }),
    linesNode(typeset(entry.value, setting(ground, BODY_PT), valuePt)),
  ]);
  if (body.length === 0) return { nodes: [], startPt: 0 };
  const node: Content = {
    fontSize: BODY_PT,
    table: { widths: [labelPt, valuePt], dontBreakRows: body.length > 1 && body.length < 400, body },
    layout: {
      ...PLAIN_LAYOUT,
      paddingRight: (column) => (column === 0 ? 14 : 0),
      paddingTop: () => 1,
      paddingBottom: () => 1,
    },
  };
  return { nodes: [node], startPt: 24 };
}

function laidKeyValues(block: KeyValues, ground: Ground): LaidBlock {
  const laid = keyValuesNode(block.entries, ground);
  if (block.title === undefined) return laid;
  const title = typeset(block.title, setting(ground, HEADING_PT[3], 'bold'), ground.page.roomPt);
  return underHeading(
    [linesNode(title, { fontSize: HEADING_PT[3] })],
    laid,
    title.length * HEADING_PT[3] * LINE_HEIGHT,
  );
}

function laidList(block: List, ground: Ground): LaidBlock {
  const markPt =
    block.style === 'bullet' ? 10 : block.style === 'check' ? 15 : 8 + 5 * String(block.entries.length).length;
  const nodes = block.entries.map((entry, at): Content => {
    const sign = block.style === 'bullet' ? '•' : block.style === 'check' ? '☐' : `${at + 1}.`;
    return {
      margin: [0, at === 0 ? 0 : 2, 0, 0],
      columnGap: 4,
      columns: [
        { text: sign, width: markPt, fontSize: block.style === 'check' ? BODY_PT * 1.25 : BODY_PT },
        { stack: [paragraphNode(entry, ground, ground.page.roomPt - markPt - 4).node], width: '*' },
      ],
    };
  });
  return { nodes, startPt: 24 };
}

function cautionLook(tone: Caution['tone']): { readonly ink: string; readonly shade: string } {
  switch (tone) {
    case 'stop':
      return { ink: LIGHT.stop, shade: LIGHT.stopShade };
    case 'caution':
      return { ink: LIGHT.caution, shade: LIGHT.cautionShade };
    case 'note':
      return { ink: LIGHT.accent, shade: LIGHT.shade };
  }
}

/** A box with its tone as a word, a bar at its left edge. */
export function cautionNode(caution: Omit<Caution, 'kind'>, ground: Ground): LaidBlock {
  const look = cautionLook(caution.tone);
  const roomPt = ground.page.roomPt - 3 - 2 * CAUTION_SIDE_PT;
  const word = typeset([strong(cautionWord(caution.tone))], setting(ground, BODY_PT), roomPt);
  const text = paragraphNode(caution.text, ground, roomPt);
  const node: Content = {
    table: {
      widths: [3, ground.page.roomPt - 3],
      body: [
        [
          { text: '', fillColor: look.ink },
          {
            stack: [linesNode(word, { fontSize: BODY_PT, color: look.ink }), text.node],
            fillColor: look.shade,
            margin: [CAUTION_SIDE_PT, 4, CAUTION_SIDE_PT, 4],
          },
        ],
      ],
    },
    layout: PLAIN_LAYOUT,
  };
  const heightPt = text.heightPt + 20;
  return { nodes: [heightPt < 200 ? { stack: [node], unbreakable: true } : node], startPt: Math.min(heightPt, 60) };
}

function laidCode(text: string, title: string | undefined, ground: Ground): LaidBlock {
  const roomPt = ground.page.roomPt - 2 * CODE_SIDE_PT;
  const lines = typeset(text.replace(/\n$/, ''), setting(ground, CODE_PT, 'mono'), roomPt);
  const node: Content = {
    table: {
      widths: [roomPt],
      body: lines.map((line) => [lineNode(line, { fontSize: CODE_PT, preserveLeadingSpaces: true })]),
    },
    layout: {
      ...PLAIN_LAYOUT,
      paddingLeft: () => CODE_SIDE_PT,
      paddingRight: () => CODE_SIDE_PT,
      paddingTop: (row) => (row === 0 ? 4 : 0.6),
      paddingBottom: (row) => (row === lines.length - 1 ? 4 : 0.6),
      fillColor: () => LIGHT.shade,
    },
  };
  const laid: LaidBlock = {
    nodes: lines.length <= 12 ? [{ unbreakable: true, stack: [node] }] : [node],
    startPt: Math.min(lines.length, 12) * 10 + 8,
  };
  if (title === undefined) return laid;
  const titleLines = typeset(title, setting(ground, HEADING_PT[3], 'bold'), ground.page.roomPt);
  return underHeading(
    [linesNode(titleLines, { fontSize: HEADING_PT[3], margin: [0, 0, 0, 2] })],
    laid,
    titleLines.length * 12,
  );
}

function laidFigure(figure: Figure, ground: Ground): LaidBlock {
  const { drawing } = figure;
  const title = typeset(figure.title, setting(ground, HEADING_PT[3], 'bold'), ground.page.roomPt);
  const note =
    figure.note === undefined ? null : paragraphNode(figure.note, ground, ground.page.roomPt, SMALL_PT + 0.5);
  const titlePt = title.length * HEADING_PT[3] * LINE_HEIGHT + 4;
  const widthPt = drawing.width * drawing.unitMm * POINTS_PER_MM;
  const heightPt = drawing.height * drawing.unitMm * POINTS_PER_MM;
  const heightRoomPt = ground.page.heightRoomPt - titlePt - (note?.heightPt ?? 0) - 40;
  const shrink = Math.min(1, ground.page.roomPt / widthPt, heightRoomPt / heightPt);
  const svg = drawingSvg(drawing, {
    paint: (paint) => (paint.startsWith('#') ? paint : LIGHT[paint as keyof typeof LIGHT]),
    sans: SANS,
    mono: MONO,
    text: (text, face) => settableText(text, face === 'mono' ? 'mono' : 'regular', ground.metrics),
  });
  const stack: Content[] = [
    anchorNode(figure.id),
    linesNode(title, { fontSize: HEADING_PT[3] }, { margin: [0, 0, 0, 4] }),
    { svg, width: widthPt * shrink, font: SANS },
    ...(note === null ? [] : [{ stack: [note.node], margin: [0, 3, 0, 0] as const, color: LIGHT.muted }]),
  ];
  return {
    nodes: [{ unbreakable: true, stack }],
    startPt: heightPt * shrink + titlePt + (note?.heightPt ?? 0) + 12,
  };
}

/** Room above a block, points: blocks bring it before them, for room after one could fill a page of its own. */
export function gapAbove(block: Block): number {
  switch (block.kind) {
    case 'table':
    case 'figure':
      return 14;
    case 'heading':
    case 'pageBreak':
      return 0;
    case 'paragraph':
    case 'keyValues':
    case 'list':
    case 'caution':
    case 'code':
    case 'formula':
      return 6;
  }
}

/** The block with room above it. */
export function withGap(laid: LaidBlock, gapPt: number): LaidBlock {
  const [first, ...others] = laid.nodes;
  if (first === undefined || gapPt === 0) return laid;
  return { nodes: [{ stack: [first], margin: [0, gapPt, 0, 0] }, ...others], startPt: laid.startPt + gapPt };
}

/**
 * Keeps a heading with what follows it: the heading and blank room for the beginning of what follows are one unbreakable
 * block, and what follows then starts at the top of that room again.
 */
export function underHeading(heading: readonly Content[], below: LaidBlock, headingPt: number): LaidBlock {
  const [first, ...others] = below.nodes;
  if (first === undefined) return { nodes: heading, startPt: headingPt };
  const roomPt = below.startPt;
  return {
    nodes: [
      { unbreakable: true, stack: [...heading, { text: '', fontSize: 0.1, margin: [0, roomPt, 0, 0] }] },
      { stack: [first], margin: [0, -roomPt, 0, 0] },
      ...others,
    ],
    startPt: headingPt + roomPt,
  };
}

/** Lays one block. Page breaks are for the section to make. */
export function layBlock(block: Exclude<Block, { kind: 'heading' | 'pageBreak' }>, ground: Ground): LaidBlock {
  switch (block.kind) {
    case 'paragraph':
      return laidParagraph(block.text, ground);
    case 'keyValues':
      return laidKeyValues(block, ground);
    case 'list':
      return laidList(block, ground);
    case 'caution':
      return cautionNode(block, ground);
    case 'figure':
      return laidFigure(block, ground);
    case 'code':
      return laidCode(block.text, block.title, ground);
    case 'formula':
      return laidCode(block.text, block.title, ground);
    case 'table': {
      const laid = layTable(block, ground);
      const note =
        block.note === undefined
          ? []
          : [
              {
                stack: [paragraphNode(block.note, ground, ground.page.roomPt, SMALL_PT + 0.5).node],
                margin: [0, 3, 0, 0] as const,
              },
            ];
      const startPt = Math.min(laid.startPt, ground.page.heightRoomPt * 0.6);
      return underHeading([anchorNode(block.id)], { nodes: [...laid.nodes, ...note], startPt }, 0);
    }
  }
}
