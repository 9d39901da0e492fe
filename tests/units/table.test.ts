import { describe, expect, it } from 'vitest';
import { toNumber, toRational } from '../../src/number/index.ts';
import { QUANTITIES, RECIPROCAL_QUANTITIES, UNITS, dimensionText, unitByCode } from '../../src/units/index.ts';
import { PI, exactly } from '../../src/units/table/row.ts';

describe('the unit table', () => {
  it('has one row a code, each with title, source and a positive factor', () => {
    expect(new Set(UNITS.map((unit) => unit.code)).size).toBe(UNITS.length);
    for (const unit of UNITS) {
      expect(unit.title, unit.code).not.toBe('');
      expect(unit.source.length, unit.code).toBeGreaterThan(3);
      expect(unit.toSi.factor.num > 0n, unit.code).toBe(true);
      // Only points have a zero of their own.
      if (!unit.point) expect(unit.toSi.offset.num, unit.code).toBe(0n);
      expect(unit.dimension).toBe(QUANTITIES[unit.quantity].dimension);
    }
  });

  it('shows no symbol for two units of one quantity', () => {
    const shown = UNITS.map((unit) => `${unit.quantity}: ${unit.symbol}`);
    expect(shown.filter((text, at) => shown.indexOf(text) !== at)).toEqual([]);
  });

  it('covers every quantity of issue 2', () => {
    for (const quantity of [
      'temperature',
      'temperature-difference',
      'pressure',
      'gauge-pressure',
      'speed',
      'rotation',
      'torque',
      'force',
      'power',
      'energy',
      'mass',
      'volume',
      'volume-flow',
      'mass-flow',
      'fuel-consumption',
      'fuel-economy',
      'distance',
      'angle',
      'acceleration',
      'voltage',
      'current',
      'resistance',
      'frequency',
      'ratio',
      'charge',
      'time',
      'information',
      'information-rate',
    ]) {
      expect(UNITS.filter((unit) => unit.quantity === quantity).length, quantity).toBeGreaterThan(1);
    }
    for (const quantity of Object.keys(QUANTITIES)) {
      expect(
        UNITS.some((unit) => unit.quantity === quantity),
        quantity,
      ).toBe(true);
    }
  });

  it('writes torque, rotation and frequency apart', () => {
    expect(dimensionText(unitByCode('N.m')!.dimension)).toBe('m^2·kg·s^-2·angle^-1');
    expect(dimensionText(unitByCode('J')!.dimension)).toBe('m^2·kg·s^-2');
    expect(dimensionText(unitByCode('{rev}/min')!.dimension)).toBe('s^-1·angle');
    expect(dimensionText(unitByCode('Hz')!.dimension)).toBe('s^-1');
    expect(dimensionText(unitByCode('%')!.dimension)).toBe('1');
  });

  it('pairs reciprocal quantities whose dimensions are upside down', () => {
    for (const [a, b] of RECIPROCAL_QUANTITIES) {
      for (const base of ['m', 'kg', 's', 'A', 'K', 'mol', 'cd', 'angle', 'bit', 'level'] as const) {
        expect(QUANTITIES[a].dimension[base] + QUANTITIES[b].dimension[base], `${a} ${b} ${base}`).toBe(0);
      }
    }
  });

  it('multiplies torque by rotation to power (P = M·ω): 100 N·m at 9549.297 rev/min is 100 kW', () => {
    // Handbook form P[kW] = M[N·m] · n[1/min] / 9549.3: common practice.
    const torque = unitByCode('N.m')!;
    const rotation = unitByCode('{rev}/min')!;
    const power = unitByCode('kW')!;
    for (const base of ['m', 'kg', 's', 'angle'] as const) {
      expect(torque.dimension[base] + rotation.dimension[base]).toBe(power.dimension[base]);
    }
    const watts = 100 * toNumber(torque.toSi.factor) * 9549.297 * toNumber(rotation.toSi.factor);
    expect(watts / toNumber(power.toSi.factor)).toBeCloseTo(100, 4);
  });
});

describe('π of the table', () => {
  it('is the double π, and within 7.9e-17 of its first 35 decimals (OEIS A000796)', () => {
    const ours = exactly(PI);
    expect(toNumber(ours)).toBe(Math.PI);
    const pi = toRational('3.14159265358979323846264338327950288');
    const off = toNumber({ num: ours.num * pi.den - pi.num * ours.den, den: ours.den * pi.den });
    expect(Math.abs(off)).toBeLessThan(7.9e-17);
    expect(Math.abs(off)).toBeGreaterThan(7.8e-17);
  });
});

describe('exactly', () => {
  it('reads products and quotients from left to right', () => {
    expect(exactly('6*4/3')).toEqual(toRational(8));
    expect(exactly('1/2/4')).toEqual(toRational('1/8'));
    expect(() => exactly('6*x')).toThrow('"x" is not an exact number');
    expect(() => exactly('')).toThrow(RangeError);
  });
});
