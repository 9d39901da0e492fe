/**
 * The independent units library @lhncbc/ucum-lhc (United States National Library of Medicine), which holds the table of the UCUM
 * specification and computes in doubles. Every pair of units of one quantity that it knows, both ways, must agree to 1e-9.
 * Where it means something else it is listed with the reason, and must still differ.
 */
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { toNumber, toRational } from '../../src/number/index.ts';
import { type Unit, UNITS, conversionBetween, convertExact, findUnit, unitByCode } from '../../src/units/index.ts';

interface UcumUnit {
  readonly dim_: { readonly dimVec_: readonly number[] | null } | null;
}
interface Ucum {
  convertUnitTo(from: string, value: number, to: string): { status: string; toVal: number | null };
  validateUnitString(text: string): { status: string; ucumCode: string | null; unit: { name: string } };
  getSpecifiedUnit(text: string, mode: string): { unit: UcumUnit | null };
}
// The package is CommonJS and ships no types.
const { UcumLhcUtils } = createRequire(import.meta.url)('@lhncbc/ucum-lhc') as {
  UcumLhcUtils: { getInstance(): Ucum };
};
const ucum = UcumLhcUtils.getInstance();

/** Codes whose annotation carries meaning which UCUM ignores, with the UCUM unit that says the same. */
const WRITTEN: Readonly<Record<string, string>> = {
  '{rev}': 'circ',
  '{rev}/min': 'circ/min',
  '{rev}/s': 'circ/s',
  '{rev}/min/s': 'circ/min/s',
  '{rev}/km': 'circ/km',
  '{rev}/[mi_i]': 'circ/[mi_i]',
  '{pulse}/{rev}': '{pulse}/circ',
  'K{difference}': 'K',
  '[degF]{difference}': '[degR]',
};

/** Conventional mercury: NIST SP 811 has 133.322 387 4 Pa/mm, the UCUM table rounds to 133.322 0. */
const MERCURY = new Set(["[in_i'Hg]", 'mm[Hg]', "[in_i'Hg]{gauge}"]);

function unit(code: string): Unit {
  const found = unitByCode(code);
  if (found === null) throw new Error(`${code} is not in the table`);
  return found;
}

function theirs(from: string, value: number, to: string): number | null {
  const answer = ucum.convertUnitTo(WRITTEN[from] ?? from, value, WRITTEN[to] ?? to);
  return answer.status === 'succeeded' ? answer.toVal : null;
}

function ours(from: Unit, value: number, to: Unit): number | null {
  const answer = convertExact(toRational(value), from, to);
  return 'kind' in answer ? null : toNumber(answer);
}

const quantities = [...new Set(UNITS.map((u) => u.quantity))].map(
  (quantity) => [quantity, UNITS.filter((u) => u.quantity === quantity)] as const,
);

describe('every unit of the table in the UCUM library', () => {
  let compared = 0;

  it('knows every code as valid UCUM', () => {
    const unknown = UNITS.filter((u) => {
      const answer = ucum.validateUnitString(u.code);
      return answer.status !== 'valid' || answer.ucumCode !== u.code;
    });
    expect(unknown.map((u) => u.code)).toEqual([]);
    expect(UNITS.length).toBeGreaterThan(300);
  });

  it.each(quantities)('%s converts alike, both ways', (_quantity, units) => {
    for (const from of units) {
      for (const to of units) {
        if (MERCURY.has(from.code) !== MERCURY.has(to.code)) continue;
        for (const value of [1, -40, 8031.875]) {
          const expected = theirs(from.code, value, to.code);
          const actual = ours(from, value, to);
          const pair = `${value} ${from.code} in ${to.code}`;
          expect(expected, `${pair}: unknown to the library`).not.toBeNull();
          expect(actual, `${pair}: unknown to us`).not.toBeNull();
          // A temperature is a difference of figures near 300: below that the library's doubles have no more digits.
          const size = from.quantity === 'temperature' ? Math.max(Math.abs(expected!), 300) : Math.abs(expected!);
          const allowed = 1e-9 * size;
          expect(Math.abs(actual! - expected!), `${pair}: ${actual} against ${expected}`).toBeLessThanOrEqual(allowed);
          compared += 1;
        }
      }
    }
  });

  it('compared thousands of values', () => {
    expect(compared).toBeGreaterThan(7000);
  });
});

describe('dimensions', () => {
  /**
   * The library's vector is (length, time, mass, plane angle, temperature, charge, luminous intensity). It counts charge where
   * the SI counts current, does not count bits, moles and levels, and gives torque, turns and lumens no angle: those are ours.
   */
  it.each(UNITS.map((u) => [u.code, u] as const))('%s', (code, u) => {
    const answer = ucum.getSpecifiedUnit(code, 'validate').unit;
    const vector = answer?.dim_?.dimVec_ ?? [0, 0, 0, 0, 0, 0, 0];
    const [length, time, mass, , temperature, charge, light] = vector;
    const d = u.dimension;
    expect({ length, time, mass, temperature, charge, light }).toEqual({
      length: d.m + 0,
      time: d.s - d.A + 0,
      mass: d.kg + 0,
      temperature: d.K + 0,
      charge: d.A + 0,
      light: d.cd + 0,
    });
  });
});

describe('factors to the SI', () => {
  /** The coherent SI unit of a dimension as UCUM text: with our angle left out, as radian, or as steradian. */
  function siTexts(u: Unit): readonly string[] {
    const d = u.dimension;
    const parts = (['m', 'kg', 's', 'A', 'K', 'mol', 'cd', 'bit'] as const)
      .filter((base) => d[base] !== 0)
      .map((base) => `${base}${d[base] === 1 ? '' : d[base]}`);
    const text = (extra: readonly string[]): string => [...parts, ...extra].join('.') || '1';
    return [text([]), text([`rad${d.angle === 1 ? '' : d.angle}`]), text(['sr'])];
  }

  it.each(UNITS.filter((u) => u.dimension.level === 0).map((u) => [u.code, u] as const))('%s', (code, u) => {
    const to = siTexts(u).find((text) => theirs(code, 1, text) !== null);
    if (to === undefined) throw new Error(`the library converts ${code} to none of ${siTexts(u).join(', ')}`);
    const factor = toNumber(u.toSi.factor);
    const expected = theirs(code, 2, to)! - theirs(code, 1, to)!;
    // 3e-6 for the rounded mercury, see below; a difference of two temperatures loses a few digits of the library's doubles.
    const allowed = MERCURY.has(code) ? 3e-6 : 1e-9;
    expect(Math.abs(factor / expected - 1), `${factor} against ${expected} ${to}`).toBeLessThan(allowed);
  });
});

describe('differences that must remain', () => {
  it.each([
    ["[in_i'Hg]", 'Pa', 'the UCUM table rounds mercury to 133.322 0 Pa/mm'],
    ['mm[Hg]', 'Pa', 'the UCUM table rounds mercury to 133.322 0 Pa/mm'],
    ["[in_i'Hg]{gauge}", 'Pa{gauge}', 'the UCUM table rounds mercury to 133.322 0 Pa/mm'],
  ])('%s to %s: %s', (from, to) => {
    const a = theirs(from, 1, to)!;
    const conversion = conversionBetween(unit(from), unit(to));
    if (conversion.kind !== 'affine') throw new Error(conversion.kind);
    const b = toNumber(conversion.affine.factor);
    expect(Math.abs(a - b) / b).toBeGreaterThan(2e-6);
    expect(Math.abs(a - b) / b).toBeLessThan(4e-6);
  });

  it.each([
    ['kPa{gauge}', 'kPa', 'it drops the annotation; gauge pressure is not absolute pressure'],
    ['[psi]{gauge}', 'bar', 'it drops the annotation; gauge pressure is not absolute pressure'],
    ['K{difference}', 'K', 'it drops the annotation; a difference is not a temperature'],
    ['N.m', 'J', 'it counts no angle; a torque is no energy'],
    ['mm2', 'L/(100.km)', 'it knows dimensions only; a cross-section is no fuel consumption'],
    ['kW.h/(100.km)', 'N', 'it knows dimensions only; an energy consumption is no force'],
    ['%/s', 'Hz', 'it knows dimensions only; a rate of percent is no frequency'],
    ['{count}/s', 'Hz', 'it knows dimensions only; counts are not cycles'],
    ['mg/{stroke}', 'mg', 'it drops the annotation; an amount per stroke is no amount'],
    ['{lambda}', '%', 'it drops the annotation; an air–fuel ratio is no percentage'],
    ['{gear}', '1', 'it drops the annotation; a gear is no ratio'],
    ['V.A', 'W', 'it knows dimensions only; apparent power is no power'],
    ['{pulse}/m', '1/m', 'it drops the annotation; pulses per distance are no curvature'],
  ])('%s to %s: it converts, we refuse — %s', (from, to) => {
    expect(theirs(from, 1, to)).not.toBeNull();
    expect(conversionBetween(unit(from), unit(to)).kind).toBe('none');
  });

  it('{rev}/min to Hz: it drops {rev} and divides by 60; we ask for pulses per revolution', () => {
    expect(ucum.convertUnitTo('{rev}/min', 60, 'Hz').toVal).toBeCloseTo(1, 12);
    const ourAnswer = conversionBetween(unit('{rev}/min'), unit('Hz'));
    expect(ourAnswer.kind).toBe('none');
    if (ourAnswer.kind === 'none') expect(ourAnswer.message).toContain('pulses per revolution');
  });

  it.each([
    ['L/(100.km)', 'km/L'],
    ['[mi_i]/[gal_br]', 'L/(100.km)'],
    ['kW.h/(100.km)', 'km/(kW.h)'],
    ['ms', 'Hz'],
    ['kOhm', 'mS'],
  ])('%s to %s: it refuses, we convert by y = k / x', (from, to) => {
    expect(theirs(from, 1, to)).toBeNull();
    const conversion = conversionBetween(unit(from), unit(to));
    expect(conversion.kind).toBe('reciprocal');
    // Independently, through units it does know: the value of 1 `from` in SI, times that of 1 `to`, is 1 / k.
    const si = (code: string, base: string): number => theirs(code, 1, base)!;
    const bases: Record<string, readonly [string, string]> = {
      'L/(100.km)': ['m2', '1/m2'],
      '[mi_i]/[gal_br]': ['1/m2', 'm2'],
      'kW.h/(100.km)': ['N', '1/N'],
      ms: ['s', '1/s'],
      kOhm: ['Ohm', 'S'],
    };
    const [fromBase, toBase] = bases[from]!;
    if (conversion.kind !== 'reciprocal') throw new Error(conversion.kind);
    const k = 1 / (si(from, fromBase) * si(to, toBase));
    expect(Math.abs(toNumber(conversion.k) - k) / k).toBeLessThan(1e-12);
  });

  it.each([
    ['mph', 'milliphot', '[mi_i]/h'],
    ['C', 'coulomb', null],
    ['g', 'gram', null],
    ['F', 'farad', null],
    ['T', 'tesla', null],
    ['S', 'siemens', null],
    ['H', 'henry', null],
    ['B', 'bel', null],
    ['G', 'Gauss', '[g]'],
  ])('the text %s is %s in UCUM; in vehicle files we read it as %s', (text, name, code) => {
    const answer = ucum.validateUnitString(text);
    expect(answer.unit.name.toLowerCase()).toContain(name.toLowerCase());
    expect(findUnit(text)?.unit.code ?? null).toBe(code);
  });
});
