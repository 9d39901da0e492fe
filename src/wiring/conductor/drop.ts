import { DROP_LIMITS, NOMINAL_SUPPLY_V, type DropDuty } from '../tables/drop-limits.ts';
import { resistanceOhm } from './resistance.ts';

/** One leg of a circuit: a length of one conductor. */
export interface Leg {
  readonly ohmPerM20C: number;
  readonly lengthM: number;
  readonly temperatureC: number;
}

/** Voltage lost on the way out and on the way back, in volts. */
export interface Drop {
  readonly feedV: number;
  readonly returnV: number;
  readonly dropV: number;
}

/**
 * Drop along feed and return: current times resistance of each leg. A return through the chassis is no leg: its drop is
 * measured on the vehicle. FAA AC 43.13-1B check formula VD = (R/ft)(length)(current).
 */
export function drop(currentA: number, feed: readonly Leg[], back: readonly Leg[]): Drop {
  const across = (legs: readonly Leg[]): number =>
    legs.reduce((sum, leg) => sum + currentA * resistanceOhm(leg.ohmPerM20C, leg.lengthM, leg.temperatureC), 0);
  const feedV = across(feed);
  const returnV = across(back);
  return { feedV, returnV, dropV: feedV + returnV };
}

/** Length in metres at which a conductor loses just the volts allowed; Infinity without current. */
export function longestM(currentA: number, ohmPerM20C: number, temperatureC: number, allowedV: number): number {
  return allowedV / (currentA * resistanceOhm(ohmPerM20C, 1, temperatureC));
}

/** Allowed loss in volts for a duty at a supply voltage. */
export function dropLimitV(duty: DropDuty, supplyV: number = NOMINAL_SUPPLY_V): number {
  const { percent, volt } = DROP_LIMITS[duty];
  return Math.min(percent === null ? Infinity : (percent / 100) * supplyV, volt ?? Infinity);
}
