/** Letter codes of conductor colours. IEC 60757 Table 1 (read in a national edition). Hex shades are ours, for drawings only. */
export const COLOUR_CODES: Readonly<Record<string, { readonly name: string; readonly hex: `#${string}` }>> = {
  BK: { name: 'black', hex: '#1a1a1a' },
  BN: { name: 'brown', hex: '#7a4a21' },
  RD: { name: 'red', hex: '#c62828' },
  OG: { name: 'orange', hex: '#ef7d00' },
  YE: { name: 'yellow', hex: '#f2c500' },
  GN: { name: 'green', hex: '#2e8b3d' },
  BU: { name: 'blue', hex: '#1f5fbf' },
  VT: { name: 'violet', hex: '#7b3fa0' },
  GY: { name: 'grey', hex: '#8a8f94' },
  WH: { name: 'white', hex: '#f4f4f4' },
  PK: { name: 'pink', hex: '#e58fae' },
  GD: { name: 'gold', hex: '#c7a13a' },
  TQ: { name: 'turquoise', hex: '#2bb3a9' },
  SR: { name: 'silver', hex: '#b9bec4' },
};

/** Base colours in the order they are given out, the plainest first; tracers likewise. */
export const COLOUR_ORDER = ['WH', 'BU', 'GN', 'YE', 'GY', 'VT', 'OG', 'BN', 'PK', 'RD', 'BK'] as const;

/** Colours that say what a conductor is. Common practice; no regulation fixes them for road vehicles. */
export const COLOUR_HABITS = {
  feed: 'RD',
  ground: 'BK',
  sensorReturn: 'BN',
  canHigh: 'YE',
  canLow: 'GN',
  drain: 'SR',
} as const;
