import { describe, expect, it } from 'vitest';
import {
  ISO_6722_CONDUCTORS,
  ambientFactor,
  ampacity,
  awgAreaMm2,
  awgCircularMil,
  awgDiameterMm,
  baseAmpacity,
  bundleFactor,
  conductorSize,
  copperFactor,
  COPPER_RESISTIVITY,
  packedBundleAmpere,
  resistanceOhm,
} from '../../src/wiring/index.ts';

describe('ASTM B258: gauge, diameter, area', () => {
  it('fixes No. 36 at 0.005 in and No. 4/0 at 0.46 in', () => {
    expect(awgDiameterMm('36') / 25.4).toBeCloseTo(0.005, 12);
    expect(awgDiameterMm('4/0') / 25.4).toBeCloseTo(0.46, 12);
  });

  // Published wire tables (engineersedge.com copper wire, hyperphysics wire gauge): ohms per 1,000 ft at 20 °C, solid.
  it.each([
    ['22', 16.14],
    ['20', 10.15],
    ['18', 6.385],
    ['16', 4.016],
    ['14', 2.525],
    ['12', 1.588],
    ['10', 0.9989],
    ['8', 0.6282],
    ['6', 0.3951],
    ['4', 0.2485],
    ['2', 0.1563],
  ])('No. %s solid copper resists %d Ω per 1,000 ft', (gauge, printed) => {
    const ohm = (COPPER_RESISTIVITY / awgAreaMm2(gauge)) * 304.8;
    // The two tables agree with each other, and with the formula, to half a thousandth.
    expect(Math.abs(ohm / printed - 1)).toBeLessThan(5e-4);
  });

  it('NBS Handbook 100 (from memory): No. 10 has 10,380 circular mils, No. 20 1,020', () => {
    expect(Math.round(awgCircularMil('10') / 10) * 10).toBe(10380);
    expect(Math.round(awgCircularMil('20') / 10) * 10).toBe(1020);
  });

  it('refuses what is no gauge', () => {
    expect(() => awgDiameterMm('5/0')).toThrow(/no American wire gauge/);
    expect(conductorSize('0.5')).toBeNull();
    expect(conductorSize('0mm2')).toBeNull();
  });
});

it('ISO 6722-1 rows lie 4 to 6 % below IEC 60228 class 5, whose maxima were read', () => {
  const class5 = { 0.5: 39, 0.75: 26, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.3, 10: 1.91, 16: 1.21, 25: 0.78 };
  for (const [size, milliohm] of Object.entries(class5)) {
    const row = ISO_6722_CONDUCTORS.find(({ sizeMm2 }) => sizeMm2 === Number(size))!;
    const below = 1 - row.maxMilliohmPerM20C / milliohm;
    expect(below, `${size} mm²`).toBeGreaterThan(0.039);
    expect(below, `${size} mm²`).toBeLessThan(0.052);
  }
});

describe('FAA AC 43.13-1B para 11-66: copper at temperature', () => {
  it.each([
    [-40, 0.7642],
    [20, 1],
    [50, 1.1179],
    [80, 1.2358],
    [105, 1.334],
    [125, 1.4126],
  ])('at %d °C the factor is (234.5 + T)/254.5 = %d', (temperatureC, factor) => {
    expect(copperFactor(temperatureC).toFixed(4)).toBe(factor.toFixed(4));
  });

  it('agrees with 0.00393 a °C at 20 °C', () => {
    expect(copperFactor(21) - 1).toBeCloseTo(0.00393, 5);
    expect(resistanceOhm(0.0076, 6, 60)).toBeCloseTo(0.0076 * 6 * (294.5 / 254.5), 12);
  });
});

describe('33 CFR 183.425 Table 5 and NEC 310.15(B)(2)(a): ampacity', () => {
  it.each([
    ['18AWG', 105, 20],
    ['16AWG', 105, 25],
    ['14AWG', 60, 20],
    ['10AWG', 125, 70],
    ['6AWG', 80, 100],
    ['1/0AWG', 200, 325],
  ])('%s with insulation of %d °C carries %d A', (size, insulationC, ampere) => {
    expect(baseAmpacity(conductorSize(size)!, insulationC).ampere).toBe(ampere);
  });

  // NEC 310.15(B)(2)(a) as reproduced: ambient (upper end of its band), factors for 60, 75 and 90 °C insulation.
  it.each([
    [25, 1.08, 1.05, 1.04],
    [30, 1, 1, 1],
    [35, 0.91, 0.94, 0.96],
    [40, 0.82, 0.88, 0.91],
    [45, 0.71, 0.82, 0.87],
    [50, 0.58, 0.75, 0.82],
    [55, 0.41, 0.67, 0.76],
    [60, 0, 0.58, 0.71],
    [70, 0, 0.33, 0.58],
    [80, 0, 0, 0.41],
  ])('at %d °C: %d, %d, %d', (ambientC, f60, f75, f90) => {
    expect([60, 75, 90].map((limit) => Number(ambientFactor(limit, ambientC).toFixed(2)))).toEqual([f60, f75, f90]);
  });

  // 33 CFR 183.425 Table 5 note 1: engine spaces, 50 °C (from memory; its 60, 75 and 90 °C values equal NEC's).
  it.each([
    [60, 0.58],
    [75, 0.75],
    [80, 0.78],
    [90, 0.82],
    [105, 0.85],
    [125, 0.89],
  ])('engine space with insulation of %d °C: %d', (insulationC, printed) => {
    expect(Math.abs(ambientFactor(insulationC, 50) - printed)).toBeLessThanOrEqual(0.0065);
  });

  it('16 AWG, 105 °C, engine space, 5 loaded conductors: 25 A × 0.85 × 0.60 = 12.75 A; packed aircraft bundle: 7 A', () => {
    const around = { ambientC: 50, insulationC: 105, carrying: 5 };
    const { ampere, base, bundleFactor: bundle } = ampacity(conductorSize('16AWG')!, around);
    expect([base.ampere, bundle]).toEqual([25, 0.6]);
    // The formula's 0.856 against the table's 0.85.
    expect(Math.abs(ampere - 12.75)).toBeLessThan(0.11);
    expect(packedBundleAmpere('16', 105)).toBe(7);
  });

  it('NEC 310.15(B)(3)(a): bundles in conduit', () => {
    const counts = [3, 4, 6, 7, 9, 10, 20, 21, 30, 31, 40, 41];
    expect(counts.map((count) => bundleFactor(count, 'conduit'))).toEqual([
      1, 0.8, 0.8, 0.7, 0.7, 0.5, 0.5, 0.45, 0.45, 0.4, 0.4, 0.35,
    ]);
  });

  it('thin-wall data sheet, ISO 6722 class B: 0.5 mm² 11 A, 2.5 mm² 29 A, 6 mm² 50 A', () => {
    for (const [size, ampere] of [
      ['0.5mm2', 11],
      ['2.5mm2', 29],
      ['6mm2', 50],
    ] as const)
      expect(baseAmpacity(conductorSize(size)!, 105).ampere).toBe(ampere);
  });
});
