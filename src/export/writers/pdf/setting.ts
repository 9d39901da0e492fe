import type { FaceMetrics } from './faces.ts';
import type { PageGeometry } from './page.ts';

/** What the blocks of a section need to know of their page. */
export interface Ground {
  readonly metrics: FaceMetrics;
  readonly page: PageGeometry;
}

export const BODY_PT = 8.5;
export const TABLE_PT = 7;
export const SMALL_PT = 6.5;
export const CODE_PT = 7.5;
export const HEADING_PT = { 1: 14, 2: 10.5, 3: 9 } as const;
