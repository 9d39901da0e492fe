import type { Combination, Pairing } from '../../model/index.ts';
import type { ModulePlan } from '../plan/types.ts';

/** What a bench needs to know to make vectors. */
export interface VectorBench {
  readonly pairing: Pairing;
  readonly combination: Combination;
  /** The plan of each interface module of the build. */
  readonly plans: readonly ModulePlan[];
  /** What the buses may add to the way of a frame, in µs. */
  readonly busUs: number;
}
