import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  IDENTITY,
  ONE,
  type Rational,
  ZERO,
  abs,
  add,
  applyAffine,
  ceil,
  compare,
  composeAffine,
  contains,
  div,
  equals,
  floor,
  formatDecimal,
  hull,
  intersect,
  intervalOf,
  inverse,
  invertAffine,
  mapAffine,
  mul,
  neg,
  parseExact,
  rational,
  roundHalfAway,
  sign,
  sub,
  toExact,
  toRational,
} from '../../src/number/index.ts';

/** Numerators and denominators on both sides of 2^53, where the arithmetic changes path, and of 2^64. */
const integer = fc.oneof(
  fc.bigInt({ min: -1000n, max: 1000n }),
  fc.bigInt({ min: -(2n ** 55n), max: 2n ** 55n }),
  fc.bigInt({ min: -(2n ** 200n), max: 2n ** 200n }),
);
const fraction: fc.Arbitrary<Rational> = fc
  .tuple(
    integer,
    integer.map((n) => (n === 0n ? 1n : n)),
  )
  .map(([num, den]) => rational(num, den));
const nonZero = fraction.filter((x) => x.num !== 0n);
const affine = fc.record({ factor: nonZero, offset: fraction });
const interval = fc.tuple(fraction, fraction).map(([a, b]) => intervalOf(a, b));

function inLowestTerms(x: Rational): boolean {
  let a = x.num < 0n ? -x.num : x.num;
  let b = x.den;
  while (b !== 0n) [a, b] = [b, a % b];
  return x.den > 0n && a === 1n;
}

describe('rationals form an ordered field', () => {
  it('keeps lowest terms under every operation', () => {
    fc.assert(
      fc.property(fraction, nonZero, (a, b) => {
        for (const x of [add(a, b), sub(a, b), mul(a, b), div(a, b), neg(a), abs(a), inverse(b)]) {
          if (x.num !== 0n) expect(inLowestTerms(x)).toBe(true);
          else expect(x).toEqual(ZERO);
        }
      }),
    );
  });

  it('obeys the field laws', () => {
    fc.assert(
      fc.property(fraction, fraction, fraction, (a, b, c) => {
        expect(add(a, b)).toEqual(add(b, a));
        expect(mul(a, b)).toEqual(mul(b, a));
        expect(add(add(a, b), c)).toEqual(add(a, add(b, c)));
        expect(mul(mul(a, b), c)).toEqual(mul(a, mul(b, c)));
        expect(mul(a, add(b, c))).toEqual(add(mul(a, b), mul(a, c)));
        expect(add(a, ZERO)).toEqual(a);
        expect(mul(a, ONE)).toEqual(a);
        expect(add(a, neg(a))).toEqual(ZERO);
        expect(sub(a, b)).toEqual(add(a, neg(b)));
        if (b.num !== 0n) {
          expect(mul(b, inverse(b))).toEqual(ONE);
          expect(mul(div(a, b), b)).toEqual(a);
        }
      }),
    );
  });

  it('orders as cross-multiplication does', () => {
    fc.assert(
      fc.property(fraction, fraction, (a, b) => {
        const left = a.num * b.den;
        const right = b.num * a.den;
        expect(compare(a, b)).toBe(left < right ? -1 : left > right ? 1 : 0);
        expect(equals(a, b)).toBe(left === right);
        expect(sign(sub(a, b))).toBe(compare(a, b));
      }),
    );
  });

  it('rounds to neighbours', () => {
    fc.assert(
      fc.property(fraction, (a) => {
        const down = floor(a);
        expect(down * a.den <= a.num && a.num < (down + 1n) * a.den).toBe(true);
        expect(ceil(a)).toBe(-floor(neg(a)));
        expect(roundHalfAway(neg(a))).toBe(-roundHalfAway(a));
        const off = abs(sub(a, rational(roundHalfAway(a))));
        expect(compare(off, rational(1, 2)) <= 0).toBe(true);
        if (equals(off, rational(1, 2))) expect(compare(abs(rational(roundHalfAway(a))), abs(a))).toBe(1);
      }),
    );
  });
});

describe('written numbers', () => {
  it('read back to the same fraction', () => {
    fc.assert(
      fc.property(fraction, (a) => {
        expect(toRational(toExact(a))).toEqual(a);
      }),
    );
  });

  it('read back to the same fraction when the decimal ends', () => {
    fc.assert(
      fc.property(integer, fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 60 }), (num, twos, fives) => {
        const a = rational(num, 2n ** BigInt(twos) * 5n ** BigInt(fives));
        expect(typeof toExact(a) === 'number' || !String(toExact(a)).includes('/')).toBe(true);
        expect(toRational(toExact(a))).toEqual(a);
        expect(toRational(formatDecimal(a))).toEqual(a);
      }),
    );
  });

  it('leave every double of a document as it was', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (x) => {
        expect(toExact(toRational(x))).toBe(x === 0 ? 0 : x);
      }),
      { numRuns: 2000 },
    );
  });

  it('never throw on arbitrary text', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = parseExact(text);
        expect(read === null || read.den > 0n).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('affine mappings and intervals', () => {
  it('inverse undoes exactly', () => {
    fc.assert(
      fc.property(affine, fraction, (f, x) => {
        expect(applyAffine(invertAffine(f), applyAffine(f, x))).toEqual(x);
        expect(composeAffine(f, invertAffine(f))).toEqual(IDENTITY);
        expect(composeAffine(invertAffine(f), f)).toEqual(IDENTITY);
      }),
    );
  });

  it('composition is doing one after the other', () => {
    fc.assert(
      fc.property(affine, affine, fraction, (f, g, x) => {
        expect(applyAffine(composeAffine(f, g), x)).toEqual(applyAffine(g, applyAffine(f, x)));
      }),
    );
  });

  it('a mapped interval holds exactly the mapped points', () => {
    fc.assert(
      fc.property(interval, affine, fraction, (i, f, x) => {
        expect(contains(mapAffine(i, f), applyAffine(f, x))).toBe(contains(i, x));
      }),
    );
  });

  it('intersection and hull agree with membership', () => {
    fc.assert(
      fc.property(interval, interval, fraction, (a, b, x) => {
        const both = intersect(a, b);
        expect(both !== null && contains(both, x)).toBe(contains(a, x) && contains(b, x));
        expect(contains(hull(a, b), a) && contains(hull(a, b), b)).toBe(true);
      }),
    );
  });
});
