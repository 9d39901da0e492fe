import { findFunction, type AddedHarness, type CircuitEnd, type Connector, type Pairing } from '../../model/index.ts';
import type { HarnessGraph } from '../harness/graph.ts';
import type { SplicePlace } from '../harness/splice-place.ts';
import type { PlannedConductor } from './planned-conductor.ts';
import type { PlanSettings } from './settings.ts';

/** What every sheet of the plan is made from. */
export interface PlanContext {
  readonly pairing: Pairing;
  readonly harness: AddedHarness;
  /** Conductors of the builds that the pack is for. */
  readonly conductors: readonly PlannedConductor[];
  readonly byKey: ReadonlyMap<string, PlannedConductor>;
  readonly graph: HarnessGraph;
  readonly places: ReadonlyMap<string, SplicePlace>;
  readonly settings: PlanSettings;
  readonly find: (connector: string) => Connector | null;
  /** Builds in words; empty when it belongs to all that the pack is for. */
  readonly optionsOf: (mask: bigint) => readonly string[];
}

/** A place as one word on a label or in a list: `host:C2-14`, `G101`, `k1-87`, the splice. */
export function placeText(end: CircuitEnd): string {
  switch (end.kind) {
    case 'cavity':
      return `${end.connector}-${end.cavity}`;
    case 'stud':
      return end.stud === null ? end.ground : `${end.ground} (${end.stud})`;
    case 'part':
      return end.connector === null ? `${end.part}-${end.terminal}` : `${end.connector}-${end.cavity}`;
    case 'splice':
      return spliceName(end.splice);
    case 'unknown':
      return `? ${end.of}`;
  }
}

/** A splice as it is printed: `S/host:C2-14`, after the place it serves. */
export function spliceName(splice: string): string {
  return `S/${splice.replace(/^splice:/, '').replaceAll('/', '-')}`;
}

/** Titles of the functions that a conductor serves. */
export function functionTitles(ids: readonly string[]): readonly string[] {
  return ids.map((id) => findFunction(id)?.title ?? id);
}
