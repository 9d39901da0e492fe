import type { Condition } from './document/common.ts';
import type { CrossloomMap } from './document/map.ts';

/** One build: a choice for every option axis. */
export type Combination = ReadonlyMap<string, string>;

/** Above this many combinations a map is refused: nobody could review them. */
export const MAX_COMBINATIONS = 4096;

/**
 * The builds a map stands for, as bit sets: bit i of a mask is combination i. Conditions become masks, so that a check
 * covers every combination in one pass.
 */
export interface OptionSpace {
  readonly combinations: readonly Combination[];
  /** Mask of all combinations that are possible. */
  readonly all: bigint;
  /** Combinations in which `when` holds; undefined means always. Unknown options or choices hold in none. */
  maskOf(when: Condition | undefined): bigint;
  /** A mask in words: `[]` when it is all of them, else the fewest `axis=choice & …` phrases found. */
  describe(mask: bigint): readonly string[];
}

/** Lays out the combinations of a map's option axes less those declared impossible. Throws RangeError above 4,096. */
export function optionSpace(map: Pick<CrossloomMap, 'options' | 'impossible'>): OptionSpace {
  const axes = map.options ?? [];
  const count = axes.reduce((product, axis) => product * axis.choices.length, 1);
  if (count > MAX_COMBINATIONS) {
    throw new RangeError(
      `the options make ${count} combinations; at most ${MAX_COMBINATIONS} can be checked: drop an axis or split the map`,
    );
  }
  let combinations: Map<string, string>[] = [new Map()];
  for (const axis of axes) {
    combinations = combinations.flatMap((partial) =>
      axis.choices.map((choice) => new Map(partial).set(axis.id, choice)),
    );
  }
  const impossible = map.impossible ?? [];
  const possible = combinations.filter((combination) => !impossible.some((when) => holds(when, combination)));
  const all = (1n << BigInt(possible.length)) - 1n;
  const masks = new Map<string, bigint>();
  const maskOf = (when: Condition | undefined): bigint => {
    if (when === undefined) return all;
    const key = JSON.stringify(when);
    const known = masks.get(key);
    if (known !== undefined) return known;
    let mask = 0n;
    possible.forEach((combination, index) => {
      if (holds(when, combination)) mask |= 1n << BigInt(index);
    });
    masks.set(key, mask);
    return mask;
  };
  return { combinations: possible, all, maskOf, describe: (mask) => describe(mask & all, possible, all, axes) };
}

/** Whether a condition holds in one build. */
export function holds(when: Condition, combination: Combination): boolean {
  return Object.entries(when).every(([axis, choices]) => {
    const choice = combination.get(axis);
    return choice !== undefined && choices.includes(choice);
  });
}

type Axes = NonNullable<CrossloomMap['options']>;

function describe(mask: bigint, possible: readonly Combination[], all: bigint, axes: Axes): readonly string[] {
  if (mask === all) return [];
  const one = singleAxisPhrase(mask, possible, axes);
  if (one) return [one];
  return possible
    .filter((_, index) => (mask >> BigInt(index)) & 1n)
    .map((combination) => [...combination].map(([axis, choice]) => `${axis}=${choice}`).join(' & '));
}

/** `axis=a|b` when the mask is just a set of choices of one axis. */
function singleAxisPhrase(mask: bigint, possible: readonly Combination[], axes: Axes): string | null {
  for (const axis of axes) {
    const chosen = new Set<string>();
    possible.forEach((combination, index) => {
      if ((mask >> BigInt(index)) & 1n) chosen.add(combination.get(axis.id)!);
    });
    let covered = 0n;
    possible.forEach((combination, index) => {
      if (chosen.has(combination.get(axis.id)!)) covered |= 1n << BigInt(index);
    });
    if (covered === mask) return `${axis.id}=${axis.choices.filter((choice) => chosen.has(choice)).join('|')}`;
  }
  return null;
}
