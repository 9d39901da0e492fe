import { BEND, BUNDLE, COVERINGS } from '../tables/allowances.ts';

/**
 * Diameter in mm of a bundle of conductors with the given outside diameters in mm. Up to seven: the packing of equal circles on
 * the root mean square diameter; from eight: 1.2·√(Σd²). Never under the two largest side by side. 0 for none.
 */
export function bundleDiameterMm(outsideMm: readonly number[]): number {
  const count = outsideMm.length;
  if (count === 0) return 0;
  const squares = outsideMm.reduce((sum, diameter) => sum + diameter ** 2, 0);
  let largest = 0;
  let second = 0;
  for (const diameter of outsideMm) {
    if (diameter > largest) [second, largest] = [largest, diameter];
    else if (diameter > second) second = diameter;
  }
  const few = BUNDLE.fewEqual[count];
  const packed = few === undefined ? BUNDLE.factor * Math.sqrt(squares) : few * Math.sqrt(squares / count);
  return Math.max(packed, largest + second);
}

/** Diameter over the covering, in mm; coverings are known by a word in their name, others add nothing. */
export function coveredDiameterMm(bundleMm: number, covering: string | undefined): number {
  if (bundleMm === 0 || covering === undefined) return bundleMm;
  const word = covering.toLowerCase();
  const row = COVERINGS.find((one) => word.includes(one.word));
  return row ? bundleMm * row.widerBy + row.addsMm : bundleMm;
}

/** Least bend radius in mm: ten times the outside diameter of the largest conductor. */
export function bendRadiusMm(outsideMm: readonly number[]): number {
  return BEND.timesLargest * outsideMm.reduce((largest, diameter) => Math.max(largest, diameter), 0);
}

/** How much longer a conductor is than its pair, twisted at a pitch: the helix √(1 + (πd/p)²) around a circle of one diameter. */
export function twistFactor(outsideMm: number, pitchMm: number): number {
  return Math.sqrt(1 + ((Math.PI * outsideMm) / pitchMm) ** 2);
}
