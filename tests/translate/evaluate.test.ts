import { describe, expect, it } from 'vitest';
import { toExact, toRational } from '../../src/number/index.ts';
import type { Signal, Step } from '../../src/model/index.ts';
import { type SourceInput, analyseRoute, evaluateRoute, sourceFor } from '../../src/translate/index.ts';
import { routeBetween, signal, wire } from './bench-pairing.ts';

const bits = (length: number): Signal['bits'] => ({ start: 0, length, order: 'little' });
const raw = (n: bigint | number): SourceInput => ({ kind: 'raw', raw: n });

function analysis(
  from: Parameters<typeof routeBetween>[0],
  to: Parameters<typeof routeBetween>[1],
  steps?: Step[],
  more = {},
) {
  const { pairing, route } = routeBetween(from, to, steps, more);
  return analyseRoute(pairing, route);
}

describe('a route with values in it', () => {
  // NIST SP 811 (2008) B.8/B.9: t/°F = 1.8 t/°C + 32; SAE J1939-71 SPN 110: 1 °C a bit, offset −40 °C, 255 not available.
  const coolant = analysis(
    [signal({ id: 'S', offset: -40, unit: 'Cel', notAvailable: [255], error: [254] })],
    signal({ id: 'T', bits: bits(9), factor: 1, offset: -60, unit: '[degF]', notAvailable: [511] }),
    [{ do: 'convert' }],
  );

  it('shows every stage from raw to raw', () => {
    const { sources, stages, delivered, target } = evaluateRoute(coolant, [raw(130n)]);
    expect(sources[0]).toMatchObject({ raw: 130n, value: { kind: 'number', value: toRational(90) } });
    expect(stages[0]?.values).toEqual([{ kind: 'number', value: toRational(194) }]);
    expect(delivered).toEqual({ kind: 'number', value: toRational(194) });
    expect(target).toMatchObject({
      raw: 254n,
      value: { value: toRational(194) },
      clipped: 'none',
      error: toRational(0),
    });
  });

  it('tells the rounding error and the clip', () => {
    const rounded = evaluateRoute(coolant, [raw(131n)]).target;
    // 91 °C = 195.8 °F, shown as 196.
    expect([rounded.raw, toExact(rounded.error!)]).toEqual([256n, 0.2]);
    const low = analysis([signal({ id: 'S', offset: -40, unit: 'Cel' })], signal({ id: 'T', unit: 'Cel' }));
    expect(evaluateRoute(low, [raw(0)]).target).toMatchObject({ raw: 0n, clipped: 'low', error: toRational(40) });
    const turned = analysis([signal({ id: 'S', unit: 'A' })], signal({ id: 'T', factor: -1, offset: 100, unit: 'A' }));
    expect(evaluateRoute(turned, [raw(120)]).target).toMatchObject({ raw: 0n, clipped: 'high' });
  });

  it('passes on that there is no value', () => {
    expect(evaluateRoute(coolant, [raw(255)]).target).toMatchObject({
      raw: 511n,
      value: { kind: 'none', means: 'not-available' },
    });
    expect(evaluateRoute(coolant, [raw(254)]).target).toMatchObject({ raw: 511n });
    expect(evaluateRoute(coolant, [null]).target).toMatchObject({ raw: 511n });
    const bare = analysis([signal({ id: 'S', unit: 'V', notAvailable: [255] })], signal({ id: 'T', unit: 'V' }));
    expect(evaluateRoute(bare, [raw(255)]).target).toMatchObject({ raw: null, asOnLoss: true });
    const divide = analysis([signal({ id: 'S', unit: 'ms' })], signal({ id: 'T', unit: 'Hz', bits: bits(16) }), [
      { do: 'convert' },
    ]);
    expect(evaluateRoute(divide, [raw(0)]).delivered).toMatchObject({ kind: 'none', why: 'outside' });
    expect(evaluateRoute(divide, [raw(20)]).target).toMatchObject({ raw: 50n });
  });

  it('takes physical values by the nearest raw value, and reads floats as they are held', () => {
    const { sources } = evaluateRoute(coolant, [{ kind: 'physical', value: toRational(90.4) }]);
    expect(sources[0]).toMatchObject({ raw: 130n, value: { value: toRational(90) } });
    const float = analysis(
      [signal({ id: 'S', bits: bits(32), number: 'float32', unit: 'V' })],
      signal({ id: 'T', factor: 0.1, unit: 'V' }),
    );
    // IEEE 754 binary32: 0.1 is held as 13421773 · 2^-27.
    expect(evaluateRoute(float, [{ kind: 'physical', value: toRational(0.1) }]).sources[0]?.value).toEqual({
      kind: 'number',
      value: toRational('13421773/134217728'),
    });
    expect(evaluateRoute(float, [raw(Number.NaN)]).delivered).toMatchObject({ kind: 'none', means: 'error' });
  });

  it('keeps 64-bit values to the last bit', () => {
    const copy = analysis(
      [signal({ id: 'S', bits: bits(64), unit: 'm' })],
      signal({ id: 'T', bits: bits(64), unit: 'm' }),
    );
    expect(evaluateRoute(copy, [raw(18_446_744_073_709_551_614n)]).target.raw).toBe(18_446_744_073_709_551_614n);
  });

  it('steps aside from a raw value that the target reads as no value', () => {
    const gap = analysis([signal({ id: 'S', unit: 'V' })], signal({ id: 'T', unit: 'V', notAvailable: [100] }));
    expect(evaluateRoute(gap, [raw(100)]).target).toMatchObject({ raw: 99n, error: toRational(-1) });
    expect(gap.landsOnSpecial).toMatchObject([{ raw: '100' }]);
  });

  it('combines by what decides', () => {
    const onOff = (id: string) => signal({ id, bits: bits(2), states: { 0: 'Off', 1: 'On' }, notAvailable: [3] });
    const all = analysis([onOff('A'), onOff('B')], onOff('T'), [
      { do: 'all-of', when: ['On'], yields: 'On', otherwise: 'Off' },
    ]);
    const any = analysis([onOff('A'), onOff('B')], onOff('T'), [
      { do: 'any-of', when: ['On'], yields: 'On', otherwise: 'Off' },
    ]);
    const first = analysis([onOff('A'), onOff('B')], onOff('T'), [{ do: 'first-valid' }]);
    const table = (route: typeof all) =>
      [0, 1, 3].map((a) => [0, 1, 3].map((b) => Number(evaluateRoute(route, [raw(a), raw(b)]).target.raw)));
    // Rows A, columns B: off, on, not available. The strong three-valued logic of Kleene (1952).
    expect(table(all)).toEqual([
      [0, 0, 0],
      [0, 1, 3],
      [0, 3, 3],
    ]);
    expect(table(any)).toEqual([
      [0, 1, 3],
      [1, 1, 1],
      [3, 1, 3],
    ]);
    expect(table(first)).toEqual([
      [0, 0, 0],
      [1, 1, 1],
      [0, 1, 3],
    ]);
  });

  it('chooses, adds, and sorts into bands', () => {
    const volts = (id: string) => signal({ id, unit: 'V', factor: 0.1 });
    const number = (steps: Step[]) => analysis([volts('A'), volts('B')], volts('T'), steps);
    const at = (steps: Step[], a: number, b: number) => evaluateRoute(number(steps), [raw(a), raw(b)]).target.raw;
    expect(at([{ do: 'highest' }], 30, 20)).toBe(30n);
    expect(at([{ do: 'lowest' }], 30, 20)).toBe(20n);
    expect(at([{ do: 'sum' }], 30, 20)).toBe(50n);
    expect(at([{ do: 'difference' }], 30, 20)).toBe(10n);
    expect(at([{ do: 'choose-by', selector: 0, cases: { 3: { source: 1 }, 4: { value: 7.7 } } }], 30, 20)).toBe(20n);
    expect(at([{ do: 'choose-by', selector: 0, cases: { 3: { source: 1 }, 4: { value: 7.7 } } }], 40, 20)).toBe(77n);
    expect(at([{ do: 'choose-by', selector: 0, cases: { 3: { source: 1 } } }], 50, 20)).toBeNull();
    const bands = analysis([volts('A')], signal({ id: 'T', bits: bits(2), states: { 0: 'Low', 1: 'High' } }), [
      { do: 'bands', at: [10], states: ['Low', 'High'], hysteresis: 2, unit: 'V' },
    ]);
    expect([99, 100].map((value) => evaluateRoute(bands, [raw(value)]).target.raw)).toEqual([0n, 1n]);
  });

  it('lets unnamed raw values go by their digits until a step names them', () => {
    // A gear whose names are shifted against its raw values: raw 3 has no name, raw 4 is called "3".
    const gear = signal({ id: 'S', bits: bits(3), states: { 1: '0', 4: '3' } });
    const shown = signal({ id: 'T', bits: bits(4), states: { 8: '3', 9: '5', 10: 'other' } });
    const copy = analysis([gear], shown);
    expect([4, 3, 5].map((value) => evaluateRoute(copy, [raw(value)]).target.raw)).toEqual([8n, null, null]);
    const named = analysis([gear], shown, [{ do: 'states', map: { 3: '3', 5: '5' }, otherwise: 'other' }]);
    expect([4, 5, 6].map((value) => evaluateRoute(named, [raw(value)]).target.raw)).toEqual([8n, 9n, 10n]);
  });

  it('reads and drives wires', () => {
    // A 240–33 Ω sender (mistakes.json `sender-curve-reversed`); half way is 136.5 Ω by the straight line between its ends.
    const sender = wire({
      id: 'w',
      electrical: { class: 'resistive' },
      meaning: {
        curve: {
          of: 'Ohm',
          points: [
            [240, 0],
            [33, 100],
          ],
        },
        unit: '%',
      },
    });
    const gauge = wire({
      id: 'g',
      electrical: { class: 'resistive' },
      meaning: {
        curve: {
          of: 'Ohm',
          points: [
            [0, 0],
            [90, 100],
          ],
        },
        unit: '%',
      },
    });
    const { sources, target } = evaluateRoute(analysis([sender], gauge), [
      { kind: 'level', quantity: toRational(136.5) },
    ]);
    expect(sources[0]?.value).toEqual({ kind: 'number', value: toRational(50) });
    expect(toExact(target.level!)).toBe(45);
    const lamp = analysis(
      [wire({ id: 'a', meaning: { active: 'Pressed', inactive: 'Released' } })],
      wire({ id: 'b', meaning: { active: 'Lit', inactive: 'Dark' } }),
      undefined,
      { carrier: 'hard-wire' },
    );
    expect(evaluateRoute(lamp, [{ kind: 'state', label: 'Pressed' }]).target.value).toEqual({
      kind: 'state',
      label: 'Lit',
    });
  });
});

describe('the way back', () => {
  it('finds the source of a wanted value', () => {
    const { pairing, route } = routeBetween(
      [signal({ id: 'S', unit: 'km/h', bits: bits(16), factor: 0.01 })],
      signal({ id: 'T', unit: '[mi_i]/h' }),
      [{ do: 'convert' }],
    );
    const wanted = sourceFor(analyseRoute(pairing, route), { kind: 'number', value: toRational(100) });
    expect(wanted).toEqual({ kind: 'found', inputs: [{ kind: 'physical', value: toRational('160.9344') }] });
    expect(sourceFor(analyseRoute(pairing, route), { kind: 'number', value: toRational(1000) })).toEqual({
      kind: 'none',
      why: 'not-reached',
    });
  });

  it('finds the states that lead to one, and says where there is no way back', () => {
    const lever = signal({ id: 'S', bits: bits(3), states: { 0: 'P', 3: 'D', 4: 'M' } });
    const show = signal({ id: 'T', bits: bits(3), states: { 1: 'P', 4: 'D' } });
    const states = analysis([lever], show, [{ do: 'states', map: { P: 'P', D: 'D', M: 'D' } }]);
    expect(sourceFor(states, { kind: 'state', label: 'D' })).toMatchObject({
      inputs: [{ label: 'D' }, { label: 'M' }],
    });
    const bands = analysis([signal({ id: 'S', unit: 'V' })], show, [
      { do: 'bands', at: [5], states: ['P', 'D'], unit: 'V' },
    ]);
    expect(sourceFor(bands, { kind: 'state', label: 'D' })).toMatchObject({ why: 'no-way-back' });
  });
});
