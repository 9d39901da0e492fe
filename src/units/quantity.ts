import { type Dimension, dimensionOf } from './dimension.ts';

/**
 * What a unit measures. Two units convert only within one quantity: the dimension alone would turn kW.h/(100.km) into newtons
 * and a cross-section in mm2 into a fuel consumption.
 */
export interface Quantity {
  readonly title: string;
  readonly dimension: Dimension;
  /** A point on a scale with a zero of its own choice, as against a difference or an amount. */
  readonly point: boolean;
}

function amount(title: string, exponents: Partial<Dimension>): Quantity {
  return { title, dimension: dimensionOf(exponents), point: false };
}

function point(title: string, exponents: Partial<Dimension>): Quantity {
  return { title, dimension: dimensionOf(exponents), point: true };
}

const PRESSURE = { m: -1, kg: 1, s: -2 };
const FORCE = { m: 1, kg: 1, s: -2 };
const ENERGY = { m: 2, kg: 1, s: -2 };
const POWER = { m: 2, kg: 1, s: -3 };
const TORQUE = { ...ENERGY, angle: -1 };
const VOLTAGE = { m: 2, kg: 1, s: -3, A: -1 };

export const QUANTITIES = {
  temperature: point('temperature', { K: 1 }),
  'temperature-difference': amount('temperature difference', { K: 1 }),
  'temperature-rate': amount('rate of temperature', { K: 1, s: -1 }),
  pressure: amount('pressure', PRESSURE),
  'gauge-pressure': point('gauge pressure', PRESSURE),
  'pressure-rate': amount('rate of pressure', { ...PRESSURE, s: -3 }),
  distance: amount('distance', { m: 1 }),
  area: amount('area', { m: 2 }),
  volume: amount('volume', { m: 3 }),
  curvature: amount('curvature', { m: -1 }),
  speed: amount('speed', { m: 1, s: -1 }),
  acceleration: amount('acceleration', { m: 1, s: -2 }),
  jerk: amount('jerk', { m: 1, s: -3 }),
  angle: amount('angle', { angle: 1 }),
  rotation: amount('rotation', { angle: 1, s: -1 }),
  'angular-acceleration': amount('angular acceleration', { angle: 1, s: -2 }),
  'angle-per-distance': amount('angle per distance', { angle: 1, m: -1 }),
  force: amount('force', FORCE),
  stiffness: amount('stiffness', { kg: 1, s: -2 }),
  torque: amount('torque', TORQUE),
  'torque-rate': amount('rate of torque', { ...TORQUE, s: -3 }),
  power: amount('power', POWER),
  'apparent-power': amount('apparent power', POWER),
  'power-rate': amount('rate of power', { ...POWER, s: -4 }),
  energy: amount('energy', ENERGY),
  mass: amount('mass', { kg: 1 }),
  density: amount('density', { kg: 1, m: -3 }),
  'kinematic-viscosity': amount('kinematic viscosity', { m: 2, s: -1 }),
  'volume-flow': amount('volume flow', { m: 3, s: -1 }),
  'mass-flow': amount('mass flow', { kg: 1, s: -1 }),
  'mass-per-stroke': amount('mass per stroke', { kg: 1 }),
  'volume-per-stroke': amount('volume per stroke', { m: 3 }),
  'mass-per-distance': amount('mass per distance', { kg: 1, m: -1 }),
  'fuel-consumption': amount('fuel consumption', { m: 2 }),
  'fuel-economy': amount('fuel economy', { m: -2 }),
  'energy-consumption': amount('energy consumption', FORCE),
  'energy-economy': amount('energy economy', { m: -1, kg: -1, s: 2 }),
  'specific-consumption': amount('specific fuel consumption', { m: -2, s: 2 }),
  voltage: amount('voltage', VOLTAGE),
  'voltage-rate': amount('rate of voltage', { ...VOLTAGE, s: -4 }),
  current: amount('current', { A: 1 }),
  'current-rate': amount('rate of current', { A: 1, s: -1 }),
  resistance: amount('resistance', { ...VOLTAGE, A: -2 }),
  conductance: amount('conductance', { m: -2, kg: -1, s: 3, A: 2 }),
  capacitance: amount('capacitance', { m: -2, kg: -1, s: 4, A: 2 }),
  inductance: amount('inductance', { m: 2, kg: 1, s: -2, A: -2 }),
  'magnetic-flux': amount('magnetic flux', { m: 2, kg: 1, s: -2, A: -1 }),
  'magnetic-flux-density': amount('magnetic flux density', { kg: 1, s: -2, A: -1 }),
  charge: amount('charge', { A: 1, s: 1 }),
  frequency: amount('frequency', { s: -1 }),
  time: amount('time', { s: 1 }),
  information: amount('information', { bit: 1 }),
  'information-rate': amount('information rate', { bit: 1, s: -1 }),
  ratio: amount('ratio', {}),
  'ratio-rate': amount('rate of ratio', { s: -1 }),
  'air-fuel-equivalence': amount('air–fuel equivalence ratio', {}),
  count: amount('count', {}),
  'count-rate': amount('count per time', { s: -1 }),
  gear: amount('gear', {}),
  'calendar-month': amount('calendar month', {}),
  'calendar-year': amount('calendar year', {}),
  'pulses-per-distance': amount('pulses per distance', { m: -1 }),
  'pulses-per-revolution': amount('pulses per revolution', { angle: -1 }),
  level: amount('level', { level: 1 }),
  'power-level': point('power level', { level: 1 }),
  'sound-level': point('sound level', { level: 1 }),
  illuminance: amount('illuminance', { cd: 1, m: -2, angle: 2 }),
  'luminous-flux': amount('luminous flux', { cd: 1, angle: 2 }),
  'luminous-intensity': amount('luminous intensity', { cd: 1 }),
  luminance: amount('luminance', { cd: 1, m: -2 }),
  irradiance: amount('irradiance', { kg: 1, s: -3 }),
  'amount-of-substance': amount('amount of substance', { mol: 1 }),
} as const satisfies Record<string, Quantity>;

export type QuantityName = keyof typeof QUANTITIES;

/** Pairs whose units convert by y = k / x: each value of one is one over the other. */
export const RECIPROCAL_QUANTITIES: readonly (readonly [QuantityName, QuantityName])[] = [
  ['fuel-consumption', 'fuel-economy'],
  ['energy-consumption', 'energy-economy'],
  ['time', 'frequency'],
  ['resistance', 'conductance'],
];
