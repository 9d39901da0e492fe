import { describe, expect, it } from 'vitest';
import type { Signal, Step } from '../../src/model/index.ts';
import { analyseRoute, routeFormula, routeSentence, routeTables } from '../../src/translate/index.ts';
import { routeBetween, signal, wire } from './bench-pairing.ts';

const bits = (length: number): Signal['bits'] => ({ start: 0, length, order: 'little' });

function analysis(
  from: Parameters<typeof routeBetween>[0],
  to: Parameters<typeof routeBetween>[1],
  steps?: Step[],
  more = {},
) {
  const { pairing, route } = routeBetween(from, to, steps, more);
  return analyseRoute(pairing, route);
}

describe('a route in words', () => {
  it('says what it is, what carries it and what loss does', () => {
    const tach = analysis(
      // SAE J1939-71, SPN 190: 0.125 rev/min a bit.
      [signal({ id: 'EngSpeed', bits: bits(16), factor: 0.125, unit: '{rev}/min' })],
      signal({ id: 'Tach', bits: bits(16), factor: 0.25, unit: '{rev}/min', notAvailable: [65535] }),
      undefined,
      { staleAfterMs: 100, onLoss: { do: 'substitute', value: 0 }, recoverAfter: 3 },
    );
    expect(routeSentence(tach)).toBe(
      'Tach of T (host) is EngSpeed of M0 (donor), unchanged, through the interface module xm; when 100 ms have passed without the source, 0 rpm is given instead, until 3 good samples have come.',
    );
    expect(routeFormula(tach).split('\n')).toEqual([
      'EngSpeed = 0.125 · raw(EngSpeed) [rpm]',
      'Tach = EngSpeed [rpm]',
      'raw(Tach) = round(Tach / 0.25), kept within 0 … 65534; 65535 not available',
    ]);
    expect(routeTables(tach)).toEqual([]);
  });

  it('names every step in its order', () => {
    const coolant = analysis(
      // SAE J1939-71, SPN 110: 1 °C a bit, offset −40 °C.
      [signal({ id: 'Coolant', offset: -40, unit: 'Cel', notAvailable: [255] })],
      signal({ id: 'Coolant', bits: bits(10), factor: 0.5, offset: -60, unit: '[degF]' }),
      [{ do: 'limit', max: 150, unit: 'Cel' }, { do: 'convert' }, { do: 'smooth', timeConstantMs: 2000 }],
      { staleAfterMs: 2500, onLoss: { do: 'hold', forMs: 5000, then: 'stop-sending' } },
    );
    expect(routeSentence(coolant)).toContain(
      'held at 150 °C or below, then converted from °C to °F, then smoothed with a time constant of 2 s, through',
    );
    expect(routeSentence(coolant)).toContain(
      'when 2.5 s have passed without the source, the last value stays for 5 s, then sending stops.',
    );
    // °F = 1.8 · °C + 32: NIST SP 811 (2008), B.9.
    expect(routeFormula(coolant).split('\n')).toEqual([
      'Coolant = raw(Coolant) − 40 [°C]',
      'x1 = limit(Coolant; −∞ … 150 °C) [°C]',
      'x2 = 1.8 · x1 + 32 [°F]',
      'x3 = smooth(x2; 2 s) [°F]',
      'Coolant′ = x3 [°F]',
      'raw(Coolant′) = round((Coolant′ + 60) / 0.5), kept within 0 … 1023',
    ]);
    expect(routeTables(coolant)).toEqual([
      {
        kind: 'special',
        title: 'Raw values that are no values',
        columns: ['raw in', 'means', 'the reader gets'],
        rows: [['255', 'not available', 'the last value stays for 5 s, then sending stops']],
      },
    ]);
  });

  it('shows a factor that never ends as a fraction with its value beside it', () => {
    const speed = analysis(
      [signal({ id: 'S', unit: 'km/h', factor: 0.01, bits: bits(16) })],
      signal({ id: 'T', factor: 0.1, bits: bits(16), unit: '[mi_i]/h' }),
      [{ do: 'convert' }],
    );
    // 1 mi = 1.609344 km (NIST SP 811 B.8): 1/1.609344 = 15625/25146 = 0.621371192…
    expect(routeFormula(speed)).toContain('x1 = (15625/25146 (≈ 0.621371192)) · S [mph]');
  });

  it('describes several sources, wires and outputs', () => {
    const onOff = (id: string) => signal({ id, bits: bits(1), states: { 0: 'Off', 1: 'On' } });
    const lamp = analysis(
      [onOff('A'), onOff('B')],
      wire({ id: 'lamp', meaning: { active: 'On', inactive: 'Off' } }),
      [
        { do: 'debounce', of: 1, forMs: 40 },
        { do: 'any-of', when: ['On'], yields: 'On', otherwise: 'Off' },
      ],
      { staleAfterMs: 500, onLoss: { do: 'open-output' } },
    );
    expect(routeSentence(lamp)).toBe(
      'Wire lamp (host) is A of M0 (donor) and B of M1 (donor), with B taken over once it has stayed the same for 40 ms, then made “On” when any of them is “On”, else “Off”, through the interface module xm; when 500 ms have passed without a source that it needs, the output opens.',
    );
    expect(routeFormula(lamp).split('\n')).toEqual([
      'x1 = steady(B; 40 ms)',
      'x2 = “On” if any of (A, x1) in (“On”), else “Off”',
      'lamp = x2',
    ]);
    const level = analysis(
      [
        wire({
          id: 'sender',
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
        }),
      ],
      signal({ id: 'Level', bits: bits(2), states: { 0: 'Low', 1: 'Half', 2: 'Full' } }),
      [{ do: 'bands', at: [20, 80], states: ['Low', 'Half', 'Full'], hysteresis: 5, dwellMs: 1500, unit: '%' }],
    );
    expect(routeSentence(level)).toContain(
      'sorted into “Low” below 20 %, “Half” from 20 % and “Full” from 80 %, on the way down 5 % lower, each once it has lasted 1.5 s',
    );
    expect(routeTables(level).map(({ kind, rows }) => [kind, rows])).toEqual([
      [
        'wire-curve',
        [
          ['33', '100'],
          ['240', '0'],
        ],
      ],
      [
        'bands',
        [
          ['Low', '—', '—'],
          ['Half', '20', '15'],
          ['Full', '80', '75'],
        ],
      ],
    ]);
  });

  it('lists states raw to raw, with what has no name and what is no value', () => {
    const lever = analysis(
      [signal({ id: 'Lever', bits: bits(3), states: { 0: 'P', 1: 'R', 2: 'N', 3: 'D', 4: 'M' }, error: [6] })],
      signal({ id: 'Show', bits: bits(3), states: { 1: 'P', 2: 'R', 3: 'N', 4: 'D' } }),
      [{ do: 'states', map: { P: 'P', R: 'R', N: 'N', D: 'D', M: 'D' } }],
    );
    expect(routeTables(lever)[1]).toEqual({
      kind: 'states',
      title: 'States from end to end',
      columns: ['raw in', 'state in', 'state out', 'raw out'],
      rows: [
        ['0', 'P', 'P', '1'],
        ['1', 'R', 'R', '2'],
        ['2', 'N', 'N', '3'],
        ['3', 'D', 'D', '4'],
        ['4', 'M', 'D', '4'],
        ['2 others', 'no name', 'no value', '—'],
      ],
    });
    expect(routeTables(lever)[2]?.rows).toEqual([['6', 'error', 'the last value stays']]);
  });

  it('says so when there is nothing to say', () => {
    const { pairing, route } = routeBetween([signal({ id: 'S' })], signal({ id: 'T' }), undefined, {
      carrier: 'hard-wire',
    });
    expect(routeSentence(analyseRoute(pairing, { ...route, from: [] }))).toBe(
      'T of T (host) has no source, over a conductor from end to end.',
    );
    expect(routeSentence(analyseRoute(pairing, { ...route, to: 'host:Gone.X' }))).toContain('which does not exist');
  });
});
