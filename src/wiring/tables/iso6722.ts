import type { RowProvenance } from './sourced.ts';

/** A metric conductor: nominal cross-section, greatest resistance at 20 °C of bare copper. */
export interface MetricConductorRow {
  readonly sizeMm2: number;
  readonly maxMilliohmPerM20C: number;
  readonly source: string;
  readonly provenance: RowProvenance;
}

const source = 'ISO 6722-1:2011, conductor table, bare copper';

/**
 * Recalled; each is 1.03 to 1.14 times ideal copper of its size, and 4 to 5 % below IEC 60228 class 5 where that has the
 * size. 5 mm² stands out at 1.14: verify it.
 */
export const ISO_6722_CONDUCTORS: readonly MetricConductorRow[] = [
  { sizeMm2: 0.13, maxMilliohmPerM20C: 136, source, provenance: 'from memory' },
  { sizeMm2: 0.22, maxMilliohmPerM20C: 84.8, source, provenance: 'from memory' },
  { sizeMm2: 0.35, maxMilliohmPerM20C: 54.4, source, provenance: 'from memory' },
  { sizeMm2: 0.5, maxMilliohmPerM20C: 37.1, source, provenance: 'from memory' },
  { sizeMm2: 0.75, maxMilliohmPerM20C: 24.7, source, provenance: 'from memory' },
  { sizeMm2: 1, maxMilliohmPerM20C: 18.5, source, provenance: 'from memory' },
  { sizeMm2: 1.25, maxMilliohmPerM20C: 14.9, source, provenance: 'from memory' },
  { sizeMm2: 1.5, maxMilliohmPerM20C: 12.7, source, provenance: 'from memory' },
  { sizeMm2: 2, maxMilliohmPerM20C: 9.42, source, provenance: 'from memory' },
  { sizeMm2: 2.5, maxMilliohmPerM20C: 7.6, source, provenance: 'from memory' },
  { sizeMm2: 3, maxMilliohmPerM20C: 6.15, source, provenance: 'from memory' },
  { sizeMm2: 4, maxMilliohmPerM20C: 4.71, source, provenance: 'from memory' },
  { sizeMm2: 5, maxMilliohmPerM20C: 3.94, source, provenance: 'from memory' },
  { sizeMm2: 6, maxMilliohmPerM20C: 3.14, source, provenance: 'from memory' },
  { sizeMm2: 8, maxMilliohmPerM20C: 2.38, source, provenance: 'from memory' },
  { sizeMm2: 10, maxMilliohmPerM20C: 1.82, source, provenance: 'from memory' },
  { sizeMm2: 12, maxMilliohmPerM20C: 1.52, source, provenance: 'from memory' },
  { sizeMm2: 16, maxMilliohmPerM20C: 1.16, source, provenance: 'from memory' },
  { sizeMm2: 20, maxMilliohmPerM20C: 0.955, source, provenance: 'from memory' },
  { sizeMm2: 25, maxMilliohmPerM20C: 0.743, source, provenance: 'from memory' },
];

/** For a metric size the table lacks: ideal copper times this, the most the table shows but for its one doubtful row. */
export const UNLISTED_METRIC_FACTOR = {
  factor: 1.11,
  source: 'greatest ratio to ideal copper among the ISO 6722-1 rows, its doubtful 5 mm² row left aside',
  provenance: 'computed',
} as const;

/** Temperature classes by their upper limit. */
export const TEMPERATURE_CLASSES: readonly {
  readonly letter: string;
  readonly maxC: number;
  readonly source: string;
  readonly provenance: RowProvenance;
}[] = [
  { letter: 'A', maxC: 85, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
  { letter: 'B', maxC: 100, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
  { letter: 'C', maxC: 125, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
  { letter: 'D', maxC: 150, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
  { letter: 'E', maxC: 175, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
  { letter: 'F', maxC: 200, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
  { letter: 'G', maxC: 225, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
  { letter: 'H', maxC: 250, source: 'ISO 6722-1 temperature classes', provenance: 'from memory' },
];
