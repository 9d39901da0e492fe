import { type Rational, compare, div, equals, rational, sub } from '../../number/index.ts';
import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { evaluateRoute } from '../evaluate/evaluate.ts';
import { encodeRaw } from '../evaluate/target-end.ts';
import { apply } from '../function/fraction.ts';
import type { CompiledRoute } from './compile-route.ts';
import { segmentValue } from './segments.ts';
import type { Segment } from './types.ts';
import { widthOf } from './widths.ts';

/** What is known for certain about the integer form of a route. */
export interface IntegerProof {
  /** Width of signed integers in which no intermediate can overflow; null: more than 64 bits. */
  readonly widthBits: 32 | 64 | null;
  /**
   * `exhaustive`: every raw value of the source was worked out and compared. `ends`: the ends of every segment were, and both the
   * exact function and the rounding rise or fall together between them. `table`: a look-up, exact by its nature. `working`: values
   * pass through memory, several sources or floats; see `program.working` for their resolution.
   */
  readonly method: 'exhaustive' | 'ends' | 'table' | 'working';
  readonly checkedRaws: number;
  /** Greatest difference from the exact rational result, in steps of the target; null for `table` and `working`. */
  readonly worstErrorSteps: Rational | null;
  /** A raw value of the source at which it occurs. */
  readonly worstAt: bigint | null;
  /** Everything checked held: formulas equal the exact chain, no error above half a step. False would be a defect of the compiler. */
  readonly holds: boolean;
}

/** Sources with at most so many raw values are proved by working out every one. */
export const EXHAUSTIVE_RAWS = 2n ** 20n;

/**
 * Proves a compiled route. The formula of each segment is held against the steps of the route themselves, worked out in exact
 * rational numbers, at three points (two straight lines which agree at two points are one, and two linear fractions which agree at
 * three); then its rounding is checked at every raw value, or at the ends of the segments when there are more than 2^20.
 */
export function proveRoute(compiled: CompiledRoute): IntegerProof {
  const { program } = compiled;
  const widthBits = widthOf(program);
  const [source] = program.sources;
  const [node] = program.nodes;
  const bare: IntegerProof = {
    widthBits,
    method: 'working',
    checkedRaws: 0,
    worstErrorSteps: null,
    worstAt: null,
    holds: true,
  };
  if (program.sources.length !== 1 || source?.kind !== 'field' || program.output.kind !== 'field') return bare;
  if (program.nodes.length > 1) return bare;
  if (node?.kind === 'table') return { ...bare, method: 'table' };
  const { coding } = domainOf(compiled.analysis);
  if (coding === null) return node === undefined ? { ...bare, method: 'table' } : bare;
  const segments: readonly Segment[] =
    node === undefined ? [{ ...coding, a: 1n, b: 0n, c: 0n, d: 1n }] : node.kind === 'segments' ? node.segments : [];
  if (segments.length === 0) return bare;
  const formulasHold = segments.every(
    (segment) => formulaHolds(compiled.analysis, { ...segment, ...segment.exact }) && shortAgrees(segment),
  );
  const count = segments.reduce((total, { lo, hi }) => total + hi - lo + 1n, 0n);
  const exhaustive = count <= EXHAUSTIVE_RAWS;
  const worst = segments.map((segment) => (exhaustive ? worstOfAll(segment) : worstOfEnds(segment))).reduce(worse);
  return {
    widthBits,
    method: exhaustive ? 'exhaustive' : 'ends',
    checkedRaws: exhaustive ? Number(count) : 2 * segments.length,
    worstErrorSteps: worst.error,
    worstAt: worst.at,
    holds: formulasHold && compare(worst.error, { num: 1n, den: 2n }) <= 0,
  };
}

function domainOf({ sources }: RouteAnalysis): {
  readonly coding: { readonly lo: bigint; readonly hi: bigint } | null;
} {
  const [source] = sources;
  return { coding: source?.kind === 'number' && source.coding?.kind === 'integer' ? source.coding.field : null };
}

/** Whether the formula gives, before rounding, what the steps give at three raw values of the segment. */
function formulaHolds(analysis: RouteAnalysis, segment: Segment): boolean {
  const { lo, hi } = segment;
  const points = new Set([lo, hi, (lo + hi) / 2n]);
  return [...points].every((raw) => {
    const expected = exactRaw(analysis, raw);
    // A raw value that the source reads as no value is never computed.
    return expected === null || equals(apply(segment, { num: raw, den: 1n })!, expected);
  });
}

/** The target's raw value before rounding, by the steps themselves; kept within the usable raw values. */
function exactRaw(analysis: RouteAnalysis, raw: bigint): Rational | null {
  const { delivered } = evaluateRoute(analysis, [{ kind: 'raw', raw }]);
  const { target } = analysis;
  if (delivered.kind !== 'number' || target?.kind !== 'number' || target.coding?.kind !== 'integer') return null;
  const { scaling, usable } = target.coding;
  const encoded = encodeRaw(delivered.value, target.coding, { ...target, specials: [] });
  if (usable === null || encoded === null) return null;
  const exact = div(sub(delivered.value, scaling.offset), scaling.factor);
  const kept = (end: bigint): Rational => ({ num: end, den: 1n });
  if (compare(exact, kept(usable.lo)) < 0) return kept(usable.lo);
  if (compare(exact, kept(usable.hi)) > 0) return kept(usable.hi);
  return exact;
}

/** Whether the shorter integers give what the exact formula gives, at every raw value of the segment. */
function shortAgrees(segment: Segment): boolean {
  if (segment.exact === undefined) return true;
  const exact: Segment = { lo: segment.lo, hi: segment.hi, ...segment.exact };
  for (let raw = segment.lo; raw <= segment.hi; raw += 1n) {
    if (segmentValue(segment, raw) !== segmentValue(exact, raw)) return false;
  }
  return true;
}

interface Worst {
  readonly error: Rational;
  readonly at: bigint;
}

function worse(a: Worst, b: Worst): Worst {
  return compare(a.error, b.error) >= 0 ? a : b;
}

/** The error of what is worked out against the exact formula, which `short` may stand for. */
function errorAt(short: Segment, raw: bigint): Worst {
  const segment = { ...short, ...short.exact };
  const n = segment.a * raw + segment.b;
  const d = segment.c * raw + segment.d;
  const off = n - segmentValue(short, raw) * d;
  return { error: rational(off < 0n ? -off : off, d), at: raw };
}

function worstOfEnds(segment: Segment): Worst {
  return worse(errorAt(segment, segment.lo), errorAt(segment, segment.hi));
}

/** Safe for doubles: every product and sum of the segment is an integer below 2^52. */
const DOUBLE = 2n ** 52n;

function worstOfAll(segment: Segment): Worst {
  const { lo, hi, a, b, c, d } = segment;
  const size = (n: bigint): bigint => (n < 0n ? -n : n);
  const far = size(lo) > size(hi) ? size(lo) : size(hi);
  if (segment.exact !== undefined || c !== 0n || 2n * (size(a) * far + size(b) + d) >= DOUBLE) {
    let worst = errorAt(segment, lo);
    for (let raw = lo + 1n; raw <= hi; raw += 1n) worst = worse(worst, errorAt(segment, raw));
    return worst;
  }
  // One divisor for all: the greatest remainder is the greatest error.
  const [A, B, D] = [Number(a), Number(b), Number(d)];
  let most = 0;
  let at = Number(lo);
  const half = Math.floor(D / 2);
  for (let raw = Number(lo); raw <= Number(hi); raw += 1) {
    const n = A * raw + B;
    const q = n >= 0 ? Math.floor((n + half) / D) : -Math.floor((half - n) / D);
    const off = Math.abs(n - q * D);
    if (off > most) {
      most = off;
      at = raw;
    }
  }
  return { error: rational(BigInt(most), d), at: BigInt(at) };
}
