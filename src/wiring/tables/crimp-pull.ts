/** Least force that pulls a crimped conductor out. Terminal maker specification of UL 486A class, commercial column (read); thickest first. */
export const CRIMP_PULL = {
  source: 'UL 486A class, in a terminal maker specification',
  provenance: 'read',
  rows: [
    { awg: '10', newton: 356.0 },
    { awg: '12', newton: 311.5 },
    { awg: '14', newton: 222.5 },
    { awg: '16', newton: 133.5 },
    { awg: '18', newton: 89.0 },
    { awg: '20', newton: 57.9 },
    { awg: '22', newton: 35.6 },
    { awg: '24', newton: 22.3 },
    { awg: '26', newton: 13.4 },
  ],
} as const;
