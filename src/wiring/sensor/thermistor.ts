/** 0 °C in kelvin, exact. */
const ZERO_C_K = 273.15;

/** Coefficients of 1/T = A + B ln R + C (ln R)³; T in kelvin, R in ohms. */
export interface SteinhartHart {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** Temperature in °C at which a thermistor has a resistance in ohms (> 0). */
export function steinhartHartC(coefficients: SteinhartHart, ohm: number): number {
  const log = Math.log(ohm);
  return 1 / (coefficients.a + coefficients.b * log + coefficients.c * log ** 3) - ZERO_C_K;
}

/** Resistance in ohms at a temperature in °C: the closed inverse of the equation (Cardano; one real root as C > 0). */
export function steinhartHartOhm(coefficients: SteinhartHart, temperatureC: number): number {
  const { a, b, c } = coefficients;
  const x = (a - 1 / (temperatureC + ZERO_C_K)) / c;
  const y = Math.sqrt((b / (3 * c)) ** 3 + (x / 2) ** 2);
  return Math.exp(Math.cbrt(y - x / 2) - Math.cbrt(y + x / 2));
}

/** Coefficients through three points of a table (°C, Ω). Throws RangeError when two resistances are equal. */
export function fitSteinhartHart(
  points: readonly [readonly [number, number], readonly [number, number], readonly [number, number]],
): SteinhartHart {
  const [l1, l2, l3] = points.map(([, ohm]) => Math.log(ohm)) as [number, number, number];
  const [y1, y2, y3] = points.map(([temperatureC]) => 1 / (temperatureC + ZERO_C_K)) as [number, number, number];
  if (l1 === l2 || l1 === l3 || l2 === l3) throw new RangeError('three different resistances are needed for a fit');
  const g2 = (y2 - y1) / (l2 - l1);
  const g3 = (y3 - y1) / (l3 - l1);
  const c = (g3 - g2) / (l3 - l2) / (l1 + l2 + l3);
  const b = g2 - c * (l1 ** 2 + l1 * l2 + l2 ** 2);
  return { a: y1 - (b + l1 ** 2 * c) * l1, b, c };
}

/** Resistance in ohms by the beta form R = R₀ exp(β (1/T − 1/T₀)); β in kelvin, temperatures in °C. */
export function betaOhm(ohmAtReference: number, betaK: number, temperatureC: number, referenceC = 25): number {
  return ohmAtReference * Math.exp(betaK * (1 / (temperatureC + ZERO_C_K) - 1 / (referenceC + ZERO_C_K)));
}

/** Temperature in °C by the beta form. */
export function betaC(ohmAtReference: number, betaK: number, ohm: number, referenceC = 25): number {
  return 1 / (1 / (referenceC + ZERO_C_K) + Math.log(ohm / ohmAtReference) / betaK) - ZERO_C_K;
}

/** β in kelvin from two points (°C, Ω). */
export function betaFrom(one: readonly [number, number], other: readonly [number, number]): number {
  return Math.log(one[1] / other[1]) / (1 / (one[0] + ZERO_C_K) - 1 / (other[0] + ZERO_C_K));
}
