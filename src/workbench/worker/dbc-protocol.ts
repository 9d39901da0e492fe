import type { DbcContent, DbcFault } from '../../can/index.ts';

/** What the page sends to a reading thread: one file; the bytes change hands. */
export interface DbcRequest {
  readonly bytes: Uint8Array;
  readonly busId: string;
}

/** A DBC file as it was read. */
export interface DbcReading {
  readonly sha256: string;
  readonly content: DbcContent;
  /** In the order of the file. */
  readonly faults: readonly DbcFault[];
  /** Faults found but not listed. */
  readonly moreFaults: number;
  readonly nodes: number;
  readonly messages: number;
  readonly signals: number;
}

export type DbcAnswer =
  | { readonly kind: 'progress'; readonly fraction: number }
  | { readonly kind: 'read'; readonly reading: DbcReading }
  | { readonly kind: 'failed'; readonly message: string };
