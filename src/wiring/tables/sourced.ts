/** How a row of a table was had: the text was read; recalled, verify before use; engineering convention; calculated. */
export type RowProvenance = 'read' | 'from memory' | 'common practice' | 'computed';

/** Where a row comes from. */
export interface Sourced {
  readonly source: string;
  readonly provenance: RowProvenance;
}
