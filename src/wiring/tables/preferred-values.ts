/** Preferred values of resistors. IEC 60063: E24 as listed there; E96 is 10^(i/96) rounded to three figures. */
export const E24: readonly number[] = [
  1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2,
  9.1,
];
export const E96: readonly number[] = Array.from(
  { length: 96 },
  (_, index) => Math.round(10 ** (index / 96) * 100) / 100,
);
export const E6: readonly number[] = [1.0, 1.5, 2.2, 3.3, 4.7, 6.8];

export const PREFERRED_SOURCE = { source: 'IEC 60063, series E6, E24 and E96', provenance: 'from memory' } as const;
