/**
 * Temperature at which the resistance of annealed copper would vanish if its slope at 20 °C held on, in °C, negated.
 * FAA AC 43.13-1B CHG 1 para 11-66: L2 = 254.5 L1 / (234.5 + T2). Equal to 0.00393 a °C at 20 °C.
 */
const INFERRED_ZERO_C = 234.5;

/** Resistance of copper at a temperature against that at 20 °C; 1 at 20 °C, 1.1179 at 50 °C. */
export function copperFactor(temperatureC: number): number {
  return (INFERRED_ZERO_C + temperatureC) / (INFERRED_ZERO_C + 20);
}

/** Resistance in ohms of a length of conductor. `ohmPerM20C` at 20 °C. */
export function resistanceOhm(ohmPerM20C: number, lengthM: number, temperatureC: number): number {
  return ohmPerM20C * lengthM * copperFactor(temperatureC);
}
