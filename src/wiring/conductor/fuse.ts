import { FUSE_RATINGS, FUSE_RULES, FUSE_TIME_GATES } from '../tables/fuses.ts';

/** Smallest rating that holds a continuous load, and whether the conductor after it bears that rating. */
export interface FuseChoice {
  /** Null when the series ends below what is needed. */
  readonly ratingA: number | null;
  readonly colour: string | null;
  /** Rating that the load alone asks for, before rounding up: load over the continuous share. */
  readonly neededA: number;
  /** The thinnest conductor after the fuse bears the rating. False also when it is not known. */
  readonly protectsConductor: boolean;
  readonly thinnestA: number | null;
}

/** Factor on a blade fuse's rating in a warm place; 1 at and below 25 °C, 0.91 at 85 °C. */
export function fuseAmbientFactor(ambientC: number): number {
  return 1 - FUSE_RULES.reratePerC * Math.max(0, ambientC - 25);
}

/**
 * Chooses a fuse for a continuous load: the smallest rating of the series of which the load is at most 80 %, in a place of
 * the given temperature; and says whether it still protects the thinnest conductor after it.
 */
export function chooseFuse(
  loadA: number,
  thinnestA: number | null,
  ambientC = 25,
  series: readonly number[] = FUSE_RATINGS.map(({ ratingA }) => ratingA),
): FuseChoice {
  const neededA = loadA / FUSE_RULES.continuousShare / fuseAmbientFactor(ambientC);
  const ratingA = series.find((rating) => rating >= neededA - 1e-9) ?? null;
  return {
    ratingA,
    colour: fuseColour(ratingA),
    neededA,
    thinnestA,
    protectsConductor: ratingA !== null && thinnestA !== null && ratingA <= thinnestA + 1e-9,
  };
}

/** Colour that marks a blade fuse; null for other forms and ratings. */
export function fuseColour(ratingA: number | null): string | null {
  return FUSE_RATINGS.find((row) => row.ratingA === ratingA)?.colour ?? null;
}

/** Whether a rating is one that is made. */
export function isFuseRating(ratingA: number): boolean {
  return FUSE_RATINGS.some((row) => row.ratingA === ratingA);
}

/** Largest fuse that a conductor of this ampacity bears; null when the smallest made is too large. */
export function largestFuseA(ampacityA: number): number | null {
  return FUSE_RATINGS.findLast(({ ratingA }) => ratingA <= ampacityA + 1e-9)?.ratingA ?? null;
}

/**
 * How many times larger an upstream blade fuse must be so that the downstream one has always opened before the upstream one
 * can, by their time gates. At each gate of the downstream fuse the upstream one must still be at a multiple of its rating
 * whose least operating time is longer.
 */
export function selectiveRatio(): number {
  let ratio = 1;
  for (const { percent, maxS } of FUSE_TIME_GATES) {
    if (maxS === null) continue;
    const held = FUSE_TIME_GATES.filter(({ minS }) => minS > maxS).map((gate) => gate.percent);
    if (held.length === 0) continue;
    ratio = Math.max(ratio, percent / Math.max(...held));
  }
  return ratio;
}
