import type { Pairing } from '../../model/index.ts';

/** The builds that a document is for, and how it tells them apart. */
export interface BuildScope {
  /** The combinations covered, as the pairing numbers them. */
  readonly mask: bigint;
  readonly count: number;
  /** The builds covered, in words: `all 4 builds`, `drivetrain=4wd`. */
  readonly title: string;
  /** Whether rows can differ by build at all: more than one is covered. */
  readonly several: boolean;
  /** Whether anything that holds in `mask` is in one of the builds covered. */
  holds(mask: bigint): boolean;
  /** In which of the builds covered: `all`, or `drivetrain=4wd & year=2021`. */
  words(mask: bigint): string;
}

/** A choice of builds which the map does not have. */
export class UnknownBuildError extends Error {
  override readonly name = 'UnknownBuildError';
}

/**
 * The builds that fit the given choices; every build when there are none.
 * @throws UnknownBuildError for an option or choice the map does not have, and for choices that exclude one another.
 */
export function buildScope(pairing: Pairing, build: Readonly<Record<string, string>> | undefined): BuildScope {
  const { options, map } = pairing;
  const axes = map.options ?? [];
  let mask = options.all;
  for (const [axis, choice] of Object.entries(build ?? {})) {
    const known = axes.find(({ id }) => id === axis);
    if (!known)
      throw new UnknownBuildError(
        `there is no option "${axis}"; ${listOf(
          'option',
          axes.map(({ id }) => id),
        )}`,
      );
    if (!known.choices.includes(choice))
      throw new UnknownBuildError(`the option ${axis} has no choice "${choice}"; ${listOf('choice', known.choices)}`);
    mask &= options.maskOf({ [axis]: [choice] });
  }
  if (mask === 0n && options.all !== 0n) throw new UnknownBuildError('the map declares this combination impossible');
  const count = bitCount(mask);
  const words = (part: bigint): string => ((part & mask) === mask ? 'all' : phrase(pairing, part & mask, mask));
  return {
    mask,
    count,
    title:
      mask !== options.all
        ? phrase(pairing, mask, options.all)
        : count === 1
          ? 'the only build'
          : `all ${count} builds`,
    several: count > 1,
    holds: (part) => (part & mask) !== 0n || options.all === 0n,
    words,
  };
}

function listOf(what: string, ids: readonly string[]): string {
  return ids.length === 0 ? `the map has no ${what}` : `the ${what}s are ${ids.slice(0, 20).join(', ')}`;
}

function bitCount(mask: bigint): number {
  let count = 0;
  for (let rest = mask; rest !== 0n; rest &= rest - 1n) count += 1;
  return count;
}

/** More phrases than this say nothing to anybody. */
const MOST_PHRASES = 6;

/** `axis=a|b & other=c`, several joined by `or`, for the builds of `part` among those of `within`. */
function phrase(pairing: Pairing, part: bigint, within: bigint): string {
  if (part === 0n) return 'none';
  const phrases = cover(pairing, part, within);
  if (phrases.length > MOST_PHRASES) return `${bitCount(part)} of ${bitCount(within)} builds`;
  return phrases.join(' or ');
}

function cover(pairing: Pairing, part: bigint, within: bigint): readonly string[] {
  const axes = pairing.map.options ?? [];
  const masks = axes.map((axis) =>
    axis.choices.map((choice) => ({ choice, mask: pairing.options.maskOf({ [axis.id]: [choice] }) })),
  );
  const product = productPhrase(axes, masks, part, within);
  if (product !== null) return [product];
  // Split at the axis whose choices part the builds least unevenly into ones that can be said.
  for (const [at, choices] of masks.entries()) {
    const touched = choices.filter(({ mask }) => (mask & part) !== 0n);
    if (touched.length < 2 || choices.filter(({ mask }) => (mask & within) !== 0n).length < 2) continue;
    const phrases = touched.map(({ choice, mask }) => {
      const inner = productPhrase(axes, masks, part & mask, within & mask);
      return inner === null
        ? null
        : inner === ''
          ? `${axes[at]!.id}=${choice}`
          : `${axes[at]!.id}=${choice} & ${inner}`;
    });
    if (phrases.every((said) => said !== null)) return phrases;
  }
  return pairing.options.describe(part);
}

type Axes = NonNullable<Pairing['map']['options']>;
type AxisMasks = readonly (readonly { readonly choice: string; readonly mask: bigint }[])[];

/** The builds as one product of choices; null when they are none. Empty when they are all of `within`. */
function productPhrase(axes: Axes, masks: AxisMasks, part: bigint, within: bigint): string | null {
  let product = within;
  const said: string[] = [];
  for (const [at, choices] of masks.entries()) {
    const possible = choices.filter(({ mask }) => (mask & within) !== 0n);
    const chosen = possible.filter(({ mask }) => (mask & part) !== 0n);
    if (chosen.length === possible.length) continue;
    product &= chosen.reduce((sum, { mask }) => sum | mask, 0n);
    said.push(`${axes[at]!.id}=${chosen.map(({ choice }) => choice).join('|')}`);
  }
  return product === part ? said.join(' & ') : null;
}
