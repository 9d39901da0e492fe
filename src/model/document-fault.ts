/** At most this many faults are reported; a last one says how many more there are. */
export const MAX_FAULTS = 200;

export type DocumentPath = readonly (string | number)[];

/** One fault of a document: where it is, what is wrong, how to mend it. Lines and columns count from 1. */
export interface DocumentFault {
  readonly line: number;
  readonly column: number;
  readonly path: DocumentPath;
  readonly message: string;
  readonly mend: string | null;
}
