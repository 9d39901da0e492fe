import type { SizeFamily } from '../conductor/size.ts';
import { ASSUMED_AMBIENT_C, SERVICE, SPARE_PERCENT } from '../tables/allowances.ts';
import { NOMINAL_SUPPLY_V } from '../tables/drop-limits.ts';

/** What a harness is planned with where the documents leave it open. */
export interface PlanSettings {
  /** Series from which missing sizes are chosen. */
  readonly family: SizeFamily;
  /** Ambient in °C where no segment on the way states one. */
  readonly ambientC: number;
  /** Supply that drop limits are shares of, in volts. */
  readonly supplyV: number;
  /** What is bought beyond what is cut, in percent. */
  readonly sparePercent: number;
  /** Service allowance of both ends of a conductor together, in metres, where neither circuit nor harness gives one. */
  readonly serviceM: number;
  /** Option combinations that the pack is for; null for all, with each row saying which it belongs to. */
  readonly mask: bigint | null;
}

export const DEFAULT_SETTINGS: PlanSettings = {
  family: 'metric',
  ambientC: ASSUMED_AMBIENT_C,
  supplyV: NOMINAL_SUPPLY_V,
  sparePercent: SPARE_PERCENT,
  serviceM: SERVICE.defaultM,
  mask: null,
};
