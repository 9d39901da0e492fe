import type { Content } from 'pdfmake';
import { LIGHT, type Block, type Section } from '../../document/index.ts';
import { gapAbove, layBlock, paragraphNode, underHeading, withGap, type LaidBlock } from './blocks.ts';
import { LINE_HEIGHT } from './faces.ts';
import { linesNode } from './line-nodes.ts';
import { HEADING_PT, type Ground } from './setting.ts';
import { typeset } from './typeset.ts';

type Heading = Extract<Block, { kind: 'heading' }>;

function headingBlock(heading: Heading, below: LaidBlock, ground: Ground): LaidBlock {
  const sizePt = HEADING_PT[heading.level];
  const lines = typeset(heading.text, { sizePt, face: 'bold', metrics: ground.metrics }, ground.page.roomPt);
  const node = linesNode(
    lines,
    { fontSize: sizePt, color: LIGHT.ink },
    heading.id === undefined ? {} : { id: heading.id },
  );
  const heightPt = lines.length * sizePt * LINE_HEIGHT + 9;
  return underHeading([{ stack: [node], margin: [0, 6, 0, 3] }], below, heightPt);
}

/** Lays blocks from the last to the first, so that each heading knows what it must stay with. */
function layBlocks(blocks: readonly Block[], ground: Ground): LaidBlock {
  const nodes: (readonly Content[])[] = [];
  let below: LaidBlock = { nodes: [], startPt: 0 };
  let gapPt = 0;
  for (let at = blocks.length - 1; at >= 0; at--) {
    const block = blocks[at];
    if (block === undefined) continue;
    if (block.kind === 'heading') {
      below = headingBlock(block, below, ground);
      gapPt = 0;
      continue;
    }
    if (block.kind === 'pageBreak') {
      nodes.push(below.nodes);
      below = { nodes: [{ text: '', fontSize: 0.1, pageBreak: 'before' }], startPt: 0 };
    } else {
      nodes.push(withGap(below, gapPt).nodes);
      below = layBlock(block, ground);
    }
    gapPt = gapAbove(block);
  }
  return { nodes: [...below.nodes, ...nodes.reverse().flat()], startPt: below.startPt };
}

/** A section: its numbered title (a bookmark too), its introduction, its blocks. */
export function sectionNodes(section: Section, number: number, ground: Ground): readonly Content[] {
  const sizePt = HEADING_PT[1];
  const title = `${number}  ${section.title}`;
  const lines = typeset(title, { sizePt, face: 'bold', metrics: ground.metrics }, ground.page.roomPt);
  const heading: Content = {
    stack: [
      linesNode(
        lines,
        { fontSize: sizePt, color: LIGHT.ink },
        { id: section.id, outline: true, outlineText: title, outlineExpanded: true },
      ),
    ],
    margin: [0, 10, 0, 6],
  };
  const headingPt = lines.length * sizePt * LINE_HEIGHT + 16;
  const body = layBlocks(section.blocks, ground);
  if (section.intro === undefined) return underHeading([heading], body, headingPt).nodes;
  const intro = paragraphNode(section.intro, ground, ground.page.roomPt);
  const below = withGap(body, 6);
  // A long introduction may be parted from its heading; a short one stays between heading and body.
  if (intro.heightPt < 60) return underHeading([heading, intro.node], below, headingPt + intro.heightPt).nodes;
  return [...underHeading([heading], { nodes: [intro.node], startPt: 36 }, headingPt).nodes, ...below.nodes];
}
