import type { Fraction } from '../function/fraction.ts';
import { divideHalfAway, greatestIntermediate, segmentValue } from './segments.ts';
import type { Segment } from './types.ts';

/** Inputs are compared one by one; more of them are not worth the time. */
const MOST_COMPARED = 2n ** 16n;
const INT32 = 2n ** 31n - 1n;
const DOUBLE = 2n ** 52n;

/**
 * Replaces the integers of segments that need more than 32 bits by shorter ones which give the same result for every input, so that
 * small controllers (and doubles) can work them out: pounds per square inch are 8896443230521/1290320000 kPa, but 131/19 does for
 * the few values of a gauge. The exact formula stays beside the short one; that both agree is checked for every input here, and again by `proveRoute`.
 */
export function shortened(segments: readonly Segment[]): readonly Segment[] {
  if (greatestIntermediate(segments) <= INT32) return segments;
  return segments.map((segment) => {
    const size = greatestIntermediate([segment]);
    if (size <= INT32 || segment.c !== 0n || segment.hi - segment.lo >= MOST_COMPARED) return segment;
    return shorter(segment) ?? segment;
  });
}

function shorter(segment: Segment): Segment | null {
  const { lo, hi, a, b, c, d } = segment;
  const exact: Fraction = { a, b, c, d };
  const most = greatestIntermediate([segment]) > DOUBLE ? DOUBLE : INT32;
  let wanted: Float64Array | null = null;
  for (const { p, q } of convergents(a, d)) {
    const candidate: Segment = { lo, hi, a: p, b: divideHalfAway(b * q, d), c: 0n, d: q, exact };
    if (greatestIntermediate([candidate]) > most) return null;
    // A wrong slope shows at the ends.
    if ([hi, lo, (lo + hi) / 2n].some((x) => segmentValue(candidate, x) !== segmentValue(segment, x))) continue;
    wanted ??= Float64Array.from({ length: Number(hi - lo + 1n) }, (_, x) =>
      Number(segmentValue(segment, lo + BigInt(x))),
    );
    if (gives(candidate, wanted)) return candidate;
  }
  return null;
}

/** Whether a segment gives these values from its first input on. Its integers stay below 2^52: doubles are exact. */
function gives({ lo, a, b, d }: Segment, wanted: Float64Array): boolean {
  const [A, B, D, first] = [a, b, d, lo].map(Number) as [number, number, number, number];
  const half = Math.floor(D / 2);
  for (let index = 0; index < wanted.length; index += 1) {
    const n = A * (first + index) + B;
    const y = n >= 0 ? Math.floor((n + half) / D) : -Math.floor((half - n) / D);
    if (y !== wanted[index]!) return false;
  }
  return true;
}

/** Convergents of the continued fraction of a/d, and the fractions half-way between them: the best for their length. d > 0. */
function* convergents(a: bigint, d: bigint): Generator<{ p: bigint; q: bigint }> {
  const negative = a < 0n;
  let n = negative ? -a : a;
  let m = d;
  let [p0, q0, p1, q1] = [0n, 1n, 1n, 0n];
  while (m !== 0n) {
    const whole = n / m;
    const half = whole / 2n;
    if (half > 0n && q1 !== 0n) yield signed(half * p1 + p0, half * q1 + q0, negative);
    [p0, q0, p1, q1] = [p1, q1, whole * p1 + p0, whole * q1 + q0];
    yield signed(p1, q1, negative);
    [n, m] = [m, n % m];
  }
}

function signed(p: bigint, q: bigint, negative: boolean): { p: bigint; q: bigint } {
  return { p: negative ? -p : p, q };
}
