/** Voltage at the tap of two resistors across a supply: `topOhm` to the supply, `bottomOhm` to ground. */
export function dividerV(supplyV: number, topOhm: number, bottomOhm: number): number {
  return (supplyV * bottomOhm) / (topOhm + bottomOhm);
}

/** Resistance to ground which gives a tap voltage under a pull-up. Infinity at and above the supply. */
export function bottomOhm(supplyV: number, topOhm: number, tapV: number): number {
  return tapV >= supplyV ? Infinity : (topOhm * tapV) / (supplyV - tapV);
}

/** Resistances in parallel, in ohms. */
export function parallelOhm(...ohms: readonly number[]): number {
  return 1 / ohms.reduce((sum, ohm) => sum + 1 / ohm, 0);
}
