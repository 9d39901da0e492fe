import { describe, expect, it } from 'vitest';
import { toRational } from '../../src/number/index.ts';
import type { Signal, Step } from '../../src/model/index.ts';
import { analyseRoute } from '../../src/translate/index.ts';
import { routeBetween, signal } from './bench-pairing.ts';

const bits = (length: number): Signal['bits'] => ({ start: 0, length, order: 'little' });

function faultsOf(from: string, to: string, steps?: Step[], range?: [number, number]) {
  const { pairing, route } = routeBetween(
    [signal({ id: 'S', unit: from, bits: bits(16), factor: 0.01, ...(range ? { range } : {}) })],
    signal({ id: 'T', unit: to, bits: bits(16), factor: 0.01 }),
    steps,
  );
  const { unitFaults, faults } = analyseRoute(pairing, route);
  return { unitFaults, faults };
}

describe('units that meet with nothing between them', () => {
  it.each([
    ['km/h', 'km/h', []],
    ['', '', []],
    ['', '1', []],
    // mistakes.json `unit-mismatch-speed`, `unit-dimension-wrong`, `gauge-vs-absolute`
    ['[mi_i]/h', 'km/h', ['no-conversion']],
    ['kPa', 'Cel', ['dimension']],
    ['kPa', 'kPa{gauge}', ['gauge-against-absolute']],
    ['Cel', 'K{difference}', ['point-against-difference']],
    ['%', '1', ['percent-against-fraction']],
    ['km/L', 'L/(100.km)', ['no-conversion']],
    ['furlong', 'km/h', ['unit-unknown']],
    ['furlong', 'furlong', ['unit-unknown']],
    ['', 'km/h', ['unit-unknown']],
    // A rotation is no frequency without a number of pulses.
    ['Hz', '{rev}/min', ['dimension']],
  ])('%s into %s', (from, to, kinds) => {
    const { unitFaults } = faultsOf(from, to);
    expect(unitFaults.map(({ kind }) => kind)).toEqual(kinds);
    for (const fault of unitFaults) expect([fault.at, fault.message.length > 20]).toEqual([null, true]);
  });

  it('offers the exact conversion to write out', () => {
    expect(faultsOf('[mi_i]/h', 'km/h').unitFaults).toMatchObject([
      { kind: 'no-conversion', exact: { factor: toRational('1.609344'), offset: toRational(0) } },
    ]);
    expect(faultsOf('1', '%').unitFaults).toMatchObject([{ exact: { factor: toRational(100) } }]);
  });

  it('is content with a convert step wherever a conversion exists', () => {
    for (const [from, to] of [
      ['[mi_i]/h', 'km/h'],
      ['%', '1'],
      ['km/L', 'L/(100.km)'],
      ['Cel', '[degF]'],
    ] as const) {
      expect(faultsOf(from, to, [{ do: 'convert' }]).unitFaults).toEqual([]);
      expect(faultsOf(from, to, [{ do: 'convert', to }]).unitFaults).toEqual([]);
    }
    expect(faultsOf('kPa', 'Cel', [{ do: 'convert' }]).unitFaults).toMatchObject([{ kind: 'dimension', at: 0 }]);
  });
});

describe('hand-written scalings', () => {
  const linear = (from: string, to: string, factor: number | string, offset: number | string = 0) =>
    faultsOf(from, to, [{ do: 'linear', factor, offset, unit: to }]).unitFaults;

  // The exact conversions are NIST SP 811 B.8 figures.
  it.each([
    ['[mi_i]/h', 'km/h', 1.609344, 0],
    ['[mi_i]/h', 'km/h', 1.609, 0],
    ['Cel', '[degF]', 1.8, 32],
    ['[degF]', 'Cel', '5/9', '-160/9'],
    ['[degF]', 'Cel', 0.5556, -17.778],
    ['[psi]', 'kPa', 6.894757, 0],
    ['kPa', 'kPa{gauge}', 1, -101.325],
    // Another atmosphere may be declared, and another quantity may follow from a sensor.
    ['kPa', 'kPa{gauge}', 1, -95],
    ['V', 'kPa', 25, -12.5],
    // In one unit: a sign convention, a tyre.
    ['deg', 'deg', -1, 0],
    ['km/h', 'km/h', 1.0139, 0],
    ['km/h', 'km/h', 2, 0],
  ])('accepts %s → %s by %s and %s', (from, to, factor, offset) => {
    expect(linear(from, to, factor, offset)).toEqual([]);
  });

  it.each([
    // what is written, and what the slip must name
    ['[mi_i]/h', 'km/h', 1, 0, /1\.609344.*mph read as km\/h/],
    ['km/h', 'km/h', 1.609344, 0, /1\.609344/],
    ['km/h', '[mi_i]/h', 1.609344, 0, /wrong way/],
    ['V', 'mV', 1, 0, /1000/],
    ['[psi]', 'kPa', 1, 0, /6\.894757.*psi read as kPa/],
    ['Cel', '[degF]', 1.8, 0, /32/],
    ['Cel', '[degF]', 1, 32, /1\.8/],
    ['Cel', '[degF]', 1, 0, /1\.8.*32/],
    ['km/h', '[mi_i]/h', -0.621371, 0, /sign/],
    ['A', 'mA', 256_000, 0, /byte order/],
    ['A', 'mA', '1000/65536', 0, /byte order/],
  ])('names the slip of %s → %s by %s and %s', (from, to, factor, offset, slip) => {
    const faults = linear(from, to, factor, offset);
    expect(faults).toMatchObject([{ kind: 'factor-contradicts', at: 0 }]);
    const [fault] = faults;
    expect(fault?.kind === 'factor-contradicts' && fault.slip).toMatch(slip);
  });

  it('says that a scaling is wrong even when it looks like no known slip', () => {
    expect(linear('[mi_i]/h', 'km/h', 1.37)).toMatchObject([{ kind: 'factor-contradicts', slip: null }]);
    expect(linear('kPa', 'kPa{gauge}', 1, 0)).toMatchObject([{ kind: 'gauge-against-absolute' }]);
    expect(linear('Cel', 'K{difference}', 1, 0)).toMatchObject([{ kind: 'point-against-difference' }]);
    expect(linear('km/L', 'L/(100.km)', 4, 0)).toMatchObject([{ kind: 'dimension' }]);
  });

  it('holds the k of a reciprocal against its units', () => {
    const reciprocal = (k: number) =>
      faultsOf('km/L', 'L/(100.km)', [{ do: 'reciprocal', k, unit: 'L/(100.km)' }], [5, 25]).unitFaults;
    expect(reciprocal(100)).toEqual([]);
    expect(reciprocal(235.2)).toMatchObject([{ kind: 'k-contradicts', exact: toRational(100) }]);
  });
});

describe('steps with faults', () => {
  const kinds = (from: string, to: string, steps: Step[], range?: [number, number]) =>
    faultsOf(from, to, steps, range).faults.map(({ kind, at }) => [kind, at]);

  it.each<[string, string, string, Step[], [string, number | null][]]>([
    [
      'pulses between what pulses cannot join',
      'V',
      'km/h',
      [{ do: 'pulses', pulsesPerUnit: 4, per: 'm', unit: 'km/h' }],
      [],
    ],
    [
      'a curve whose points do not rise',
      'V',
      'V',
      [
        {
          do: 'curve',
          from: 'V',
          unit: 'V',
          outside: 'clamp',
          points: [
            [1, 0],
            [1, 2],
          ],
        },
      ],
      [['not-rising', 0]],
    ],
    ['a limit upside down', 'V', 'V', [{ do: 'limit', min: 3, max: 2, unit: 'V' }], [['limit-inverted', 0]]],
    ['a rate below zero', 'V', 'V', [{ do: 'rate-limit', risePerS: -1, unit: 'V' }], [['rate-negative', 0]]],
    ['a division by zero', 's', 'Hz', [{ do: 'reciprocal', k: 1, unit: 'Hz' }], [['divides-by-zero', 0]]],
    [
      'a refused part of the range',
      'V',
      'V',
      [
        {
          do: 'curve',
          from: 'V',
          unit: 'V',
          outside: 'refuse',
          points: [
            [1, 0],
            [2, 2],
          ],
        },
      ],
      [['outside-refused', 0]],
    ],
    ['a number where a state is wanted', 'V', 'V', [{ do: 'not', swap: ['a', 'b'] }], [['kind-mismatch', 0]]],
    ['a source that is not there', 'V', 'V', [{ do: 'limit', of: 3, max: 1, unit: 'V' }], [['source-index', 0]]],
    [
      '"of" after the combining step',
      'V',
      'V',
      [{ do: 'highest' }, { do: 'limit', of: 0, max: 1, unit: 'V' }],
      [['source-index', 1]],
    ],
    ['a second combining step', 'V', 'V', [{ do: 'highest' }, { do: 'lowest' }], [['already-combined', 1]]],
    [
      'thresholds that fall',
      'V',
      'V',
      [{ do: 'bands', at: [2, 1], states: ['a', 'b', 'c'], unit: 'V' }],
      [['not-rising', 0]],
    ],
    ['a state too few', 'V', 'V', [{ do: 'bands', at: [1, 2], states: ['a', 'b'], unit: 'V' }], [['band-count', 0]]],
    [
      'a hysteresis below zero',
      'V',
      'V',
      [{ do: 'bands', at: [1], states: ['a', 'b'], hysteresis: -1, unit: 'V' }],
      [['hysteresis', 0]],
    ],
  ])('%s', (_, from, to, steps, expected) => {
    expect(kinds(from, to, steps)).toEqual(expected);
  });

  it('reports references that lead nowhere, several values at the end, and a target of no use', () => {
    const { pairing, route } = routeBetween(
      [signal({ id: 'S', unit: 'V' }), signal({ id: 'R', unit: 'V' })],
      signal({ id: 'T', unit: 'V' }),
      [],
    );
    expect(analyseRoute(pairing, route).faults).toMatchObject([{ kind: 'not-combined', count: 2 }]);
    const lost = analyseRoute(pairing, { ...route, from: ['donor:M0.None', route.from[1]!], to: 'host:Nothing' });
    expect(lost.faults.filter(({ kind }) => kind === 'reference-unknown')).toMatchObject([
      { ref: 'donor:M0.None' },
      { ref: 'host:Nothing' },
    ]);
    expect([lost.sources[0], lost.target, lost.delivered]).toEqual([null, null, null]);
    expect(analyseRoute(pairing, { ...route, from: [] }).faults).toMatchObject([{ kind: 'no-sources' }]);
    const flat = routeBetween([signal({ id: 'S', unit: 'V' })], signal({ id: 'T', unit: 'V', factor: 0 }), []);
    expect(analyseRoute(flat.pairing, flat.route).faults).toMatchObject([{ kind: 'target-unusable' }]);
  });

  it('reports units that differ between combined sources, and sums of points', () => {
    const mixed = routeBetween(
      [signal({ id: 'S', unit: 'km/h' }), signal({ id: 'R', unit: '[mi_i]/h' })],
      signal({ id: 'T', unit: 'km/h' }),
      [{ do: 'highest' }],
    );
    expect(analyseRoute(mixed.pairing, mixed.route).unitFaults).toMatchObject([{ kind: 'no-conversion', at: 0 }]);
    const sum = routeBetween(
      [signal({ id: 'S', unit: 'Cel' }), signal({ id: 'R', unit: 'Cel' })],
      signal({ id: 'T', unit: 'Cel' }),
      [{ do: 'sum' }],
    );
    expect(analyseRoute(sum.pairing, sum.route).unitFaults).toMatchObject([
      { kind: 'point-against-difference', at: 0 },
    ]);
    const difference = routeBetween(
      [signal({ id: 'S', unit: 'Cel' }), signal({ id: 'R', unit: 'Cel' })],
      signal({ id: 'T', unit: 'K{difference}', number: 'signed', bits: bits(16) }),
      [{ do: 'difference' }],
    );
    const analysis = analyseRoute(difference.pairing, difference.route);
    expect(analysis.unitFaults).toEqual([]);
    expect(analysis.delivered).toMatchObject({ interval: { lo: toRational(-255), hi: toRational(255) } });
  });
});
