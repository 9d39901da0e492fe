/**
 * Against the language's own conversions, which ECMA-262 defines exactly:
 * Number(text) is the nearest double, ties to even (§ 6.1.6.1, "the Number value for"); toFixed and toPrecision take the exact
 * value of the double and, of two decimals equally near, the larger (§ 21.1.3.3, § 21.1.3.5) — half away from zero for x ≥ 0.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Rational,
  ceil,
  floor,
  formatDecimal,
  neg,
  rational,
  roundHalfAway,
  toNumber,
  toRational,
} from '../../src/number/index.ts';

/** The exact value of a double from its bits (IEEE 754-2019 § 3.4), with no part of the code under test but `rational`. */
function exactValue(x: number): Rational {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, x);
  const bits = view.getBigUint64(0);
  const exponent = Number((bits >> 52n) & 0x7ffn);
  const fraction = bits & 0xfffffffffffffn;
  const mantissa = exponent === 0 ? fraction : fraction | (1n << 52n);
  const power = Math.max(exponent, 1) - 1075;
  const size = power >= 0 ? rational(mantissa << BigInt(power)) : rational(mantissa, 1n << BigInt(-power));
  return bits >> 63n === 1n ? neg(size) : size;
}

function withoutTrailingZeros(text: string): string {
  const [digits = '', exponent] = text.split('e');
  const bare = digits.includes('.') ? digits.replace(/\.?0+$/, '') : digits;
  const shown = bare === '-0' ? '0' : bare;
  return exponent === undefined ? shown : `${shown}e${exponent}`;
}

const finite = fc.double({ noNaN: true, noDefaultInfinity: true });

describe('toNumber', () => {
  it('gives every double back from its exact value, subnormal ones too', () => {
    fc.assert(
      fc.property(finite, (x) => {
        expect(toNumber(exactValue(x))).toBe(x === 0 ? 0 : x);
      }),
      { numRuns: 5000 },
    );
    for (const x of [5e-324, 2.2250738585072014e-308, 2.225073858507201e-308, Number.MAX_VALUE, -5e-324]) {
      expect(toNumber(exactValue(x))).toBe(x);
    }
  });

  it('rounds long decimals as Number does', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 40n), max: 10n ** 40n }),
        fc.integer({ min: -350, max: 320 }),
        (n, power) => {
          const text = `${n}e${power}`;
          const expected = Number(text);
          expect(toNumber(toRational(text))).toBe(expected === 0 ? 0 : expected);
        },
      ),
      { numRuns: 5000 },
    );
  });

  it('breaks ties to even, at the half-way point between neighbours', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 2n ** 52n, max: 2n ** 53n - 1n }), fc.integer({ min: 1, max: 300 }), (n, shift) => {
        // (2n + 1) · 2^shift lies half-way between two doubles; Number(BigInt) is defined as ties to even.
        const half = (2n * n + 1n) << BigInt(shift);
        expect(toNumber(rational(half))).toBe(Number(half));
        // The same point as a true fraction: over an odd denominator, nudged by less than any double could tell.
        const odd = 3n ** 40n;
        expect(toNumber(rational(half * odd + 1n, odd))).toBe(Number(half + 1n));
        expect(toNumber(rational(half * odd - 1n, odd))).toBe(Number(half - 1n));
        // A tie below one: Number(BigInt) rounds, and dividing by a power of two is exact.
        const power = 2n ** BigInt(shift);
        expect(toNumber(rational(2n * n + 1n, power))).toBe(Number(2n * n + 1n) / Number(power));
        expect(toNumber(rational(-2n * n - 1n, power))).toBe(-Number(2n * n + 1n) / Number(power));
      }),
    );
  });

  it('divides large integers as a correctly rounded quotient', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 1n, max: 2n ** 120n }), fc.bigInt({ min: 1n, max: 2n ** 120n }), (num, den) => {
        // 40 significant decimals of the quotient decide the nearest double, except within 1e-40 of a tie.
        const scaled = (num * 10n ** 80n) / den;
        expect(toNumber(rational(num, den))).toBe(Number(`${scaled}e-80`));
      }),
      { numRuns: 2000 },
    );
  });

  it('leaves the range of doubles at both ends as Number does', () => {
    for (const text of [
      '1.7976931348623157e308',
      '1.7976931348623159e308',
      '1e309',
      '2.4703282292062327e-324',
      '2.5e-324',
    ]) {
      expect(toNumber(toRational(text))).toBe(Number(text));
      expect(toNumber(toRational(`-${text}`))).toBe(Number(text) === 0 ? 0 : Number(`-${text}`));
    }
  });
});

describe('formatDecimal', () => {
  it('agrees with toFixed', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e20, noNaN: true }), fc.integer({ min: 0, max: 20 }), (x, places) => {
        const fixed = withoutTrailingZeros(x.toFixed(places));
        const shown = formatDecimal(exactValue(x), { maxFraction: places });
        // Outside 1e-7 … 1e21 ours changes to powers of ten; the value is the same.
        if (shown.includes('e')) expect(toRational(shown)).toEqual(toRational(fixed));
        else expect(shown).toBe(fixed);
        expect(formatDecimal(exactValue(-x), { maxFraction: places })).toBe(shown === '0' ? '0' : `-${shown}`);
      }),
      { numRuns: 3000 },
    );
  });

  it('agrees with toFixed on exact ties', () => {
    for (const x of [0.5, 1.5, 2.5, 0.125, 0.375, 1023.5, 0.0625]) {
      for (const places of [0, 1, 2, 3]) {
        expect(formatDecimal(exactValue(x), { maxFraction: places })).toBe(withoutTrailingZeros(x.toFixed(places)));
      }
    }
  });

  it('agrees with toPrecision', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e20, noNaN: true }), fc.integer({ min: 1, max: 21 }), (x, digits) => {
        const shown = formatDecimal(exactValue(x), { maxSignificant: digits });
        expect(toRational(shown)).toEqual(toRational(x.toPrecision(digits)));
      }),
      { numRuns: 3000 },
    );
  });
});

describe('rounding', () => {
  it('agrees with Math on doubles', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e15, max: 1e15, noNaN: true }), fc.constantFrom(1, 2, 4), (x, parts) => {
        // A whole number of halves or quarters: Math.round is then exact.
        const q = Math.round(x) / parts;
        expect(floor(exactValue(q))).toBe(BigInt(Math.floor(q)));
        expect(ceil(exactValue(q))).toBe(BigInt(Math.ceil(q)));
        expect(roundHalfAway(exactValue(q))).toBe(BigInt(Math.sign(q) * Math.round(Math.abs(q))));
      }),
    );
  });
});
