import { BEND, BUNDLE, COVERINGS } from '../tables/allowances.ts';

/**
 * Diameter in mm of a bundle of conductors with the given outside diameters in mm: 1.2·√(Σd²), but never under 1.25·√(Σd²) of
 * its ten largest, nor under the two largest side by side; so it never shrinks when one is added. One conductor: its own. 0 for none.
 */
export function bundleDiameterMm(outsideMm: readonly number[]): number {
  if (outsideMm.length <= 1) return outsideMm[0] ?? 0;
  const falling = [...outsideMm].sort((a, b) => b - a);
  const squares = (list: readonly number[]): number => list.reduce((sum, diameter) => sum + diameter ** 2, 0);
  return Math.max(
    BUNDLE.factor * Math.sqrt(squares(falling)),
    falling.length === 2 ? 0 : BUNDLE.fewFactor * Math.sqrt(squares(falling.slice(0, BUNDLE.few))),
    falling[0]! + falling[1]!,
  );
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
