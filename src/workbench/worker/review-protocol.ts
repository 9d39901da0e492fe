import type { Finding } from '../../checks/index.ts';
import type { Comparison, WalkStep } from '../../compare/index.ts';
import type { CrossloomMap, PairingDocuments, Platform } from '../../model/index.ts';

/** What the page sends to the reviewing thread: only what changed since it last did. */
export interface ReviewRequest {
  /** Rises with every request; the answer carries it back. */
  readonly version: number;
  readonly map: CrossloomMap;
  /** Null: as sent before. */
  readonly host: Platform | null;
  readonly donor: Platform | null;
  /** Findings of these documents. */
  readonly findings: readonly Finding[];
  /** The earlier revision; null: none; absent: as sent before. */
  readonly base?: PairingDocuments | null;
}

/** A comparison without the pairings that it is of. */
export type ComparisonOutcome = Omit<Comparison, 'before' | 'after'>;

export type ReviewAnswerMessage =
  | {
      readonly kind: 'walked';
      readonly version: number;
      readonly steps: readonly WalkStep[];
      readonly comparison: ComparisonOutcome | null;
      /** Open findings of the earlier revision, for its loom. */
      readonly baseFindings: readonly Finding[];
    }
  | { readonly kind: 'failed'; readonly version: number; readonly message: string };
