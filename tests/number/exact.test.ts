import { describe, expect, it } from 'vitest';
import { ONE, ZERO, decimalPlaces, parseExact, rational, toExact, toRational } from '../../src/number/index.ts';

describe('parseExact', () => {
  it.each([
    [0, 0n, 1n],
    [-0, 0n, 1n],
    [0.1, 1n, 10n],
    [-273.15, -27315n, 100n],
    [1e-7, 1n, 10_000_000n],
    [1e21, 10n ** 21n, 1n],
    [1.609344, 1_609_344n, 1_000_000n],
    ['1/3', 1n, 3n],
    ['-4/6', -2n, 3n],
    ['+1 / 3', 1n, 3n],
    ['0.1', 1n, 10n],
    ['.5', 1n, 2n],
    ['5.', 5n, 1n],
    ['1e-5', 1n, 100_000n],
    ['2.5E3', 2500n, 1n],
    ['18446744073709551615', 18_446_744_073_709_551_615n, 1n],
    [' 007.250 ', 29n, 4n],
  ])('reads %j as the decimal it shows', (written, num, den) => {
    const read = parseExact(written);
    // Checked against the definition: num/den in lowest terms with den > 0.
    expect(read).not.toBeNull();
    expect(read!.num * den).toBe(num * read!.den);
    expect(read!.den > 0n).toBe(true);
    expect(read).toEqual(rational(num, den));
  });

  it('takes the shortest decimal of a double, not the double itself', () => {
    // 0.1 as a double is 3602879701896397/36028797018963968 (IEEE 754); documents mean 1/10.
    expect(parseExact(0.1)).toEqual({ num: 1n, den: 10n });
    expect(parseExact(0.1)).not.toEqual(rational(3_602_879_701_896_397n, 36_028_797_018_963_968n));
  });

  it.each([
    NaN,
    Infinity,
    -Infinity,
    '',
    ' ',
    'abc',
    '1,5',
    '1/0',
    '1/-3',
    '1/2/3',
    '0x10',
    '1e',
    '.',
    '--1',
    '1_000',
    'Infinity',
    '１',
  ])('refuses %j', (written) => {
    expect(parseExact(written)).toBeNull();
    expect(() => toRational(written)).toThrow(RangeError);
  });

  it('refuses numbers too large to be worth the memory, at once', () => {
    const started = performance.now();
    for (const hostile of ['1e999999999', '1e-999999999', '1e401', '9'.repeat(1025), `1/${'9'.repeat(2000)}`]) {
      expect(parseExact(hostile)).toBeNull();
    }
    expect(parseExact('1e400')).toEqual({ num: 10n ** 400n, den: 1n });
    expect(performance.now() - started).toBeLessThan(1000);
  });

  it('refuses what is neither number nor text, though untyped callers pass it', () => {
    for (const odd of [null, undefined, {}, [], true, 5n]) expect(parseExact(odd as unknown as string)).toBeNull();
  });

  it('names the input and a way out, without repeating a long one', () => {
    expect(() => toRational('12 km')).toThrow('"12 km" is not an exact number');
    expect(() => toRational('x'.repeat(5000))).toThrow(/^"x{60}…" is not/);
  });
});

describe('toExact', () => {
  it.each([
    [ZERO, 0],
    [ONE, 1],
    [rational(1, 10), 0.1],
    [rational(-27315, 100), -273.15],
    [rational(1, 3), '1/3'],
    [rational(-5, 9), '-5/9'],
    [rational(2n ** 64n - 1n), '18446744073709551615'],
    // 2^53 + 1 has no double of its own (IEEE 754): the text must keep it.
    [rational(2n ** 53n + 1n), '9007199254740993'],
    [rational(2n ** 53n), 9007199254740992],
    // 25 digits terminate but do not fit a double.
    [rational(1_234_567_890_123_456_789_012_345n, 10n ** 20n), '12345.67890123456789012345'],
    [rational(-1n, 2n ** 70n), '-0.0000000000000000000008470329472543003390683225006796419620513916015625'],
  ])('writes %o shortest', (r, written) => {
    expect(toExact(r)).toBe(written);
    expect(toRational(written)).toEqual(r);
  });
});

describe('rational', () => {
  it('brings to lowest terms with the sign above', () => {
    expect(rational(6, -4)).toEqual({ num: -3n, den: 2n });
    expect(rational(0, -7)).toEqual({ num: 0n, den: 1n });
    expect(rational(10n ** 30n, 4n * 10n ** 29n)).toEqual({ num: 5n, den: 2n });
  });

  it('refuses a zero denominator and a number that is no integer', () => {
    expect(() => rational(1, 0)).toThrow('1/0 is not a number');
    expect(() => rational(0.5)).toThrow('0.5 is not an integer');
  });
});

describe('decimalPlaces', () => {
  it('counts places of decimals that end and knows those that do not', () => {
    expect(decimalPlaces(rational(5))).toBe(0);
    expect(decimalPlaces(rational(1, 8))).toBe(3);
    expect(decimalPlaces(rational(1, 50))).toBe(2);
    expect(decimalPlaces(rational(1, 3))).toBeNull();
  });
});
