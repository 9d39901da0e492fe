import type { Sourced } from './sourced.ts';

/** Allowances and habits of harness building. Lengths in the unit of their name. */
export const SERVICE = {
  /** Both ends of a conductor together, where the map gives none. */
  defaultM: 0.15,
  roundUpToMm: 5,
  source:
    'slack for two re-terminations at each end (FAA AC 43.13-1B CHG 1 para 11-118 asks for it without a figure); 75 mm an end',
  provenance: 'common practice',
} as const satisfies Sourced & Record<string, unknown>;

/** Tolerance of a cut length: the figure, or the share of the length, whichever is more. */
export const CUT_TOLERANCE = {
  leastMm: 5,
  share: 0.01,
  source: 'harness shop practice',
  provenance: 'common practice',
} as const satisfies Sourced & Record<string, unknown>;

/** Thinnest conductor that stands handling: any, and one whose opening is a hazard. In mm². */
export const MECHANICAL_MINIMUM = {
  anyMm2: 0.35,
  interlockMm2: 0.5,
  source:
    'thinner conductors break at crimps and clamps; 0.35 mm² for signals, 0.5 mm² where an open circuit is a hazard',
  provenance: 'common practice',
} as const satisfies Sourced & Record<string, unknown>;

/** Ambient taken where no segment on the way states one, °C. */
export const ASSUMED_AMBIENT_C = 85;

/** An insulation is chosen with at least this much above the ambient, °C: room for the conductor's own heat. */
export const INSULATION_MARGIN_C = 20;

export const INSULATIONS: readonly { readonly name: string; readonly maxC: number; readonly source: string }[] = [
  { name: 'thin-wall PVC, ISO 6722-1 class B', maxC: 105, source: 'thin-wall cable data sheet' },
  {
    name: 'thin-wall cross-linked, ISO 6722-1 class C',
    maxC: 125,
    source: 'ISO 6722-1 temperature classes, from memory',
  },
  {
    name: 'thin-wall cross-linked, ISO 6722-1 class D',
    maxC: 150,
    source: 'ISO 6722-1 temperature classes, from memory',
  },
  { name: 'fluoropolymer, ISO 6722-1 class E', maxC: 175, source: 'ISO 6722-1 temperature classes, from memory' },
  { name: 'fluoropolymer, ISO 6722-1 class F', maxC: 200, source: 'ISO 6722-1 temperature classes, from memory' },
];

/** Diameter of a bundle against the root of the summed squares of its conductors. */
export const BUNDLE = {
  factor: 1.2,
  /** Few conductors pack worse: three to ten equal ones need up to 1.244 (best packing of circles in a circle). */
  fewFactor: 1.25,
  few: 10,
  source:
    'D = 1.2·√(Σd²), a figure of public harness guides; 1.25 for up to ten, never under the best packing of equal circles',
  provenance: 'read',
} as const satisfies Sourced & Record<string, unknown>;

/** What a covering adds to the diameter of a bundle, and how much wider than the bundle a tube is taken. */
export const COVERINGS: readonly { readonly word: string; readonly addsMm: number; readonly widerBy: number }[] = [
  { word: 'tape', addsMm: 0.6, widerBy: 1 },
  { word: 'braid', addsMm: 1, widerBy: 1.05 },
  { word: 'sleeve', addsMm: 1.5, widerBy: 1.1 },
  { word: 'heat', addsMm: 2, widerBy: 1.1 },
  { word: 'convoluted', addsMm: 3, widerBy: 1.25 },
  { word: 'conduit', addsMm: 3, widerBy: 1.25 },
  { word: 'tube', addsMm: 3, widerBy: 1.25 },
];
export const COVERING_SOURCE = {
  source: 'FAA AC 43.13-1B para 11-249: inside of a conduit about 25 % wider than the bundle (read); walls by practice',
  provenance: 'common practice',
} as const;

/** Least bend radius against the outside diameter of the largest conductor of a bundle. */
export const BEND = {
  timesLargest: 10,
  source: 'FAA AC 43.13-1B: bends of wire bundles not under ten times the outside diameter of the largest wire',
  provenance: 'from memory',
} as const satisfies Sourced & Record<string, unknown>;

/** Splices keep clear of branches and connectors, and hold so many conductors. */
export const SPLICE_HABITS = {
  clearMm: 50,
  maxWires: 5,
  /** Thickest against thinnest conductor: beyond it one barrel does not crimp both. */
  maxAreaRatio: 5,
  method: 'crimp barrel or ultrasonic weld',
  sealing: 'adhesive-lined shrink sleeve',
  source: 'harness shop practice',
  provenance: 'common practice',
} as const satisfies Sourced & Record<string, unknown>;

/** Insulation stripped for a crimp, by cross-section up to and including, in mm. The terminal's own sheet governs. */
export const STRIP_MM: readonly { readonly upToMm2: number; readonly stripMm: number }[] = [
  { upToMm2: 0.5, stripMm: 4 },
  { upToMm2: 1, stripMm: 4.5 },
  { upToMm2: 2.5, stripMm: 5.5 },
  { upToMm2: 6, stripMm: 7 },
  { upToMm2: Infinity, stripMm: 12 },
];

export const LABEL = {
  fromFaceMm: 50,
  material: 'printed heat-shrink sleeve',
  source: 'harness shop practice',
  provenance: 'common practice',
} as const;

/** What is bought beyond what is cut, in percent. */
export const SPARE_PERCENT = 10;

/** Limits of the test sheet. */
export const TEST_LIMITS = {
  continuityMarginOhm: 0.02,
  continuitySource: 'computed resistance and 20 mΩ for contacts; IPC/WHMA-A-620 continuity concept, from memory',
  isolationOhm: 1_000_000,
  isolationSource: 'common practice: open, over 1 MΩ at low voltage',
  canToSupplyOhm: 10_000,
  canToSupplySource: 'common practice',
  fourWireAboveMm2: 4,
} as const;
