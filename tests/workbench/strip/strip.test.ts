import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { insertRaw } from '../../../src/can/index.ts';
import type { Signal } from '../../../src/model/index.ts';
import { toRational } from '../../../src/number/index.ts';
import { analyseRoute, evaluateRoute } from '../../../src/translate/index.ts';
import { frameCells, rawPattern } from '../../../src/workbench/strip/bits.ts';
import {
  errorText,
  formulaOfStages,
  numberText,
  rawTexts,
  valueText,
  whyNoWay,
} from '../../../src/workbench/strip/format.ts';
import { firstInputs, shareOf, sliderOf } from '../../../src/workbench/strip/inputs.ts';
import { readPhysical, readRaw } from '../../../src/workbench/strip/read-typed.ts';
import { routeOfSelection } from '../../../src/workbench/strip/Strip.tsx';
import { electricalFacts } from '../../../src/workbench/strip/wire-facts.ts';
import { samplePairing } from '../loom/sample.ts';

const pairing = samplePairing();

function signalOf(bits: Signal['bits'], number: Signal['number'] = 'unsigned'): Signal {
  return { id: 'S', bits, number, factor: 1, offset: 0, unit: '1' };
}

describe('the bits of a frame', () => {
  test('light the same bits that the frame writer sets', () => {
    const fields = fc.record({
      length: fc.integer({ min: 1, max: 64 }),
      order: fc.constantFrom('little' as const, 'big' as const),
      seed: fc.bigInt({ min: 0n, max: (1n << 64n) - 1n }),
    });
    fc.assert(
      fc.property(fields, ({ length, order, seed }) => {
        const start = order === 'little' ? 0 : 7;
        const raw = BigInt.asUintN(length, seed);
        const bytes = new Uint8Array(8);
        insertRaw(bytes, { start, length, order }, raw);
        const cells = frameCells({ length: 8 }, signalOf({ start, length, order }), raw);
        expect(cells).toHaveLength(64);
        expect(cells.filter(({ isField }) => isField)).toHaveLength(length);
        for (const { byte, bit, isField, isSet } of cells)
          expect(isSet ?? false).toBe(isField && ((bytes[byte]! >> bit) & 1) === 1);
      }),
    );
  });

  test('of a long frame show eight bytes with the whole field', () => {
    const cells = frameCells({ length: 64 }, signalOf({ start: 500, length: 12, order: 'little' }), 0n);
    expect(new Set(cells.map(({ byte }) => byte)).size).toBe(8);
    expect(cells.filter(({ isField }) => isField)).toHaveLength(12);
  });

  // IEEE 754-2019, 3.4: 1.5 is sign 0, exponent 127, fraction 0x400000.
  test('take a float by its encoding', () => {
    expect(rawPattern(signalOf({ start: 0, length: 32, order: 'little' }, 'float32'), 1.5)).toBe(0x3fc00000n);
    expect(rawPattern(signalOf({ start: 0, length: 8, order: 'little' }, 'signed'), -1n)).toBe(0xffn);
  });
});

describe('values in words', () => {
  test('numbers carry their unit and a true minus', () => {
    expect(valueText({ kind: 'number', value: toRational('-12.5') }, 'Cel')).toBe('−12.5 °C');
    expect(valueText({ kind: 'number', value: toRational(3) }, '1')).toBe('3');
    expect(numberText({ num: 2n, den: 3n })).toBe('0.666666667');
  });

  test('what is no value says why', () => {
    expect(valueText({ kind: 'none', means: 'not-available', why: 'special' }, 'V')).toBe(
      'not available: sent as such',
    );
    expect(valueText({ kind: 'none', means: 'error', why: 'absent' }, 'V')).toMatch(/^error: /);
    expect(whyNoWay({ kind: 'none', why: 'no-way-back' })).toContain('no way back');
  });

  test('raw values in decimal and in all hexadecimal digits of the field', () => {
    expect(rawTexts(-1n, 12)).toEqual({ decimal: '−1', hex: '0xFFF' });
    expect(rawTexts(10n, 16)).toEqual({ decimal: '10', hex: '0x000A' });
    expect(rawTexts(null, 8)).toEqual({ decimal: '–', hex: '' });
  });

  test('errors have a sign', () => {
    expect(errorText(toRational('0.25'), 'km/h')).toBe('+0.25 km/h');
    expect(errorText(toRational('-0.25'), 'km/h')).toBe('−0.25 km/h');
    expect(errorText(toRational(0), 'km/h')).toBe('exact');
  });

  test('typed values are read as people write them', () => {
    expect(readPhysical(' −12,5 ')).toEqual(toRational('-12.5'));
    expect(readPhysical('twelve')).toBeNull();
    expect(readRaw('0xFFF', 12, true)).toBe(-1n);
    expect(readRaw('0xFFF', 12, false)).toBe(4095n);
    expect(readRaw('0x1FFF', 12, false)).toBeNull();
    expect(readRaw('1.5', 12, false)).toBeNull();
  });

  test('the electrical character of a wire has a unit on every value', () => {
    expect(
      electricalFacts({ class: 'input-pull-up-12v', pullOhm: 1000, pullToV: 12, thresholdLowV: 2, thresholdHighV: 8 }),
    ).toEqual([
      ['thresholds', '2 … 8 V'],
      ['pull', '1000 Ω to 12 V'],
    ]);
  });
});

describe('the stages of every sample route', () => {
  test('have a line of arithmetic for each effect, and begin with a value at every source', () => {
    for (const route of pairing.map.routes) {
      const analysis = analyseRoute(pairing, route);
      const formulas = formulaOfStages(analysis);
      expect(formulas).toHaveLength(route.steps?.length ?? 0);
      formulas.forEach((lines, at) => {
        expect(lines).toHaveLength(analysis.stages[at]!.effects.filter((effect) => effect !== null).length);
        for (const line of lines) expect(line).toMatch(/^x\d+ = /);
      });
      const evaluation = evaluateRoute(analysis, firstInputs(analysis));
      evaluation.sources.forEach(({ value }, at) => {
        const kind = analysis.sources[at]?.kind;
        if (kind === 'number' || kind === 'state') expect(value.kind).toBe(kind);
      });
    }
  });

  test('slide over exactly the usable raw values of the source', () => {
    const { sources } = analyseRoute(pairing, pairing.routes.get('vehicle-speed')!);
    const domain = sources[0]!;
    if (domain.kind !== 'number' || domain.coding?.kind !== 'integer' || !domain.coding.usable)
      throw new Error('not a field');
    const { lo, hi } = domain.coding.usable;
    const slider = sliderOf(domain)!;
    expect(slider.inputAt(0)).toEqual({ kind: 'raw', raw: lo });
    expect(slider.inputAt(slider.count)).toEqual({ kind: 'raw', raw: hi });
    expect(slider.positionOf(hi, null)).toBe(slider.count);
    expect(shareOf(toRational(5), { lo: toRational(0), hi: toRational(20) })).toBe(0.25);
    expect(shareOf(toRational(50), { lo: toRational(0), hi: toRational(20) })).toBe(1);
  });

  test('are those of the route that a selected signal belongs to', () => {
    const route = pairing.routes.get('vehicle-speed')!;
    expect(routeOfSelection(pairing, route.to)).toBe(route);
    expect(routeOfSelection(pairing, 'route:vehicle-speed')).toBe(route);
    expect(routeOfSelection(pairing, 'module:host:abs')).toBeNull();
  });
});
