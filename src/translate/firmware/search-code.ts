import type { RawSpan } from '../domain/value-domain.ts';

/** What is done for a stretch of integers: up to and including `upTo` (null: the last). */
export interface Stretch<T> {
  readonly upTo: bigint | null;
  readonly leaf: T;
}

/**
 * Ranges and what lies between them, as stretches without a gap that cover a span. Neighbours with the same leaf (by `same`) are
 * joined.
 */
export function stretchesOf<T>(
  ranges: readonly { readonly lo: bigint; readonly hi: bigint; readonly leaf: T }[],
  gap: T,
  span: RawSpan,
  same: (a: T, b: T) => boolean,
): readonly Stretch<T>[] {
  const stretches: { upTo: bigint; leaf: T }[] = [];
  const add = (upTo: bigint, leaf: T): void => {
    const before = stretches.at(-1);
    if (before !== undefined && same(before.leaf, leaf)) before.upTo = upTo;
    else stretches.push({ upTo, leaf });
  };
  let next = span.lo;
  for (const { lo, hi, leaf } of ranges) {
    if (hi < next || lo > span.hi) continue;
    if (lo > next) add(lo - 1n, gap);
    const last = hi < span.hi ? hi : span.hi;
    add(last, leaf);
    next = last + 1n;
  }
  if (next <= span.hi) add(span.hi, gap);
  return stretches.map(({ upTo, leaf }, index) => ({ upTo: index === stretches.length - 1 ? null : upTo, leaf }));
}

/** Above so many stretches the tests are nested by halves instead of one after another. */
const MOST_IN_A_ROW = 4;

/** The stretch of a value as nested tests. `atMost` gives the test for a bound, `write` the statements of a leaf. */
export function searchCode<T>(
  stretches: readonly Stretch<T>[],
  atMost: (bound: bigint) => string,
  write: (leaf: T) => readonly string[],
  indent: string,
): string[] {
  const inner = `${indent}    `;
  if (stretches.length === 1) return write(stretches[0]!.leaf).map((line) => `${indent}${line}`);
  if (stretches.length <= MOST_IN_A_ROW) {
    return [
      ...stretches.flatMap(({ upTo, leaf }, index) => [
        index === 0
          ? `${indent}if (${atMost(upTo!)}) {`
          : upTo === null
            ? `${indent}} else {`
            : `${indent}} else if (${atMost(upTo)}) {`,
        ...write(leaf).map((line) => `${inner}${line}`),
      ]),
      `${indent}}`,
    ];
  }
  const middle = stretches.length >> 1;
  return [
    `${indent}if (${atMost(stretches[middle - 1]!.upTo!)}) {`,
    ...searchCode([...stretches.slice(0, middle - 1), { ...stretches[middle - 1]!, upTo: null }], atMost, write, inner),
    `${indent}} else {`,
    ...searchCode(stretches.slice(middle), atMost, write, inner),
    `${indent}}`,
  ];
}
