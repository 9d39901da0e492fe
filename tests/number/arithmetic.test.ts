import { describe, expect, it } from 'vitest';
import {
  IDENTITY,
  type Rational,
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
  isInteger,
  mapAffine,
  maxOf,
  minOf,
  mul,
  neg,
  rational,
  roundHalfAway,
  sign,
  sub,
  toRational,
  width,
  ZERO,
} from '../../src/number/index.ts';

const r = (text: string): Rational => toRational(text);

describe('arithmetic, by hand', () => {
  it('adds, subtracts, multiplies and divides fractions', () => {
    expect(add(r('1/6'), r('1/10'))).toEqual(r('4/15'));
    expect(sub(r('1/6'), r('1/10'))).toEqual(r('1/15'));
    expect(mul(r('-2/3'), r('9/4'))).toEqual(r('-3/2'));
    expect(div(r('1/2'), r('-3/4'))).toEqual(r('-2/3'));
    expect(neg(r('1/3'))).toEqual(r('-1/3'));
    expect(neg(ZERO)).toEqual(ZERO);
    expect(abs(r('-1/3'))).toEqual(r('1/3'));
    expect(inverse(r('-2/5'))).toEqual(r('-5/2'));
  });

  it('sums a tenth ten times to exactly one, which doubles do not', () => {
    let sum = ZERO;
    for (let count = 0; count < 10; count++) sum = add(sum, r('0.1'));
    expect(sum).toEqual(rational(1));
    expect(Array.from({ length: 10 }, () => 0.1).reduce((a, b) => a + b)).not.toBe(1);
  });

  it('refuses division by zero', () => {
    expect(() => div(r('1'), ZERO)).toThrow(RangeError);
    expect(() => inverse(ZERO)).toThrow(RangeError);
  });

  it('orders', () => {
    expect(compare(r('1/3'), r('0.3333'))).toBe(1);
    expect(compare(r('-1/2'), r('1/3'))).toBe(-1);
    expect(compare(r('2/4'), r('0.5'))).toBe(0);
    expect(equals(r('2/4'), r('0.5'))).toBe(true);
    expect(equals(r('1/3'), r('0.333'))).toBe(false);
    expect([sign(r('-1/9')), sign(ZERO), sign(r('1/9'))]).toEqual([-1, 0, 1]);
    expect([isInteger(r('4/2')), isInteger(r('1/2'))]).toEqual([true, false]);
    expect(minOf(r('1/2'), r('-3'), r('1/3'))).toEqual(r('-3'));
    expect(maxOf(r('1/2'), r('-3'), r('2/3'))).toEqual(r('2/3'));
  });
});

describe('rounding', () => {
  it.each([
    ['2.5', 2n, 3n, 3n],
    ['-2.5', -3n, -2n, -3n],
    ['0.5', 0n, 1n, 1n],
    ['-0.5', -1n, 0n, -1n],
    ['1/3', 0n, 1n, 0n],
    ['-1/3', -1n, 0n, 0n],
    ['-7', -7n, -7n, -7n],
    ['0.49999999999999999999', 0n, 1n, 0n],
  ])('%s goes down to %s, up to %s, nearest to %s', (text, down, up, nearest) => {
    expect([floor(r(text)), ceil(r(text)), roundHalfAway(r(text))]).toEqual([down, up, nearest]);
  });
});

describe('formatDecimal', () => {
  it.each([
    ['1/8', {}, '0.125'],
    ['0', {}, '0'],
    ['1000', {}, '1000'],
    ['2/3', { maxFraction: 2 }, '0.67'],
    ['-0.004', { maxFraction: 2 }, '0'],
    ['-0.005', { maxFraction: 2 }, '-0.01'],
    ['1/3', {}, '0.333333333333333'],
    ['123456', { maxSignificant: 3 }, '123000'],
    ['1.609344', { maxSignificant: 4 }, '1.609'],
    ['999.96', { maxSignificant: 4 }, '1000'],
    ['0.000099996', { maxSignificant: 4 }, '0.0001'],
    ['18446744073709551615', {}, '18446744073709551615'],
    ['1e-9', {}, '1e-9'],
    ['1.25e-9', {}, '1.25e-9'],
    ['1e25', {}, '1e+25'],
    ['0.10', { maxFraction: 4 }, '0.1'],
  ])('%s with %j reads %s', (text, limits, shown) => {
    expect(formatDecimal(r(text), limits)).toBe(shown);
  });
});

describe('affine mappings', () => {
  // °F = 1.8 · °C + 32 (NIST SP 811 (2008), B.8): 100 °C is 212 °F, −40 is −40.
  const toFahrenheit = { factor: r('1.8'), offset: r('32') };

  it('applies, inverts and composes', () => {
    expect(applyAffine(toFahrenheit, r('100'))).toEqual(r('212'));
    expect(applyAffine(invertAffine(toFahrenheit), r('-40'))).toEqual(r('-40'));
    expect(composeAffine(toFahrenheit, invertAffine(toFahrenheit))).toEqual(IDENTITY);
    // First double, then add one: not the same as the other way round.
    const twice = { factor: r('2'), offset: ZERO };
    const plusOne = { factor: r('1'), offset: r('1') };
    expect(applyAffine(composeAffine(twice, plusOne), r('5'))).toEqual(r('11'));
    expect(applyAffine(composeAffine(plusOne, twice), r('5'))).toEqual(r('12'));
  });

  it('refuses to invert a constant', () => {
    expect(() => invertAffine({ factor: ZERO, offset: r('3') })).toThrow('factor 0');
  });
});

describe('intervals', () => {
  const a = intervalOf(r('5'), r('-1'));

  it('orders its ends and maps them', () => {
    expect(a).toEqual({ lo: r('-1'), hi: r('5') });
    expect(mapAffine(a, { factor: r('-2'), offset: r('1') })).toEqual({ lo: r('-9'), hi: r('3') });
    expect(mapAffine(a, { factor: r('2'), offset: r('1') })).toEqual({ lo: r('-1'), hi: r('11') });
    expect(width(a)).toEqual(r('6'));
  });

  it('meets, joins and contains, ends included', () => {
    expect(intersect(a, intervalOf(r('5'), r('9')))).toEqual({ lo: r('5'), hi: r('5') });
    expect(intersect(a, intervalOf(r('5.01'), r('9')))).toBeNull();
    expect(hull(a, intervalOf(r('7'), r('9')))).toEqual({ lo: r('-1'), hi: r('9') });
    expect(contains(a, r('5'))).toBe(true);
    expect(contains(a, r('5.0001'))).toBe(false);
    expect(contains(a, intervalOf(r('-1'), r('5')))).toBe(true);
    expect(contains(a, intervalOf(r('0'), r('6')))).toBe(false);
  });
});
