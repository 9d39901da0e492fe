import type { FieldDifference } from './differences.ts';

export type ChangeKind = 'added' | 'removed' | 'changed' | 'renamed';

/** One thing that differs between two revisions. */
export interface Change {
  readonly kind: ChangeKind;
  /** What it is: route, transmit, module, message, signal, wire, connector, feed, option, waiver … */
  readonly what: string;
  readonly subject: string;
  /** Its subject in the old revision, for something renamed. */
  readonly was: string | null;
  readonly fields: readonly FieldDifference[];
  /** The whole thing before and after; undefined on the side where it is not, and for facts of the map itself. */
  readonly from?: unknown;
  readonly to?: unknown;
  /** What follows from it, in words. */
  readonly consequences: readonly string[];
}
