import type { Margin } from 'pdfmake';
import type { PageFormat } from '../../document/index.ts';

/** Paper in points, 1/72 inch. Source: ISO 216 (A4 210 × 297 mm, A3 297 × 420 mm). */
const SHORT_MM = { A4: 210, A3: 297 } as const;
const LONG_MM = { A4: 297, A3: 420 } as const;

export const POINTS_PER_MM = 72 / 25.4;
export const SIDE_MARGIN_PT = 34;

export interface PageGeometry {
  readonly widthPt: number;
  readonly heightPt: number;
  /** Width and height between the margins. */
  readonly roomPt: number;
  readonly heightRoomPt: number;
  readonly margins: Margin;
}

/** Size of a page and of the room on it, the head and foot of the given heights taken off. */
export function pageGeometry(format: PageFormat, headPt: number, footPt: number): PageGeometry {
  const short = SHORT_MM[format.paper] * POINTS_PER_MM;
  const long = LONG_MM[format.paper] * POINTS_PER_MM;
  const [widthPt, heightPt] = format.orientation === 'portrait' ? [short, long] : [long, short];
  return {
    widthPt,
    heightPt,
    roomPt: widthPt - 2 * SIDE_MARGIN_PT,
    heightRoomPt: heightPt - headPt - footPt,
    margins: [SIDE_MARGIN_PT, headPt, SIDE_MARGIN_PT, footPt],
  };
}
