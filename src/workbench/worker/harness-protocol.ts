import type { CrossloomMap, Platform } from '../../model/index.ts';
import type { ConnectorPage, DrawnHarness, FromToRow, HarnessPlan, PlannedConductor } from '../../wiring/index.ts';

/** What the page sends to the planning thread: only the documents that changed since it last did. */
export interface PlanRequest {
  /** Rises with every request; answers carry it back. */
  readonly version: number;
  readonly map: CrossloomMap;
  /** Null: as sent before. */
  readonly host: Platform | null;
  readonly donor: Platform | null;
  /** Builds to plan for; null for all. */
  readonly mask: bigint | null;
}

/** What the from–to list adds to a planned conductor: names and what is put on its ends. */
export type ConductorFacts = Pick<
  FromToRow,
  'key' | 'functions' | 'signals' | 'role' | 'from' | 'to' | 'options' | 'coverings' | 'toleranceMm' | 'conditioning'
>;

export interface ShownConductor {
  readonly conductor: PlannedConductor;
  readonly facts: ConductorFacts;
}

/** The plan without its conductors and connectors. */
export type PlanFrame = Pick<
  HarnessPlan,
  'settings' | 'options' | 'splices' | 'segments' | 'problems' | 'open' | 'totals'
> & { readonly drawing: Omit<DrawnHarness, 'shapes'> };

/**
 * What comes back. Conductors and connectors come in parts, so that taking in a large plan does not hold the window up; `planned` comes
 * last.
 */
export type PlanAnswer =
  | { readonly kind: 'conductors'; readonly version: number; readonly conductors: readonly ShownConductor[] }
  | { readonly kind: 'connectors'; readonly version: number; readonly connectors: readonly ConnectorPage[] }
  | { readonly kind: 'planned'; readonly version: number; readonly frame: PlanFrame; readonly elapsedMs: number }
  | { readonly kind: 'failed'; readonly version: number; readonly message: string };
