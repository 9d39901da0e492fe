import { describe, expect, it } from 'vitest';
import type { Signal, Step } from '../../src/model/index.ts';
import { analyseRoute } from '../../src/translate/index.ts';
import { routeBetween, signal, wire } from './bench-pairing.ts';

const LEVER = signal({
  id: 'Lever',
  bits: { start: 0, length: 3, order: 'little' },
  states: { 0: 'P', 1: 'R', 2: 'N', 3: 'D', 4: 'M', 6: 'Fault', 7: 'None' },
  notAvailable: [7],
  error: [6],
});
const DISPLAY = signal({
  id: 'Display',
  bits: { start: 0, length: 4, order: 'little' },
  states: { 1: 'P', 2: 'R', 3: 'N', 4: 'D', 5: 'L', 15: 'Blank' },
  notAvailable: [15],
});

function analyse(from: Signal[], to: Signal, steps?: Step[], more = {}) {
  const { pairing, route } = routeBetween(from, to, steps, more);
  return analyseRoute(pairing, route);
}

describe('states', () => {
  // mistakes.json `state-unmapped`: 'Range "M" not mapped: display holds D'.
  it('copies by name and tells what has no image and what is never produced', () => {
    const analysis = analyse([LEVER], DISPLAY);
    expect(analysis.statesWithoutImage).toEqual([{ source: 0, state: 'M', at: null }]);
    expect(analysis.targetStatesNeverProduced).toEqual(['L']);
    expect(analysis.faults).toMatchObject([{ kind: 'target-lacks-state', state: 'M' }]);
  });

  it('follows a states step, with what it merges and what it drops', () => {
    const analysis = analyse([LEVER], DISPLAY, [{ do: 'states', map: { P: 'P', R: 'R', N: 'N', D: 'D', M: 'D' } }]);
    expect(analysis.statesMerged).toEqual([{ into: 'D', from: ['D', 'M'] }]);
    expect(analysis.statesWithoutImage).toEqual([]);
    const short = analyse([LEVER], DISPLAY, [{ do: 'states', map: { P: 'P', X: 'R' } }]);
    expect(short.statesWithoutImage.map(({ state, at }) => [state, at])).toEqual([
      ['R', 0],
      ['N', 0],
      ['D', 0],
      ['M', 0],
    ]);
    expect(short.faults).toMatchObject([{ kind: 'state-unknown', state: 'X', at: 0 }]);
    const all = analyse([LEVER], DISPLAY, [{ do: 'states', map: { P: 'P' }, otherwise: 'D' }]);
    expect(all.statesWithoutImage).toEqual([]);
    expect(all.statesMerged).toEqual([{ into: 'D', from: ['R', 'N', 'D', 'M'] }]);
  });

  it('lets raw values without a name be named by their digits', () => {
    const analysis = analyse([LEVER], DISPLAY, [
      { do: 'states', map: { P: 'P', R: 'R', N: 'N', D: 'D', M: 'D', 5: 'L' } },
    ]);
    expect(analysis.faults).toEqual([]);
    expect(analysis.targetStatesNeverProduced).toEqual([]);
  });

  // mistakes.json `two-bit-third-state`, after the two-bit coding of SAE J1939-71: 10 error, 11 not available.
  it('tells what becomes of error and not-available', () => {
    const analysis = analyse([LEVER], DISPLAY);
    expect(analysis.notAvailable).toEqual([
      {
        source: 0,
        raw: '7',
        means: 'not-available',
        label: 'None',
        becomes: { kind: 'special', raw: '15', means: 'not-available' },
      },
      {
        source: 0,
        raw: '6',
        means: 'error',
        label: 'Fault',
        becomes: { kind: 'special', raw: '15', means: 'not-available' },
      },
    ]);
    const bit = signal({ id: 'Bit', bits: { start: 0, length: 1, order: 'little' }, states: { 0: 'Off', 1: 'On' } });
    const twoBits = signal({
      id: 'Two',
      bits: { start: 0, length: 2, order: 'little' },
      states: { 0: 'Off', 1: 'On' },
      error: [2],
      notAvailable: [3],
    });
    expect(analyse([twoBits], bit).notAvailable.map(({ becomes }) => becomes.kind)).toEqual(['held', 'held']);
    expect(
      analyse([twoBits], bit, undefined, { onLoss: { do: 'substitute', state: 'Off' } }).notAvailable.map(
        ({ becomes }) => becomes.kind,
      ),
    ).toEqual(['loss-behaviour', 'loss-behaviour']);
    expect(
      analyse([twoBits, twoBits], bit, [{ do: 'first-valid' }]).notAvailable.map(({ becomes }) => becomes.kind),
    ).toEqual(Array(4).fill('other-source'));
  });

  it('goes from number to state and back', () => {
    const bands = analyse(
      [signal({ id: 'S', unit: 'kPa', factor: 4 })],
      signal({ id: 'T', bits: { start: 0, length: 2, order: 'little' }, states: { 0: 'Low', 1: 'Normal', 2: 'High' } }),
      [{ do: 'bands', at: [100, 1200], states: ['Low', 'Normal', 'High'], unit: 'kPa' }],
    );
    // 8 bits of 4 kPa end at 1020 kPa: "High" is never reached.
    expect(bands.targetStatesNeverProduced).toEqual(['High']);
    const picked = analyse([LEVER], signal({ id: 'T', number: 'signed', unit: '1' }), [
      { do: 'pick', map: { P: 0, R: -1, N: 0, D: 1 }, unit: '1' },
    ]);
    expect(picked.statesWithoutImage).toEqual([]);
    expect(picked.delivered).toMatchObject({ interval: { lo: { num: -1n }, hi: { num: 1n } } });
  });

  it('combines states', () => {
    const bit = (id: string) =>
      signal({ id, bits: { start: 0, length: 1, order: 'little' }, states: { 0: 'Off', 1: 'On' } });
    const allOf = analyse([bit('A'), bit('B')], bit('T'), [
      { do: 'all-of', when: ['On'], yields: 'On', otherwise: 'Off' },
    ]);
    expect([allOf.faults, allOf.statesMerged, allOf.targetStatesNeverProduced]).toEqual([[], [], []]);
    const typo = analyse([bit('A'), bit('B')], bit('T'), [
      { do: 'any-of', when: ['ON'], yields: 'On', otherwise: 'Off' },
    ]);
    expect(typo.faults).toMatchObject([{ kind: 'state-unknown', state: 'ON' }]);
    const swapped = analyse([bit('A')], bit('T'), [{ do: 'not', swap: ['On', 'Off'] }]);
    expect([swapped.faults, swapped.statesMerged, swapped.statesWithoutImage]).toEqual([[], [], []]);
  });

  it('chooses by a selector and tells which of its states are not covered', () => {
    const manual = signal({
      id: 'Gear',
      bits: { start: 0, length: 3, order: 'little' },
      states: { 1: '1', 2: '2', 3: '3' },
    });
    const shown = signal({
      id: 'Shown',
      bits: { start: 0, length: 4, order: 'little' },
      states: { 1: '1', 2: '2', 3: '3', 4: 'D', 5: 'P' },
    });
    const chosen = analyse([LEVER, manual], shown, [
      { do: 'choose-by', selector: 0, cases: { D: { state: 'D' }, M: { source: 1 }, P: { state: 'P' } } },
    ]);
    expect(chosen.faults).toMatchObject([{ kind: 'case-missing', keys: ['R', 'N'] }]);
    expect(chosen.statesWithoutImage).toEqual([
      { source: 0, state: 'R', at: 0 },
      { source: 0, state: 'N', at: 0 },
    ]);
    expect(chosen.targetStatesNeverProduced).toEqual([]);
    const mixed = analyse([LEVER, manual], shown, [
      { do: 'choose-by', selector: 0, cases: { D: { value: 4 }, M: { source: 1 } }, otherwise: { state: 'P' } },
    ]);
    expect(mixed.faults).toMatchObject([{ kind: 'case-kind' }]);
    expect(mixed.delivered).toBeNull();
  });
});

describe('conductors and relayed frames', () => {
  it('carries the level of a hard wire whatever its two ends call it', () => {
    const { pairing, route } = routeBetween(
      [wire({ id: 'range', meaning: { active: 'Park or Neutral', inactive: 'In gear' } })],
      wire({ id: 'start', meaning: { active: 'Start permitted', inactive: 'Start blocked' } }),
      undefined,
      { carrier: 'hard-wire' },
    );
    const analysis = analyseRoute(pairing, route);
    expect([analysis.faults, analysis.statesWithoutImage, analysis.targetStatesNeverProduced]).toEqual([[], [], []]);
    expect(analyseRoute(pairing, { ...route, carrier: 'interface' }).statesWithoutImage).toHaveLength(2);
  });

  it('says when a relayed frame would be misread', () => {
    const at = (part: Partial<Signal>) =>
      analyse([LEVER], signal({ ...LEVER, id: 'Lever', ...part }), undefined, { carrier: 'bus' }).faults.flatMap(
        (fault) => (fault.kind === 'relayed-differs' ? [fault.what] : []),
      );
    expect(at({})).toEqual([]);
    expect(at({ bits: { start: 8, length: 3, order: 'little' } })).toEqual(['bits']);
    expect(at({ states: { 0: 'R', 1: 'P' } })).toEqual(['states']);
    expect(at({ factor: 2 })).toContain('scaling');
  });

  it('copies whole frames of one length', () => {
    const { pairing, route } = routeBetween([signal({ id: 'S' })], signal({ id: 'T' }), undefined);
    const frame = { ...route, from: ['donor:M0'], to: 'host:T' };
    expect(analyseRoute(pairing, frame)).toMatchObject({ faults: [], delivered: { kind: 'frame', lengthBytes: 8 } });
    expect(analyseRoute(pairing, { ...route, from: ['donor:M0'] }).faults).toMatchObject([{ kind: 'kind-mismatch' }]);
  });
});
