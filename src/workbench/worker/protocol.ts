import type { Finding, FindingCounts } from '../../checks/index.ts';
import type { CrossloomMap, Platform } from '../../model/index.ts';

/** What the page sends to the checking thread: only the documents that changed since it last did. */
export interface CheckRequest {
  readonly kind: 'check';
  /** Rises with every state of the documents; answers carry it back. */
  readonly version: number;
  readonly map: CrossloomMap;
  readonly host: Platform | null;
  readonly donor: Platform | null;
}

export interface CheckAnswer {
  readonly kind: 'checked';
  readonly version: number;
  readonly findings: readonly Finding[];
  readonly counts: FindingCounts;
  readonly elapsedMs: number;
}

export interface CheckFailure {
  readonly kind: 'failed';
  readonly version: number;
  readonly message: string;
}

export type WorkerRequest = CheckRequest;
export type WorkerAnswer = CheckAnswer | CheckFailure;
