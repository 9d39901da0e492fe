import { AC_43_TABLE_11_9, BUNDLE_FACTORS, CARRYING_SHARE, CFR_33_183_425 } from '../tables/ampacity.ts';
import { THIN_WALL, THIN_WALL_MAX_C } from '../tables/thin-wall.ts';
import { awgAreaMm2 } from './awg.ts';
import type { ConductorSize } from './size.ts';

/** Ambient temperature for which the tables hold, °C. */
export const REFERENCE_AMBIENT_C = CFR_33_183_425.ambientC;

/**
 * Factor on an ampacity for another ambient and another limit of the insulation: √((limit − ambient)/(limit − 30 °C)), since
 * heat goes with the square of the current and the rise with the heat. 0 at and above the limit. Reproduces the published
 * correction tables (NEC 310.15(B)(2)(a), 33 CFR 183.425 Table 5 note 1) to their last digit.
 */
export function ambientFactor(insulationC: number, ambientC: number): number {
  if (ambientC >= insulationC || insulationC <= REFERENCE_AMBIENT_C) return 0;
  return Math.sqrt((insulationC - ambientC) / (insulationC - REFERENCE_AMBIENT_C));
}

/** Factor for a number of current-carrying conductors together. `sheathed` is the stricter table. */
export function bundleFactor(carrying: number, table: 'sheathed' | 'conduit'): number {
  return BUNDLE_FACTORS[table].rows.findLast(({ from }) => carrying >= from)?.factor ?? 1;
}

/** Current in amperes of one conductor in free air at 30 °C, with the table it comes from. */
export interface BaseAmpacity {
  readonly ampere: number;
  readonly source: string;
  readonly how: 'table' | 'between rows' | 'beyond the table';
}

interface CurveRow {
  readonly areaMm2: number;
  readonly ampere: number;
}

const METRIC_ROWS: readonly CurveRow[] = THIN_WALL.flatMap(({ sizeMm2, freeAirA }) =>
  freeAirA === null ? [] : [{ areaMm2: sizeMm2, ampere: freeAirA }],
);
const METRIC_SOURCE = THIN_WALL.find(({ freeAirA }) => freeAirA !== null)!.source;
/** One curve a column of the table, that is a limit of the insulation. */
const GAUGE_ROWS: readonly (readonly CurveRow[])[] = CFR_33_183_425.insulationC.map((_, column) =>
  Object.entries(CFR_33_183_425.ampere)
    .map(([gauge, ampere]) => ({ areaMm2: awgAreaMm2(gauge), ampere: ampere[column]! }))
    .sort((a, b) => a.areaMm2 - b.areaMm2),
);

/** Metric sizes by the thin-wall data sheet, American gauges by 33 CFR 183.425 Table 5. */
export function baseAmpacity(size: ConductorSize, insulationC: number): BaseAmpacity {
  if (size.family === 'awg') return gaugeAmpacity(size, insulationC);
  const { ampere, how } = onCurve(METRIC_ROWS, size.areaMm2);
  // The table holds for 105 °C insulation; another limit allows another rise.
  const rise = Math.max(0, insulationC - REFERENCE_AMBIENT_C) / (THIN_WALL_MAX_C - REFERENCE_AMBIENT_C);
  return { ampere: ampere * Math.sqrt(rise), how, source: METRIC_SOURCE };
}

function gaugeAmpacity(size: ConductorSize, insulationC: number): BaseAmpacity {
  const column = CFR_33_183_425.insulationC.findLastIndex((limitC) => limitC <= insulationC);
  if (column < 0) return { ampere: 0, source: CFR_33_183_425.source, how: 'beyond the table' };
  return { ...onCurve(GAUGE_ROWS[column]!, size.areaMm2), source: CFR_33_183_425.source };
}

/**
 * Straight between rows in logarithms; below the first row with its current density, which errs low; above the last with
 * the slope of the last two.
 */
function onCurve(
  rows: readonly CurveRow[],
  areaMm2: number,
): { readonly ampere: number; readonly how: BaseAmpacity['how'] } {
  const exact = rows.find((row) => Math.abs(row.areaMm2 - areaMm2) < 1e-9);
  if (exact) return { ampere: exact.ampere, how: 'table' };
  const first = rows[0]!;
  if (areaMm2 < first.areaMm2) return { ampere: (first.ampere * areaMm2) / first.areaMm2, how: 'beyond the table' };
  const above = rows.findIndex((row) => row.areaMm2 > areaMm2);
  const [low, high] = above < 0 ? [rows.at(-2)!, rows.at(-1)!] : [rows[above - 1]!, rows[above]!];
  const slope = Math.log(high.ampere / low.ampere) / Math.log(high.areaMm2 / low.areaMm2);
  return {
    ampere: low.ampere * (areaMm2 / low.areaMm2) ** slope,
    how: above < 0 ? 'beyond the table' : 'between rows',
  };
}

/** Where a conductor lies: hottest ambient in °C, and how many conductors of its bundle carry current. */
export interface Surroundings {
  readonly ambientC: number;
  readonly insulationC: number;
  readonly carrying: number;
  readonly table?: 'sheathed' | 'conduit';
}

/** Ampacity with its two corrections, in amperes. */
export interface Ampacity {
  readonly ampere: number;
  readonly base: BaseAmpacity;
  readonly ambientFactor: number;
  readonly bundleFactor: number;
}

/** Current that a conductor may carry on and on where it lies. */
export function ampacity(size: ConductorSize, around: Surroundings): Ampacity {
  const base = baseAmpacity(size, around.insulationC);
  const ambient = ambientFactor(around.insulationC, around.ambientC);
  const bundle = bundleFactor(around.carrying, around.table ?? 'sheathed');
  return { ampere: base.ampere * ambient * bundle, base, ambientFactor: ambient, bundleFactor: bundle };
}

/** Current by the packed aircraft bundle of FAA AC 43.13-1B Table 11-9 (70 °C, 33 wires): a second opinion. Null off its rows. */
export function packedBundleAmpere(gauge: string, insulationC: 105 | 150 | 200): number | null {
  const row = AC_43_TABLE_11_9.rows.find(({ awg }) => awg === gauge);
  if (!row) return null;
  return insulationC === 105 ? row.a105C : insulationC === 150 ? row.a150C : row.a200C;
}

/** Whether a conductor's current heats its neighbours enough to count among the current-carrying. */
export function carriesCurrent(size: ConductorSize, currentA: number, insulationC: number): boolean {
  return currentA >= CARRYING_SHARE.share * baseAmpacity(size, insulationC).ampere;
}

/** Temperature in °C that a conductor settles at: the ambient, and a rise with the square of its load. */
export function conductorTemperatureC(size: ConductorSize, currentA: number, around: Surroundings): number {
  const freeA =
    baseAmpacity(size, around.insulationC).ampere * bundleFactor(around.carrying, around.table ?? 'sheathed');
  if (freeA <= 0) return around.ambientC;
  return around.ambientC + (around.insulationC - REFERENCE_AMBIENT_C) * (currentA / freeA) ** 2;
}
