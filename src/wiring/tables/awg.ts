import type { Sourced } from './sourced.ts';

/** American wire gauge: d(n) = 0.005 in · 92^((36 − n)/39); n = 0 for 1/0, −1 for 2/0 and so on. */
export const AWG_RULE = {
  base: 92,
  atGauge36Inch: 0.005,
  steps: 39,
  source: 'ASTM B258; the resistance of annealed copper at 20 °C, 17.241 nΩ·m, is the IACS value',
  provenance: 'from memory',
} as const satisfies Sourced & Record<string, number | string>;

/** Resistivity of annealed copper at 20 °C, 100 % IACS, in Ω·mm²/m. */
export const COPPER_RESISTIVITY = 0.017241;

/** A stranded conductor of a gauge resists up to this much more than the solid one: strands lie askew. */
export const STRAND_ALLOWANCE = {
  factor: 1.04,
  source: 'stranded conductors of one gauge are +1 to +4 % by their lay; the worst is taken',
  provenance: 'from memory',
} as const satisfies Sourced & Record<string, number | string>;

/** Gauges a harness is offered in, thinnest first. */
export const HARNESS_GAUGES = [
  '26',
  '24',
  '22',
  '20',
  '18',
  '16',
  '14',
  '12',
  '10',
  '8',
  '6',
  '4',
  '2',
  '1/0',
] as const;
