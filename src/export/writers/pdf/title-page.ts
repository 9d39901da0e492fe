import type { Content } from 'pdfmake';
import { allFacts, LIGHT, type SpecDocument } from '../../document/index.ts';
import { cautionNode, keyValuesNode, withGap } from './blocks.ts';
import { linesNode, PLAIN_LAYOUT } from './line-nodes.ts';
import { BODY_PT, HEADING_PT, type Ground } from './setting.ts';
import { typeset, type Setting } from './typeset.ts';

const TITLE_PT = 20;
const SUBTITLE_PT = 11;
/** With more tables than this, the table of contents names sections only. */
const MOST_LISTED_TABLES = 40;

function heading(text: string, ground: Ground): Content {
  const lines = typeset(text, { sizePt: HEADING_PT[2], face: 'bold', metrics: ground.metrics }, ground.page.roomPt);
  return { stack: [linesNode(lines, { fontSize: HEADING_PT[2] })], margin: [0, 8, 0, 4] };
}

function contentsNode(document: SpecDocument, ground: Ground): Content {
  const set = (face: Setting['face']): Setting => ({ sizePt: BODY_PT, face, metrics: ground.metrics });
  const pagePt = 30;
  const roomPt = ground.page.roomPt - pagePt;
  const tables = document.sections.flatMap((section) => section.blocks.filter((block) => block.kind === 'table'));
  const body = document.sections.flatMap((section, at): Content[][] => {
    const line = (text: string, id: string, indentPt: number, face: Setting['face']): Content[] => [
      {
        stack: [linesNode(typeset(text, set(face), roomPt - indentPt), { linkToDestination: id })],
        margin: [indentPt, 0, 0, 0],
      },
      { pageReference: id, alignment: 'right', linkToDestination: id },
    ];
    const listed = tables.length > MOST_LISTED_TABLES ? [] : section.blocks.filter((block) => block.kind === 'table');
    return [
      line(`${at + 1}  ${section.title}`, section.id, 0, 'bold'),
      ...listed.map((table) => line(table.title, table.id, 14, 'regular')),
    ];
  });
  return {
    fontSize: BODY_PT,
    table: { widths: [roomPt, pagePt], dontBreakRows: true, body },
    layout: { ...PLAIN_LAYOUT, paddingTop: () => 1.2, paddingBottom: () => 1.2 },
  };
}

/** The beginning of a document: title, the mark with its reason, stamp and facts, all cautions, contents. */
export function titleNodes(document: SpecDocument, ground: Ground): readonly Content[] {
  const { roomPt } = ground.page;
  const title = typeset(document.title, { sizePt: TITLE_PT, face: 'bold', metrics: ground.metrics }, roomPt);
  const subtitle =
    document.subtitle === ''
      ? []
      : typeset(document.subtitle, { sizePt: SUBTITLE_PT, face: 'regular', metrics: ground.metrics }, roomPt);
  const mark =
    document.mark === null
      ? []
      : cautionNode(
          { tone: 'stop', text: [{ kind: 'strong', text: document.mark.text }, `\n${document.mark.reason}`] },
          ground,
        ).nodes;
  return [
    linesNode(title, { fontSize: TITLE_PT, color: LIGHT.ink }),
    ...(subtitle.length === 0 ? [] : [linesNode(subtitle, { fontSize: SUBTITLE_PT, color: LIGHT.muted })]),
    ...withGap({ nodes: mark, startPt: 0 }, 10).nodes,
    ...withGap(keyValuesNode(allFacts(document), ground), 10).nodes,
    heading('Cautions', ground),
    ...document.cautions.flatMap(
      (caution, at) => withGap(cautionNode({ tone: 'caution', text: caution }, ground), at === 0 ? 0 : 5).nodes,
    ),
    ...(document.sections.length === 0 ? [] : [heading('Contents', ground), contentsNode(document, ground)]),
  ];
}
