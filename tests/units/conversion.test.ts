import { describe, expect, it } from 'vitest';
import { IDENTITY, type Rational, applyAffine, toRational } from '../../src/number/index.ts';
import { type Unit, conversionBetween, convertExact, unitByCode } from '../../src/units/index.ts';

function unit(code: string): Unit {
  const found = unitByCode(code);
  if (found === null) throw new Error(`${code} is not in the table`);
  return found;
}

function convert(value: string | number, from: string, to: string): Rational {
  const converted = convertExact(toRational(value), unit(from), unit(to));
  if ('kind' in converted) throw new Error(converted.message);
  return converted;
}

describe('exact conversion', () => {
  it.each([
    // Definitions of the SI Brochure (9th ed.) and NIST SP 811 B.8, worked by hand.
    [60, '[mi_i]/h', 'km/h', '96.56064'],
    [1, '{rev}/min', 'deg/s', 6],
    [1, '{rev}', 'deg', 360],
    [90, 'deg', '{rev}', '1/4'],
    [12, 'deg/s', '{rev}/min', 2],
    [1, '{rev}/min/s', 'deg/s2', 6],
    [100, 'Cel', '[degF]', 212],
    [9, '[degF]{difference}', 'K{difference}', 5],
    [1, 'bar', 'kPa', 100],
    [1, 'A.h', 'A.s', 3600],
    [1, 'KiBy', 'bit', 8192],
    [50, '%', '1', '1/2'],
    [5, '[ppth]', '%', '1/2'],
    [36, 'km/h', 'm/s', 10],
    [1, 'km/h/s', 'm/s2', '5/18'],
    [7.2, 'kg/h', 'g/s', 2],
    [3.6, 'L/h', 'mL/s', 1],
    [1, 'W.h/km', 'kW.h/(100.km)', '0.1'],
    [1, 'wk', 'h', 168],
    [1, '[mi_i]', '[ft_i]', 5280],
    [1, '[gal_us]', '[foz_us]', 128],
    [1, 'kW.h', 'MJ', '3.6'],
    [1, '{pulse}/m', '{pulse}/km', 1000],
    [0, 'bar{gauge}', 'kPa{gauge}', 0],
    [2, 'bar{gauge}', 'kPa{gauge}', 200],
  ])('%s %s in %s', (value, from, to, expected) => {
    expect(convert(value, from, to)).toEqual(toRational(expected));
  });

  it('gives the identity for a unit and itself, dB included', () => {
    for (const code of ['Cel', 'kPa{gauge}', 'dB', '1']) {
      expect(conversionBetween(unit(code), unit(code))).toEqual({ kind: 'affine', affine: IDENTITY });
    }
  });
});

describe('reciprocal conversion', () => {
  it.each([
    [5, 'L/(100.km)', 'km/L', 20],
    [20, 'km/L', 'L/(100.km)', 5],
    [10, 'ms', 'Hz', 100],
    [4, 'kHz', 'us', 250],
    [2, 'kOhm', 'mS', '1/2'],
    [20, 'kW.h/(100.km)', 'km/(kW.h)', 5],
  ])('%s %s is in %s', (value, from, to, expected) => {
    expect(convert(value, from, to)).toEqual(toRational(expected));
    expect(conversionBetween(unit(from), unit(to)).kind).toBe('reciprocal');
  });

  it('refuses zero, which has no reciprocal', () => {
    expect(() => convert(0, 'L/(100.km)', 'km/L')).toThrow('0 L/(100.km) has no value in km/L');
  });
});

describe('no conversion', () => {
  it('between absolute and gauge pressure, but offers the standard atmosphere for declaring it', () => {
    const conversion = conversionBetween(unit('kPa{gauge}'), unit('kPa'));
    if (conversion.kind !== 'none' || conversion.why !== 'gauge-against-absolute') throw new Error(conversion.kind);
    expect(conversion.message).toContain('101.325 kPa');
    // 10th CGPM (1954), Resolution 4: the standard atmosphere is 101 325 Pa.
    expect(applyAffine(conversion.declared, toRational(0))).toEqual(toRational('101.325'));
    expect(applyAffine(conversion.declared, toRational(100))).toEqual(toRational('201.325'));
    const back = conversionBetween(unit('bar'), unit('kPa{gauge}'));
    if (back.kind !== 'none' || back.why !== 'gauge-against-absolute') throw new Error(back.kind);
    expect(applyAffine(back.declared, toRational('1.01325'))).toEqual(toRational(0));
  });

  it.each([
    ['Cel', 'K{difference}', 'point-against-difference', 'difference'],
    ['K{difference}', '[degF]', 'point-against-difference', 'difference'],
    ['kPa', 'Cel', 'dimension', 'dimensions differ'],
    ['N.m', 'J', 'dimension', 'torque'],
    ['{rev}/min', 'Hz', 'dimension', 'pulses per revolution'],
    ['Hz', 'rad/s', 'dimension', 'pulses per revolution'],
    ['dB', '%', 'dimension', 'level'],
    ['dB', 'dB{mW}', 'dimension', 'level'],
    ['mm2', 'L/(100.km)', 'dimension', 'not the same quantity'],
    ['%', '{count}', 'dimension', 'not the same quantity'],
    ['bit', '1', 'dimension', 'dimensions differ'],
  ])('from %s to %s: %s', (from, to, why, words) => {
    for (const [a, b] of [
      [from, to],
      [to, from],
    ] as const) {
      const conversion = conversionBetween(unit(a), unit(b));
      if (conversion.kind !== 'none') throw new Error(`${a} to ${b} converts`);
      expect(conversion.why).toBe(why);
      expect(conversion.message).toContain(words);
      expect(convertExact(toRational(1), unit(a), unit(b))).toEqual(conversion);
    }
  });
});
