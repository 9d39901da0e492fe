/**
 * Exponents of the base dimensions. Beside the seven of the SI there are three of our own, kept because folding them into "1"
 * (as the SI and UCUM do) would let a map convert what nobody may convert silently:
 *  - `angle`: a torque is energy per angle, a rotation angle per time. So N·m does not turn into J, nor Hz into rev/min:
 *    that takes a number of pulses per revolution which a person must state. One revolution is 360 deg, 2π rad.
 *  - `bit`: an amount of information is not a bare number.
 *  - `level`: decibels are logarithms; no factor turns them into a ratio.
 */
export interface Dimension {
  readonly m: number;
  readonly kg: number;
  readonly s: number;
  readonly A: number;
  readonly K: number;
  readonly mol: number;
  readonly cd: number;
  readonly angle: number;
  readonly bit: number;
  readonly level: number;
}

const BASES = ['m', 'kg', 's', 'A', 'K', 'mol', 'cd', 'angle', 'bit', 'level'] as const;

/** A dimension from its exponents that are not 0. */
export function dimensionOf(exponents: Partial<Dimension>): Dimension {
  return { m: 0, kg: 0, s: 0, A: 0, K: 0, mol: 0, cd: 0, angle: 0, bit: 0, level: 0, ...exponents };
}

/** Whether every exponent is the same. */
export function sameDimension(a: Dimension, b: Dimension): boolean {
  return BASES.every((base) => a[base] === b[base]);
}

/** A dimension in words for messages: "m·kg·s^-2", or "1" for a bare number. */
export function dimensionText(dimension: Dimension): string {
  const parts = BASES.filter((base) => dimension[base] !== 0).map((base) =>
    dimension[base] === 1 ? base : `${base}^${dimension[base]}`,
  );
  return parts.length === 0 ? '1' : parts.join('·');
}
