import type { Content } from 'pdfmake';
import { LIGHT, type SpecDocument } from '../../document/index.ts';
import { LINE_HEIGHT, type FaceMetrics } from './faces.ts';
import { lineNode, linesNode } from './line-nodes.ts';
import { SIDE_MARGIN_PT } from './page.ts';
import { oneLine, typeset, type Line, type Setting } from './typeset.ts';

const EDGE_PT = 16;
const BAR_PT = 19;
const HEAD_SIZE_PT = 7.5;
const FOOT_SIZE_PT = 6.5;
const DIGEST_SIZE_PT = 5.5;

/** The head and foot of every page, and how high they are. */
export interface Furniture {
  readonly headPt: number;
  readonly footPt: number;
  readonly header: (page: number, pages: number, widthPt: number) => Content;
  readonly footer: (page: number, pages: number, widthPt: number) => Content;
}

function markBar(document: SpecDocument, metrics: FaceMetrics, roomPt: number): readonly Content[] {
  if (document.mark === null) return [];
  const setting: Setting = { sizePt: 9.5, face: 'bold', metrics };
  const line = oneLine(`${document.mark.text} — ${document.mark.reason}`, setting, roomPt - 12);
  return [
    {
      table: { widths: ['*'], body: [[lineNode(line, { color: LIGHT.onStop, alignment: 'center', fontSize: 9.5 })]] },
      layout: {
        hLineWidth: () => 0,
        vLineWidth: () => 0,
        paddingTop: () => 3,
        paddingBottom: () => 3,
        fillColor: () => LIGHT.stop,
      },
    },
  ];
}

/** Two texts at the ends of one line, the left one cut where they would meet. */
function ends(
  left: (roomPt: number) => Line,
  right: Line,
  roomPt: number,
  look: { color: string; fontSize: number },
): Content {
  return {
    columns: [
      lineNode(left(roomPt - right.width - 14), { ...look, width: '*' }),
      lineNode(right, { ...look, alignment: 'right', width: right.width + 2 }),
    ],
    columnGap: 8,
  };
}

const rule = (roomPt: number): Content => ({
  canvas: [{ type: 'line', x1: 0, y1: 0, x2: roomPt, y2: 0, lineWidth: 0.5, lineColor: LIGHT.rule }],
  margin: [0, 2, 0, 2],
});

/**
 * Head: the mark as a bar in words (when there is one), title and revision. Foot: the first caution in full, digest, date,
 * page x of y. The foot is as high as the caution needs on the narrowest page.
 */
export function furnitureOf(document: SpecDocument, metrics: FaceMetrics, narrowestRoomPt: number): Furniture {
  const head: Setting = { sizePt: HEAD_SIZE_PT, face: 'regular', metrics };
  const foot: Setting = { sizePt: FOOT_SIZE_PT, face: 'regular', metrics };
  const digest: Setting = { sizePt: DIGEST_SIZE_PT, face: 'mono', metrics };
  const caution = document.cautions[0] ?? '';
  const cautionLines = typeset(caution, foot, narrowestRoomPt).length;
  const headPt = EDGE_PT + (document.mark === null ? 0 : BAR_PT) + 10 + 16;
  const footPt = EDGE_PT + 4 + (cautionLines + 1) * FOOT_SIZE_PT * LINE_HEIGHT + 12;
  return {
    headPt,
    footPt,
    header: (page, _pages, widthPt) => {
      const roomPt = widthPt - 2 * SIDE_MARGIN_PT;
      const title = page === 1 ? '' : `${document.title} — ${document.subtitle}`;
      return {
        margin: [SIDE_MARGIN_PT, EDGE_PT, SIDE_MARGIN_PT, 0],
        stack: [
          ...markBar(document, metrics, roomPt),
          {
            margin: [0, 4, 0, 0],
            stack: [
              ends(
                (room) => oneLine(title, head, room),
                oneLine(`Revision ${document.stamp.revision}`, { ...head, face: 'bold' }, roomPt / 2),
                roomPt,
                { color: LIGHT.muted, fontSize: HEAD_SIZE_PT },
              ),
              rule(roomPt),
            ],
          },
        ],
      };
    },
    footer: (page, pages, widthPt) => {
      const roomPt = widthPt - 2 * SIDE_MARGIN_PT;
      const place = `${document.stamp.date}  ·  Page ${page} of ${pages}`;
      return {
        margin: [SIDE_MARGIN_PT, 4, SIDE_MARGIN_PT, 0],
        stack: [
          rule(roomPt),
          linesNode(typeset(caution, foot, roomPt), { color: LIGHT.ink, fontSize: FOOT_SIZE_PT }),
          {
            margin: [0, 2, 0, 0],
            columns: [
              lineNode(oneLine(`Digest ${document.stamp.digest}`, digest, roomPt * 0.72), {
                color: LIGHT.muted,
                fontSize: DIGEST_SIZE_PT,
                width: '*',
                margin: [0, 1, 0, 0],
              }),
              lineNode(oneLine(place, { ...foot, face: 'bold' }, roomPt * 0.27), {
                color: LIGHT.muted,
                fontSize: FOOT_SIZE_PT,
                alignment: 'right',
                width: roomPt * 0.27,
              }),
            ],
            columnGap: 4,
          },
        ],
      };
    },
  };
}
