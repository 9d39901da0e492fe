import type { RowProvenance } from './sourced.ts';

/** Longest bus and longest stub by bit rate, in bit/s and metres. */
export interface CanLengthRow {
  readonly bitRate: number;
  readonly busM: number;
  readonly stubM: number;
  readonly source: string;
  readonly provenance: RowProvenance;
  readonly stubSource: string;
}

const lengths =
  'engine-controller and application notes: 1 Mbit/s 25 to 40 m, 500 kbit/s 100 m, 250 kbit/s 250 m, 125 kbit/s 500 m';

/** The shorter figure is taken where the source gives a span. */
export const CAN_LENGTHS: readonly CanLengthRow[] = [
  {
    bitRate: 1_000_000,
    busM: 25,
    stubM: 0.3,
    source: lengths,
    provenance: 'read',
    stubSource: 'ISO 11898-2, at most 0.3 m, as transceiver data sheets give it',
  },
  {
    bitRate: 500_000,
    busM: 100,
    stubM: 1.7,
    source: lengths,
    provenance: 'read',
    stubSource: 'vehicle-network figure at 500 kbit/s, from memory',
  },
  {
    bitRate: 250_000,
    busM: 250,
    stubM: 1,
    source: lengths,
    provenance: 'read',
    stubSource: 'SAE J1939-11, at most 1 m at 250 kbit/s, as engine makers’ installation manuals give it',
  },
  {
    bitRate: 125_000,
    busM: 500,
    stubM: 1.7,
    source: lengths,
    provenance: 'read',
    stubSource: 'the 500 kbit/s figure is kept, from memory',
  },
];

export const CAN_TERMINATION = {
  eachOhm: 120,
  /** One resistor, ISO 11898-2 as an equipment manual gives its table. */
  eachMinOhm: 100,
  eachMaxOhm: 130,
  count: 2,
  pairOhm: 60,
  /** What a meter may read across the pair with power off: 60 Ω ± 10 %, common practice. */
  pairMinOhm: 54,
  pairMaxOhm: 66,
  source: 'ISO 11898-2: 120 Ω at each end, 60 Ω across the pair with power off',
  provenance: 'read',
} as const;

export const CAN_TWIST = {
  pitchMm: 25,
  minPerM: 33,
  maxPerM: 50,
  untwistedMaxMm: 50,
  source: 'SAE J1939-15 and J2284 practice: 33 to 50 twists a metre, ends untwisted for at most 25 to 50 mm',
  provenance: 'from memory',
} as const;
