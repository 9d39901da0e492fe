import { describe, expect, it } from 'vitest';
import {
  E24,
  E96,
  betaC,
  betaFrom,
  betaOhm,
  bottomOhm,
  dividerV,
  fitSteinhartHart,
  parallelOhm,
  preferredAtLeast,
  preferredAtMost,
  preferredNearest,
  steinhartHartC,
  steinhartHartOhm,
} from '../../src/wiring/index.ts';

describe('thermistors', () => {
  // Sensor-module document, 10 kΩ at 25 °C.
  const published = { a: 0.001129148, b: 0.000234125, c: 8.76741e-8 };

  it('published coefficients: 10 kΩ is 25.0 °C', () => {
    expect(steinhartHartC(published, 10_000).toFixed(1)).toBe('25.0');
  });

  it('the inverse gives back the temperature from −55 to 180 °C', () => {
    for (let temperatureC = -55; temperatureC <= 180; temperatureC += 5)
      expect(steinhartHartC(published, steinhartHartOhm(published, temperatureC))).toBeCloseTo(temperatureC, 8);
  });

  it('β between 25 and 85 °C is 3976.7 K by the definition ln(R25/R85)/(1/T25 − 1/T85)', () => {
    const betaK = betaFrom([25, steinhartHartOhm(published, 25)], [85, steinhartHartOhm(published, 85)]);
    const byHand =
      Math.log(steinhartHartOhm(published, 25) / steinhartHartOhm(published, 85)) / (1 / 298.15 - 1 / 358.15);
    expect(betaK).toBeCloseTo(byHand, 6);
    expect(betaK.toFixed(1)).toBe('3976.7');
  });

  // Laboratory temperature-controller manual, appendix A, Table A.1; fitted through 0, 25 and 50 °C.
  const fit = fitSteinhartHart([
    [0, 32128],
    [25, 9814],
    [50, 3542],
  ]);
  it.each([
    [0, 32128],
    [10, 19549],
    [20, 12262],
    [25, 9814],
    [30, 7908],
    [50, 3542],
  ])('laboratory manual Table A.1: %d °C is %d Ω', (temperatureC, ohm) => {
    expect(steinhartHartC(fit, ohm)).toBeCloseTo(temperatureC, 2);
  });
  it('its 40 °C row reads 5331 Ω, which misses the curve by half a degree: 5231 fits', () => {
    expect(Math.abs(steinhartHartC(fit, 5331) - 40)).toBeGreaterThan(0.4);
    expect(Math.abs(steinhartHartC(fit, 5231) - 40)).toBeLessThan(0.01);
  });

  // Public table for a 10 kΩ thermistor of β = 3950 K (engineering calculator page).
  it.each([
    [0, 33620],
    [25, 10000],
    [50, 3590],
    [85, 1090],
  ])('β 3950: %d °C is %d Ω', (temperatureC, ohm) => {
    expect(Math.round(betaOhm(10_000, 3950, temperatureC) / 10) * 10).toBe(ohm);
    expect(betaC(10_000, 3950, betaOhm(10_000, 3950, temperatureC))).toBeCloseTo(temperatureC, 9);
  });
});

describe('dividers and parallel resistors', () => {
  it('practice: 22 kΩ over 10 kΩ brings 12.0 V to 3.75 V and 16.0 V to 5.0 V', () => {
    expect(dividerV(12, 22_000, 10_000)).toBe(3.75);
    expect(dividerV(16, 22_000, 10_000)).toBe(5);
    expect(bottomOhm(16, 22_000, 5)).toBeCloseTo(10_000, 9);
    expect(bottomOhm(5, 1000, 5)).toBe(Infinity);
  });

  it('two pull-ups of 2.2 kΩ on a 2.5 kΩ sensor: 3.47 V for 2.66 V, read as 5.0 kΩ', () => {
    expect(dividerV(5, 2200, 2500).toFixed(2)).toBe('2.66');
    const doubled = dividerV(5, parallelOhm(2200, 2200), 2500);
    expect(doubled.toFixed(2)).toBe('3.47');
    expect(Math.round(bottomOhm(5, 2200, doubled))).toBe(5000);
  });
});

describe('IEC 60063 preferred values (from memory)', () => {
  it('E24 has 24 values a decade, E96 96; 4.99 and 9.76 are of E96', () => {
    expect([E24.length, E96.length]).toEqual([24, 96]);
    expect(E96.slice(0, 6)).toEqual([1, 1.02, 1.05, 1.07, 1.1, 1.13]);
    expect(E96).toContain(4.99);
    expect(E96.at(-1)).toBe(9.76);
  });
  it('finds neighbours across decades', () => {
    expect([preferredAtLeast('E24', 9200), preferredAtMost('E24', 9200), preferredNearest('E24', 5000)]).toEqual([
      10_000, 9100, 5100,
    ]);
    expect(preferredAtLeast('E24', 22_000)).toBe(22_000);
    expect(preferredAtMost('E96', 0.101)).toBeCloseTo(0.1, 12);
  });
});
