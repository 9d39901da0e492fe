/**
 * Allowable amperage of stranded copper by limit of the insulation, 30 °C ambient.
 * 33 CFR 183.425 Table 5 (read).
 */
export const CFR_33_183_425 = {
  ambientC: 30,
  insulationC: [60, 75, 80, 90, 105, 125, 200],
  ampere: {
    '18': [10, 10, 15, 20, 20, 25, 25],
    '16': [15, 15, 20, 25, 25, 30, 35],
    '14': [20, 20, 25, 30, 35, 40, 45],
    '12': [25, 25, 35, 40, 45, 50, 55],
    '10': [40, 40, 50, 55, 60, 70, 70],
    '8': [55, 65, 70, 70, 80, 90, 100],
    '6': [80, 95, 100, 100, 120, 125, 135],
    '4': [105, 125, 130, 135, 160, 170, 180],
    '3': [120, 145, 150, 155, 180, 195, 210],
    '2': [140, 170, 175, 180, 210, 225, 240],
    '1': [165, 195, 210, 210, 245, 265, 280],
    '1/0': [195, 230, 245, 245, 285, 305, 325],
    '2/0': [225, 265, 285, 285, 330, 355, 370],
    '3/0': [260, 310, 330, 330, 385, 410, 430],
    '4/0': [300, 360, 385, 385, 445, 475, 510],
  },
  source: '33 CFR 183.425 Table 5',
  provenance: 'read',
} as const;

/**
 * Continuous current in a packed bundle: 70 °C ambient, 33 or more wires of size 24 to 10, or 9 of size 8 and larger,
 * loaded to 20 %, 60,000 ft; and greatest resistance of tin-plated wire. FAA AC 43.13-1B CHG 1 Table 11-9 (read).
 */
export const AC_43_TABLE_11_9: {
  readonly source: string;
  readonly provenance: 'read';
  readonly rows: readonly {
    readonly awg: string;
    readonly a105C: number;
    readonly a150C: number;
    readonly a200C: number;
    readonly maxOhmPerKft: number;
    readonly circularMil: number;
  }[];
} = {
  source: 'FAA AC 43.13-1B CHG 1 Table 11-9',
  provenance: 'read',
  rows: [
    { awg: '24', a105C: 2.5, a150C: 4, a200C: 5, maxOhmPerKft: 28.4, circularMil: 475 },
    { awg: '22', a105C: 3, a150C: 5, a200C: 6, maxOhmPerKft: 16.2, circularMil: 755 },
    { awg: '20', a105C: 4, a150C: 7, a200C: 9, maxOhmPerKft: 9.88, circularMil: 1216 },
    { awg: '18', a105C: 6, a150C: 9, a200C: 12, maxOhmPerKft: 6.23, circularMil: 1900 },
    { awg: '16', a105C: 7, a150C: 11, a200C: 14, maxOhmPerKft: 4.81, circularMil: 2426 },
    { awg: '14', a105C: 10, a150C: 14, a200C: 18, maxOhmPerKft: 3.06, circularMil: 3831 },
    { awg: '12', a105C: 13, a150C: 19, a200C: 25, maxOhmPerKft: 2.02, circularMil: 5874 },
    { awg: '10', a105C: 17, a150C: 26, a200C: 32, maxOhmPerKft: 1.26, circularMil: 9354 },
    { awg: '8', a105C: 38, a150C: 57, a200C: 71, maxOhmPerKft: 0.7, circularMil: 16983 },
    { awg: '6', a105C: 50, a150C: 76, a200C: 97, maxOhmPerKft: 0.44, circularMil: 26818 },
    { awg: '4', a105C: 68, a150C: 103, a200C: 133, maxOhmPerKft: 0.28, circularMil: 42615 },
    { awg: '2', a105C: 95, a150C: 141, a200C: 179, maxOhmPerKft: 0.18, circularMil: 66500 },
    { awg: '1', a105C: 113, a150C: 166, a200C: 210, maxOhmPerKft: 0.15, circularMil: 81700 },
    { awg: '1/0', a105C: 128, a150C: 192, a200C: 243, maxOhmPerKft: 0.12, circularMil: 104500 },
    { awg: '2/0', a105C: 147, a150C: 222, a200C: 285, maxOhmPerKft: 0.09, circularMil: 133000 },
    { awg: '3/0', a105C: 172, a150C: 262, a200C: 335, maxOhmPerKft: 0.07, circularMil: 166500 },
    { awg: '4/0', a105C: 204, a150C: 310, a200C: 395, maxOhmPerKft: 0.06, circularMil: 210900 },
  ],
};

/** Factor on the ampacity of each of several current-carrying conductors sheathed or bundled together. */
export const BUNDLE_FACTORS: Readonly<
  Record<
    'sheathed' | 'conduit',
    {
      readonly source: string;
      readonly provenance: 'from memory' | 'read';
      readonly rows: readonly { readonly from: number; readonly factor: number }[];
    }
  >
> = {
  sheathed: {
    source: '33 CFR 183.425 Table 5 note 2',
    provenance: 'from memory',
    rows: [
      { from: 1, factor: 1 },
      { from: 3, factor: 0.7 },
      { from: 4, factor: 0.6 },
      { from: 7, factor: 0.5 },
      { from: 25, factor: 0.4 },
    ],
  },
  conduit: {
    source: 'NEC 310.15(B)(3)(a), as reproduced in a building guide',
    provenance: 'read',
    rows: [
      { from: 1, factor: 1 },
      { from: 4, factor: 0.8 },
      { from: 7, factor: 0.7 },
      { from: 10, factor: 0.5 },
      { from: 21, factor: 0.45 },
      { from: 31, factor: 0.4 },
      { from: 41, factor: 0.35 },
    ],
  },
};

/** A conductor counts as carrying current in a bundle from this share of its own free-air current: heat goes with the square. */
export const CARRYING_SHARE = {
  share: 0.2,
  source: 'at a fifth of its current a conductor gives a twenty-fifth of its heat',
  provenance: 'common practice',
} as const;
