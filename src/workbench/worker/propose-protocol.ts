import type { Acceptance, NeedProposals } from '../../edit/index.ts';
import type { CrossloomMap, Platform } from '../../model/index.ts';

interface Documents {
  /** Rises with every request; answers carry it back. */
  readonly version: number;
  readonly map: CrossloomMap;
  /** Null: as sent before. */
  readonly host: Platform | null;
  readonly donor: Platform | null;
}

/** What the page sends to the proposing thread. */
export type ProposeRequest =
  | ({ readonly kind: 'propose' } & Documents)
  /** Accept the best proposals of these needs when they score at least so much. */
  | ({ readonly kind: 'accept'; readonly needs: readonly string[]; readonly least: number } & Documents);

export type ProposeAnswer =
  | { readonly kind: 'proposed'; readonly version: number; readonly needs: readonly NeedProposals[] }
  | { readonly kind: 'progress'; readonly version: number; readonly fraction: number }
  | { readonly kind: 'accepted'; readonly version: number; readonly acceptance: Acceptance }
  | { readonly kind: 'failed'; readonly version: number; readonly message: string };
