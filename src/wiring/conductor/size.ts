import { COPPER_RESISTIVITY, HARNESS_GAUGES, STRAND_ALLOWANCE } from '../tables/awg.ts';
import { ISO_6722_CONDUCTORS, UNLISTED_METRIC_FACTOR } from '../tables/iso6722.ts';
import type { RowProvenance } from '../tables/sourced.ts';
import { DENSITY, THIN_WALL } from '../tables/thin-wall.ts';
import { awgAreaMm2, awgNumber } from './awg.ts';

export type SizeFamily = 'metric' | 'awg';

/** A conductor size with what follows from it. */
export interface ConductorSize {
  /** With its unit: `0.5mm2`, `20AWG`. */
  readonly text: string;
  readonly family: SizeFamily;
  /** `0.5` or `20` or `2/0`: the figure without its unit. */
  readonly figure: string;
  /** Cross-section of the metal by name, in mm². */
  readonly areaMm2: number;
  /** Greatest resistance at 20 °C, in Ω/m. */
  readonly ohmPerM20C: number;
  readonly resistanceSource: string;
  readonly resistanceProvenance: RowProvenance;
  /** Outside diameter over thin-wall insulation, in mm. */
  readonly outsideMm: number;
  readonly outsideProvenance: RowProvenance;
  /** Weight of conductor and thin-wall insulation, in g/m. */
  readonly gramPerM: number;
}

const known = new Map<string, ConductorSize | null>();

/** The conductor a size text stands for (`0.5mm2`, `20AWG`, `2/0AWG`); null when it stands for none. */
export function conductorSize(text: string): ConductorSize | null {
  const cached = known.get(text);
  if (cached !== undefined) return cached;
  const found = read(text);
  if (known.size < 1000) known.set(text, found);
  return found;
}

function read(text: string): ConductorSize | null {
  const metric = /^(\d{1,4}(?:\.\d{1,4})?)mm2$/.exec(text);
  if (metric) return metricSize(text, metric[1]!);
  const gauge = /^(\d{1,2}|[1-4]\/0)AWG$/.exec(text);
  return gauge && awgNumber(gauge[1]!) !== null ? awgSize(text, gauge[1]!) : null;
}

function metricSize(text: string, figure: string): ConductorSize | null {
  const areaMm2 = Number(figure);
  if (!(areaMm2 > 0)) return null;
  const row = ISO_6722_CONDUCTORS.find(({ sizeMm2 }) => sizeMm2 === areaMm2);
  return complete({
    text,
    family: 'metric',
    figure,
    areaMm2,
    ohmPerM20C: row ? row.maxMilliohmPerM20C / 1000 : (COPPER_RESISTIVITY / areaMm2) * UNLISTED_METRIC_FACTOR.factor,
    resistanceSource: row?.source ?? UNLISTED_METRIC_FACTOR.source,
    resistanceProvenance: row?.provenance ?? UNLISTED_METRIC_FACTOR.provenance,
  });
}

function awgSize(text: string, figure: string): ConductorSize {
  const areaMm2 = awgAreaMm2(figure);
  return complete({
    text,
    family: 'awg',
    figure,
    areaMm2,
    ohmPerM20C: (COPPER_RESISTIVITY / areaMm2) * STRAND_ALLOWANCE.factor,
    resistanceSource: `ASTM B258 with ${STRAND_ALLOWANCE.factor} for strands`,
    resistanceProvenance: 'computed',
  });
}

type Bare = Omit<ConductorSize, 'outsideMm' | 'outsideProvenance' | 'gramPerM'>;

function complete(bare: Bare): ConductorSize {
  const { outsideMm, provenance } = outside(bare.areaMm2);
  const insulationMm2 = Math.max(0, (Math.PI / 4) * outsideMm ** 2 - bare.areaMm2);
  return {
    ...bare,
    outsideMm,
    outsideProvenance: provenance,
    gramPerM: bare.areaMm2 * DENSITY.copper + insulationMm2 * DENSITY.insulation,
  };
}

/** Between two rows in proportion to the conductor's diameter; beyond the table with the wall of its last row. */
function outside(areaMm2: number): { readonly outsideMm: number; readonly provenance: RowProvenance } {
  const exact = THIN_WALL.find(({ sizeMm2 }) => sizeMm2 === areaMm2);
  if (exact) return { outsideMm: exact.maxOutsideMm, provenance: exact.provenance };
  const above = THIN_WALL.findIndex(({ sizeMm2 }) => sizeMm2 > areaMm2);
  const root = Math.sqrt(areaMm2);
  if (above <= 0) {
    const edge = above === 0 ? THIN_WALL[0]! : THIN_WALL.at(-1)!;
    const wallMm = edge.maxOutsideMm - 2 * Math.sqrt(edge.sizeMm2 / Math.PI);
    return { outsideMm: wallMm + 2 * Math.sqrt(areaMm2 / Math.PI), provenance: 'computed' };
  }
  const [low, high] = [THIN_WALL[above - 1]!, THIN_WALL[above]!];
  const share = (root - Math.sqrt(low.sizeMm2)) / (Math.sqrt(high.sizeMm2) - Math.sqrt(low.sizeMm2));
  return { outsideMm: low.maxOutsideMm + share * (high.maxOutsideMm - low.maxOutsideMm), provenance: 'computed' };
}

/** Sizes a harness is offered in, thinnest first, from a given cross-section up. */
export function harnessSizes(family: SizeFamily): readonly ConductorSize[] {
  const texts =
    family === 'awg'
      ? HARNESS_GAUGES.map((gauge) => `${gauge}AWG`)
      : ISO_6722_CONDUCTORS.map(({ sizeMm2 }) => `${sizeMm2}mm2`);
  return texts.map((text) => conductorSize(text)!);
}
