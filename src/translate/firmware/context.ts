import type { SideName } from '../../model/index.ts';
import type { ModulePlan, PlannedRoute } from '../plan/types.ts';
import type { SlotPlan } from './slots.ts';

/** One module while its C is written. Units add what they keep to the state, and what is not zero at first to the reset. */
export interface ModuleContext {
  readonly plan: ModulePlan;
  /** Begins every name of the module: lower case for functions and types, upper case for constants. */
  readonly prefix: string;
  readonly constants: string;
  /** Of each route: how its slots are held. */
  readonly slots: readonly (readonly SlotPlan[])[];
  /** Names of the bus constants by port id. */
  readonly busConstants: ReadonlyMap<string, string>;
  /** Names of the pin constants, in the order of the plan. */
  readonly pinsIn: readonly string[];
  readonly pinsOut: readonly string[];
  /** Members of the state. */
  readonly state: string[];
  /** Statements that bring the state, all zero, to its start. */
  readonly reset: string[];
  /** Parts of the core that only some maps need. */
  readonly needs: Set<'wide' | 'float'>;
}

/** The side of a reference. */
export function sideOf(ref: string): SideName {
  return ref.startsWith('donor:') ? 'donor' : 'host';
}

/** Whether a route keeps something for its loss behaviour. */
export function holds({ compiled }: PlannedRoute): boolean {
  return compiled.loss.onLoss.kind === 'hold' || compiled.loss.atStart.kind === 'hold';
}
