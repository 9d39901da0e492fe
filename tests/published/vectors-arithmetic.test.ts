/**
 * Vectors against published arithmetic, worked out here from the bytes that the vectors send, with nothing of ours in between:
 * SAE J1939-71 scalings (as in sae-j1939-71.test.ts: SPN 84, 110, 190), SAE J1979 service 01 formulas (as in sae-j1979.test.ts: PIDs 04,
 * 0B, 0C), NIST SP 811 (2008) B.8 and B.9: 1 mile = 1.609 344 km, t/°F = 1.8 t/°C + 32, 1 psi = 6.894 757 kPa.
 */
import { describe, expect, it } from 'vitest';
import type { Signal } from '../../src/model/index.ts';
import { type Vector, createEngineCheck, createVectorMaker } from '../../src/translate/index.ts';
import { XM, benchPairing, message, signal } from '../translate/bench-pairing.ts';

interface Case {
  readonly title: string;
  readonly source: Signal;
  readonly target: Signal;
  /** From the payload that is sent to the value that the reader must show, as published. */
  readonly published: (data: readonly number[]) => number;
}

const little = (start: number, length: number): Signal['bits'] => ({ start, length, order: 'little' });
const big = (start: number, length: number): Signal['bits'] => ({ start, length, order: 'big' });
const to = (unit: string, factor: number, offset = 0): Signal =>
  signal({ id: 'T', bits: little(0, 16), factor, offset, unit, notAvailable: [65535] });

const CASES: readonly Case[] = [
  {
    title: 'SPN 84 wheel-based vehicle speed, bytes 2 and 3, 1/256 km/h, shown in miles per hour',
    source: signal({ id: 'S', bits: little(8, 16), factor: '1/256', unit: 'km/h', notAvailable: [65535] }),
    target: to('[mi_i]/h', 0.01),
    published: (data) => (data[1]! + 256 * data[2]!) / 256 / 1.609344,
  },
  {
    title: 'SPN 110 engine coolant temperature, byte 1, 1 °C, −40 °C, shown in degrees Fahrenheit',
    source: signal({ id: 'S', bits: little(0, 8), offset: -40, unit: 'Cel', notAvailable: [255] }),
    target: to('[degF]', 0.25, -60),
    published: (data) => 1.8 * (data[0]! - 40) + 32,
  },
  {
    title: 'SPN 190 engine speed, bytes 4 and 5, 0.125 rev/min',
    source: signal({ id: 'S', bits: little(24, 16), factor: 0.125, unit: '{rev}/min', notAvailable: [65535] }),
    target: to('{rev}/min', 0.25),
    published: (data) => (data[3]! + 256 * data[4]!) * 0.125,
  },
  {
    title: 'PID 04 calculated engine load, 100 A / 255 %',
    source: signal({ id: 'S', bits: big(7, 8), factor: '100/255', unit: '%' }),
    target: to('%', 0.1),
    published: (data) => (100 * data[0]!) / 255,
  },
  {
    title: 'PID 0B intake manifold absolute pressure, A kPa, shown in pounds-force per square inch',
    source: signal({ id: 'S', bits: big(7, 8), unit: 'kPa' }),
    target: to('[psi]', 0.01),
    published: (data) => data[0]! / 6.894757,
  },
  {
    title: 'PID 0C engine speed, (256 A + B) / 4 rev/min',
    source: signal({ id: 'S', bits: big(7, 16), factor: 0.25, unit: '{rev}/min' }),
    target: to('{rev}/min', 0.5),
    published: (data) => (256 * data[0]! + data[1]!) / 4,
  },
];

/** The bytes of the last stream before the window closes: what the source shows then. */
function shown({ send, expect: [first] }: Vector): readonly number[] {
  const stream = send.filter(({ fromUs }) => fromUs <= first!.untilUs).at(-1)!;
  return [...stream.data[0]!.matchAll(/../g)].map(([byte]) => Number.parseInt(byte, 16));
}

describe('vectors against published arithmetic', () => {
  it.each(CASES)('$title', ({ source, target, published }) => {
    const pairing = benchPairing({
      donor: { messages: [message({ id: 'M', frameId: '0x100' }, [source])] },
      host: { messages: [message({ id: 'H', frameId: '0x200', length: 2 }, [target])] },
      interfaceModules: [XM],
      transmits: [{ message: 'host:H', by: 'xm', port: 'A', cycleMs: 20 }],
      routes: [
        {
          id: 'r',
          from: ['donor:M.S'],
          to: 'host:H.T',
          carrier: 'interface',
          by: 'xm',
          staleAfterMs: 100,
          onLoss: { do: 'substitute', notAvailable: true },
          ...(source.unit === target.unit ? {} : { steps: [{ do: 'convert', to: target.unit }] }),
        },
      ],
    });
    const maker = createVectorMaker(pairing);
    const { vectors, leftOut } = maker.make(maker.routes[0]!);
    expect(leftOut).toEqual([]);
    const check = createEngineCheck(pairing, new Map());
    const most = 65_534 * Number(target.factor) + Number(target.offset);
    let numbers = 0;
    for (const vector of vectors) {
      expect(check.play('r', vector)).toEqual([]);
      const { meaning } = vector.expect[0]!;
      if (meaning.value === undefined) continue;
      numbers += 1;
      const value = Math.min(most, published(shown(vector)));
      expect(meaning.tolerance, vector.id).toBeCloseTo(Number(target.factor) / 2, 12);
      // The seven digits of the printed factors count too.
      expect(Math.abs(meaning.value - value), vector.id).toBeLessThanOrEqual(
        meaning.tolerance! * (1 + 1e-9) + Math.abs(value) * 1e-7,
      );
    }
    expect(numbers).toBeGreaterThanOrEqual(5);
  });
});
