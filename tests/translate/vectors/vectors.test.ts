import { describe, expect, it } from 'vitest';
import type { Route, Signal, Step, Transmit } from '../../../src/model/index.ts';
import { type Vector, createEngineCheck, createVectorMaker } from '../../../src/translate/index.ts';
import { XM, benchPairing, message, signal } from '../bench-pairing.ts';

const bits = (start: number, length: number): Signal['bits'] => ({ start, length, order: 'little' });
const VOLT = signal({ id: 'S', bits: bits(0, 8), unit: 'V', notAvailable: [255], error: [254] });
const FAN = signal({ id: 'T', bits: bits(4, 2), kind: 'state', states: { 0: 'off', 1: 'on' }, notAvailable: [3] });

function vectorsOf(
  to: Signal,
  steps: Step[],
  more: Partial<Route> = {},
  transmit: Partial<Transmit> = {},
): { vectors: readonly Vector[]; leftOut: readonly { what: string; why: string }[]; unmet: number } {
  const pairing = benchPairing({
    donor: { messages: [message({ id: 'M' }, [VOLT])] },
    host: { messages: [message({ id: 'H', frameId: '0x200', length: 1 }, [to])] },
    interfaceModules: [XM],
    transmits: [{ message: 'host:H', by: 'xm', port: 'A', cycleMs: 20, ...transmit }],
    routes: [{ id: 'r', from: ['donor:M.S'], to: `host:H.T`, carrier: 'interface', by: 'xm', steps, ...more }],
  });
  const maker = createVectorMaker(pairing);
  const { vectors, leftOut } = maker.make(maker.routes[0]!);
  const check = createEngineCheck(pairing, new Map());
  return { vectors, leftOut, unmet: vectors.flatMap((vector) => check.play('r', vector)).length };
}

const outcome = ({ name, expect: list }: Vector): string =>
  `${name}: ${list.map(({ meaning }) => meaning.text).join(', ')}`;

describe('vectors', () => {
  it('shows a threshold from both sides, with its hysteresis', () => {
    // A rising value changes band at the threshold, a falling one only below threshold less hysteresis (design, steps).
    const { vectors, unmet } = vectorsOf(
      FAN,
      [{ do: 'bands', at: [55], states: ['off', 'on'], hysteresis: 10, unit: 'V' }],
      { staleAfterMs: 100, onLoss: { do: 'substitute', notAvailable: true } },
    );
    expect(unmet).toBe(0);
    expect(vectors.filter(({ name }) => name.startsWith('threshold')).map(outcome)).toEqual([
      'threshold, rising, just below: “off”',
      'threshold, rising, at it: “on”',
      'threshold, falling, inside the hysteresis: “on”',
      'threshold, falling, just below: “off”',
    ]);
    const sent = vectors
      .filter(({ name }) => name.startsWith('threshold'))
      .map(({ send }) => send.slice(-2).map(({ data }) => Number.parseInt(data[0]!.slice(0, 2), 16)));
    expect(sent).toEqual([
      [44, 54],
      [44, 55],
      [55, 45],
      [55, 44],
    ]);
  });
  it('only the bits of the field count', () => {
    const { vectors } = vectorsOf(FAN, [{ do: 'bands', at: [55], states: ['off', 'on'], unit: 'V' }]);
    const [least] = vectors;
    expect(least!.expect).toMatchObject([{ mask: '30', value: '00', raw: ['0', '0'] }]);
    expect(vectors.find(({ name }) => name === 'most')!.expect).toMatchObject([{ mask: '30', value: '10' }]);
  });
  it('not available, error, lost, too few samples, recovered', () => {
    const to = signal({ id: 'T', bits: bits(0, 8), unit: 'V', notAvailable: [255], error: [254] });
    const { vectors, unmet, leftOut } = vectorsOf(to, [], {
      staleAfterMs: 60,
      recoverAfter: 3,
      onLoss: { do: 'hold', forMs: 200, then: 'not-available' },
    });
    expect([unmet, leftOut]).toEqual([0, []]);
    expect(vectors.slice(-5).map(outcome)).toEqual([
      'not available: not available',
      'error: error',
      // Held at the middle of the range (126.5, halves away from zero), then given up.
      'source lost: 127 V, not available',
      'source back for 2 of 3 samples: not available',
      'source recovered: 0 V',
    ]);
  });
  it('a source without a stale limit is never lost, and that is said', () => {
    const to = signal({ id: 'T', bits: bits(0, 8), unit: 'V' });
    const { leftOut } = vectorsOf(to, []);
    expect(leftOut).toContainEqual({
      what: 'source lost',
      why: 'the route has no stale limit: the last value counts for ever',
    });
  });
  it('a message that goes out by change alone is shown another value first', () => {
    const to = signal({ id: 'T', bits: bits(0, 8), unit: 'V' });
    const { vectors, unmet } = vectorsOf(to, [], {}, { send: 'on-change' });
    expect(unmet).toBe(0);
    for (const { expect: list } of vectors) expect(list).toMatchObject([{ judge: 'latest' }]);
  });
  it('a check that cannot fail is none: a module with another factor fails', () => {
    const to = signal({ id: 'T', bits: bits(0, 8), unit: 'V' });
    const { vectors } = vectorsOf(to, []);
    const wrong = benchPairing({
      donor: { messages: [message({ id: 'M' }, [VOLT])] },
      host: { messages: [message({ id: 'H', frameId: '0x200', length: 1 }, [to])] },
      interfaceModules: [XM],
      transmits: [{ message: 'host:H', by: 'xm', port: 'A', cycleMs: 20 }],
      routes: [
        {
          id: 'r',
          from: ['donor:M.S'],
          to: 'host:H.T',
          carrier: 'interface',
          by: 'xm',
          steps: [{ do: 'linear', factor: 0.9, offset: 0, unit: 'V' }],
        },
      ],
    });
    const check = createEngineCheck(wrong, new Map());
    const failed = vectors.filter((vector) => check.play('r', vector).length > 0).map(({ name }) => name);
    // Zero comes out the same, everything else does not; where there is no value the last one is held.
    expect(failed).toEqual([
      '1/4 of the range',
      '2/4 of the range',
      '3/4 of the range',
      'most',
      'not available',
      'error',
    ]);
  });
});
