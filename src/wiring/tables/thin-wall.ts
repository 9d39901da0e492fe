import type { RowProvenance } from './sourced.ts';

/** A thin-wall single core in free air: current and greatest outside diameter. */
export interface ThinWallRow {
  readonly sizeMm2: number;
  /** Current of one wire in free air; null where only the diameter is known. */
  readonly freeAirA: number | null;
  readonly maxOutsideMm: number;
  readonly source: string;
  readonly provenance: RowProvenance;
}

const read = { source: 'thin-wall automotive cable data sheet, ISO 6722 class B, 105 °C', provenance: 'read' } as const;
const recalled = { source: 'thin-wall diameters of ISO 6722-1', provenance: 'from memory' } as const;

/** Insulation limit for which the currents of the table hold. */
export const THIN_WALL_MAX_C = 105;

export const THIN_WALL: readonly ThinWallRow[] = [
  { sizeMm2: 0.13, freeAirA: null, maxOutsideMm: 1.05, ...recalled },
  { sizeMm2: 0.22, freeAirA: null, maxOutsideMm: 1.2, ...recalled },
  { sizeMm2: 0.35, freeAirA: null, maxOutsideMm: 1.4, ...recalled },
  { sizeMm2: 0.5, freeAirA: 11, maxOutsideMm: 1.7, ...read },
  { sizeMm2: 0.75, freeAirA: 14, maxOutsideMm: 1.9, ...read },
  { sizeMm2: 1, freeAirA: 16.5, maxOutsideMm: 2.1, ...read },
  { sizeMm2: 1.5, freeAirA: 21, maxOutsideMm: 2.4, ...read },
  { sizeMm2: 2, freeAirA: 25, maxOutsideMm: 2.8, ...read },
  { sizeMm2: 2.5, freeAirA: 29, maxOutsideMm: 3, ...read },
  { sizeMm2: 3, freeAirA: 33, maxOutsideMm: 3.4, ...read },
  { sizeMm2: 4, freeAirA: 39, maxOutsideMm: 3.7, ...read },
  { sizeMm2: 4.5, freeAirA: 42, maxOutsideMm: 4.1, ...read },
  { sizeMm2: 6, freeAirA: 50, maxOutsideMm: 4.3, ...read },
  { sizeMm2: 8.5, freeAirA: 63, maxOutsideMm: 5.6, ...read },
  { sizeMm2: 10, freeAirA: 70, maxOutsideMm: 6, ...read },
  { sizeMm2: 16, freeAirA: null, maxOutsideMm: 7.9, ...recalled },
  { sizeMm2: 25, freeAirA: null, maxOutsideMm: 9.9, ...recalled },
];

/** Density of copper and of the insulation, in mg/mm³. */
export const DENSITY = {
  copper: 8.89,
  insulation: 1.4,
  source: 'copper 8.89 g/cm³ by IEC 60028; insulation of plasticised PVC about 1.4 g/cm³',
  provenance: 'from memory',
} as const;
