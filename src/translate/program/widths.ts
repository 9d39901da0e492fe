import { rawRange } from '../../can/index.ts';
import { greatestIntermediate } from './segments.ts';
import { MEASURED, type Node, type RouteProgram, SMOOTH_ONE } from './types.ts';

const INT32 = 2n ** 31n - 1n;
const INT64 = 2n ** 63n - 1n;
/** Every integer below this is exact in a double, with one bit to spare. */
const DOUBLE = 2n ** 52n;

/** How great integers can become at one place of a program. */
export interface SlotSize {
  /** Greatest size of what the slot holds. */
  readonly result: bigint;
  /** Greatest size on the way to it. */
  readonly within: bigint;
}

/** For each slot, sources first: the greatest size of its integers, whatever the sources hold. A float counts as 0. */
export function slotSizes(program: RouteProgram): readonly SlotSize[] {
  const sizes: SlotSize[] = program.sources.map((source) => {
    switch (source.kind) {
      case 'field': {
        const { lo, hi } = rawRange(source.number, source.bits.length);
        return { result: -lo > hi ? -lo : hi, within: 0n };
      }
      case 'float':
        return { result: 0n, within: 0n };
      case 'switched-wire':
        return { result: 1n, within: 0n };
      case 'measured-wire':
        return { result: MEASURED.hi, within: 0n };
    }
  });
  const results = sizes.map(({ result }) => result);
  for (const node of program.nodes) {
    const size = sizeOf(node, results);
    sizes.push(size);
    results.push(size.result);
  }
  return sizes;
}

/**
 * The greatest size of any integer that occurs while a program runs, whatever its sources hold: products before division, sums,
 * states of filters. 2^64 and more is possible; see `widthOf`.
 */
export function greatestInteger(program: RouteProgram): bigint {
  return slotSizes(program).reduce((most, { result, within }) => {
    const greatest = result > within ? result : within;
    return greatest > most ? greatest : most;
  }, 0n);
}

/** Size of what a node gives, and the greatest size on the way. */
function sizeOf(node: Node, sizes: readonly bigint[]): SlotSize {
  const size = (n: bigint): bigint => (n < 0n ? -n : n);
  const greatest = (list: readonly bigint[]): bigint => list.reduce((a, b) => (a > b ? a : b), 0n);
  switch (node.kind) {
    case 'segments': {
      const within = greatestIntermediate(node.segments);
      const ends = node.segments.flatMap((segment) => [segment.lo, segment.hi].map((x) => size(quotient(segment, x))));
      return { result: greatest(ends), within };
    }
    case 'table': {
      const outs = node.ranges.flatMap(({ out }) => (out === null ? [] : [size(out)]));
      return {
        result: greatest([...outs, node.gap === null ? 0n : size(node.gap)]),
        within: greatest(node.ranges.flatMap(({ lo, hi }) => [size(lo), size(hi)])),
      };
    }
    case 'from-float':
      return { result: greatest([size(node.lo), size(node.hi)]), within: 0n };
    case 'bands':
      return { result: BigInt(node.up.length), within: greatest([...node.up.map(size), ...node.down.map(size)]) };
    case 'rate-limit': {
      const result = sizes[node.from]! * node.finer;
      return { result, within: 2n * result };
    }
    case 'smooth': {
      const result = sizes[node.from]! << BigInt(node.shift);
      // The difference of two values, times the weight, plus the half for rounding.
      return { result, within: 2n * result * node.alpha + SMOOTH_ONE };
    }
    case 'debounce':
    case 'delay':
      return { result: sizes[node.from]!, within: 0n };
    case 'all-of':
    case 'any-of':
      return { result: 1n, within: 1n };
    case 'highest':
    case 'lowest':
    case 'first-valid':
      return { result: greatest(node.of.map((slot) => sizes[slot]!)), within: 0n };
    case 'sum':
    case 'difference':
      return { result: node.of.reduce((total, slot) => total + sizes[slot]!, 0n), within: 0n };
    case 'choose':
      return {
        result: greatest(node.cases.map((result) => ('slot' in result ? sizes[result.slot]! : size(result.value)))),
        within: 0n,
      };
  }
}

function quotient({ a, b, c, d }: { a: bigint; b: bigint; c: bigint; d: bigint }, x: bigint): bigint {
  return (a * x + b) / (c * x + d) + 1n;
}

/** Width of signed integers in which nothing can overflow; null: more than 64 bits are needed. */
export function widthOf(program: RouteProgram): 32 | 64 | null {
  const most = greatestInteger(program);
  return most <= INT32 ? 32 : most <= INT64 ? 64 : null;
}

/** Whether doubles hold every integer of the program exactly, so that the engine may use them. */
export function fitsDoubles(program: RouteProgram): boolean {
  return greatestInteger(program) < DOUBLE;
}
