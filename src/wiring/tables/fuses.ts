import type { RowProvenance } from './sourced.ts';

/** A fuse rating with the colour that checks it; the marked number governs. */
export interface FuseRating {
  readonly ratingA: number;
  readonly form: 'blade' | 'large';
  readonly colour: string | null;
  readonly source: string;
  readonly provenance: RowProvenance;
}

const blade = 'ISO 8820-3 colour code, as reproduced in public fuse references';
const large = 'ISO 8820-4 and 8820-5 ratings; colours differ by form';

export const FUSE_RATINGS: readonly FuseRating[] = [
  { ratingA: 1, form: 'blade', colour: 'black', source: blade, provenance: 'read' },
  { ratingA: 2, form: 'blade', colour: 'grey', source: blade, provenance: 'read' },
  { ratingA: 3, form: 'blade', colour: 'violet', source: blade, provenance: 'read' },
  { ratingA: 4, form: 'blade', colour: 'pink', source: blade, provenance: 'from memory' },
  { ratingA: 5, form: 'blade', colour: 'tan (beige)', source: blade, provenance: 'from memory' },
  { ratingA: 7.5, form: 'blade', colour: 'brown', source: blade, provenance: 'read' },
  { ratingA: 10, form: 'blade', colour: 'red', source: blade, provenance: 'read' },
  { ratingA: 15, form: 'blade', colour: 'blue', source: blade, provenance: 'read' },
  { ratingA: 20, form: 'blade', colour: 'yellow', source: blade, provenance: 'read' },
  { ratingA: 25, form: 'blade', colour: 'clear / natural', source: blade, provenance: 'from memory' },
  { ratingA: 30, form: 'blade', colour: 'green', source: blade, provenance: 'read' },
  { ratingA: 35, form: 'blade', colour: 'blue-green', source: blade, provenance: 'from memory' },
  { ratingA: 40, form: 'blade', colour: 'orange (amber)', source: blade, provenance: 'from memory' },
  { ratingA: 50, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 60, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 70, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 80, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 100, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 125, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 150, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 175, form: 'large', colour: null, source: large, provenance: 'from memory' },
  { ratingA: 200, form: 'large', colour: null, source: large, provenance: 'from memory' },
];

/** Operating time of a blade fuse at a multiple of its rating: at least and at most, in seconds; null is without limit. */
export const FUSE_TIME_GATES: readonly {
  readonly percent: number;
  readonly minS: number;
  readonly maxS: number | null;
}[] = [
  { percent: 110, minS: 360000, maxS: null },
  { percent: 135, minS: 0.75, maxS: 1800 },
  { percent: 160, minS: 0.25, maxS: 50 },
  { percent: 200, minS: 0.15, maxS: 5 },
  { percent: 350, minS: 0.04, maxS: 0.5 },
  { percent: 600, minS: 0.02, maxS: 0.1 },
];
export const FUSE_TIME_SOURCE = { source: 'ISO 8820-3 operating time gates', provenance: 'from memory' } as const;

/** Shares of the rating. */
export const FUSE_RULES = {
  continuousShare: 0.8,
  continuousSource: 'fuse application guides: a continuous load is at most 75 to 80 % of the rating at 25 °C',
  /** Legal ceiling for boats below 50 V; a target of 100 % is held here. */
  ceilingOfAmpacity: 1.5,
  ceilingSource: '33 CFR 183.455(c)(1)',
  /** Per °C above 25 °C; blade fuses. */
  reratePerC: 0.0015,
  rerateSource: 'fuse application guides, 0.10 to 0.15 % a °C; common practice',
  /** Longest unprotected length from the source, bare and sheathed. */
  unfusedM: 0.178,
  unfusedSheathedM: 1.016,
  unfusedSource: '33 CFR 183.455(b): 7 in, or 40 in when sheathed the whole way',
} as const;
