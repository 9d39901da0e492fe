import { describe, expect, it } from 'vitest';
import { type Rational, toExact, toRational } from '../../src/number/index.ts';
import type { Signal, Step } from '../../src/model/index.ts';
import { analyseRoute } from '../../src/translate/index.ts';
import { routeBetween, signal, wire } from './bench-pairing.ts';

const bits = (length: number): Signal['bits'] => ({ start: 0, length, order: 'little' });
const plain = (r: Rational | undefined): number | string | undefined => (r === undefined ? undefined : toExact(r));

function analyse(from: Signal[], to: Signal, steps?: Step[]) {
  const { pairing, route } = routeBetween(from, to, steps);
  return analyseRoute(pairing, route);
}

describe('ranges', () => {
  // ../../design reference mistakes.json `range-clip`: "8-bit tachometer 32 /min per bit ends at 8160 /min; 8200 /min wraps to 0".
  it('tells which part of the source range the target cannot show', () => {
    const { clippedHigh, clippedLow, clips, faults, unitFaults } = analyse(
      [signal({ id: 'S', bits: bits(16), factor: 0.25, unit: '{rev}/min', range: [0, 8200] })],
      signal({ id: 'T', factor: 32, unit: '{rev}/min' }),
    );
    expect([faults, unitFaults, clippedLow]).toEqual([[], [], null]);
    expect(clips).toEqual([clippedHigh]);
    expect(plain(clippedHigh?.from)).toBe(8160);
    expect(plain(clippedHigh?.to)).toBe(8200);
    expect(clippedHigh?.unit).toBe('{rev}/min');
    expect(clippedHigh?.of).toBe('source');
    expect(plain(clippedHigh?.targetEnd)).toBe(8160);
    expect(plain(clippedHigh?.wouldBe)).toBe(8200);
  });

  // mistakes.json `negative-temperature`: an unsigned coding without offset cannot show below 0.
  it('tells when the sign is lost', () => {
    const analysis = analyse(
      [signal({ id: 'S', offset: -40, unit: 'Cel', range: [-40, 210] })],
      signal({ id: 'T', unit: 'Cel' }),
    );
    expect(analysis.signLost).toBe(true);
    expect(plain(analysis.clippedLow?.from)).toBe(-40);
    expect(plain(analysis.clippedLow?.to)).toBe(0);
    expect(analysis.clippedHigh).toBeNull();
  });

  it('gives the clip in source units through a conversion, and swaps ends with a negative factor', () => {
    // 1 mi = 1.609344 km (NIST SP 811 B.8): a 7-bit target in mph ends at 127 mph = 204.386688 km/h.
    const converted = analyse(
      [signal({ id: 'S', bits: bits(16), factor: 0.01, unit: 'km/h', range: [0, 300] })],
      signal({ id: 'T', bits: bits(7), unit: '[mi_i]/h' }),
      [{ do: 'convert' }],
    );
    expect(plain(converted.clippedHigh?.from)).toBe(204.386688);
    expect(plain(converted.clippedHigh?.to)).toBe(300);
    const turned = analyse(
      [signal({ id: 'S', unit: 'A', range: [0, 200] })],
      signal({ id: 'T', bits: bits(8), number: 'signed', unit: 'A' }),
      [{ do: 'linear', factor: -1, offset: 0, unit: 'A' }],
    );
    expect(plain(turned.clippedHigh?.from)).toBe(128);
    expect(plain(turned.clippedHigh?.targetEnd)).toBe(-128);
    expect(turned.clippedLow).toBeNull();
  });

  it('leaves not-available and error values at the ends of a field out of its range', () => {
    const { target } = analyse(
      [signal({ id: 'S', unit: '%' })],
      signal({ id: 'T', factor: 0.4, unit: '%', notAvailable: [255], error: [254] }),
    );
    // SAE J1939-71: a byte of 0.4 %/bit reaches 101.2 % at raw 253 when 254 and 255 are taken.
    expect(target?.kind === 'number' && plain(target.interval?.hi)).toBe(101.2);
  });

  it('cuts a declared range to what the field can hold, and ignores an empty declared range', () => {
    const wide = analyse(
      [signal({ id: 'S', unit: 'V', factor: 0.1, range: [0, 100] })],
      signal({ id: 'T', unit: 'V', range: [0, 0] }),
    );
    expect(wide.sources[0]).toMatchObject({ interval: { lo: toRational(0), hi: toRational(25.5) } });
    expect(wide.target).toMatchObject({ interval: { lo: toRational(0), hi: toRational(255) } });
  });

  it('names every part of a range that a bent curve leads out of the target', () => {
    const analysis = analyse(
      [signal({ id: 'S', unit: 'V', bits: bits(16), factor: 0.001, range: [0, 5] })],
      signal({ id: 'T', bits: bits(6), unit: 'Cel' }),
      [
        {
          do: 'curve',
          from: 'V',
          unit: 'Cel',
          outside: 'clamp',
          points: [
            [0, 100],
            [1, 0],
            [2, 100],
            [4, 20],
          ],
        },
      ],
    );
    // Above 63: from 0 to 0.37 V (100 − 100·x = 63), from 1.63 V, peak at 2, back at 2.925 V (100 − 40·(x−2) = 63).
    expect(analysis.clips.map(({ from, to }) => [plain(from), plain(to)])).toEqual([
      [0, 0.37],
      [1.63, 2.925],
    ]);
    expect(plain(analysis.clippedLow?.to)).toBe(0.37);
    expect(analysis.clippedHigh).toBeNull();
    expect(analysis.stages[0]?.cutHigh).toMatchObject({ lo: toRational(4), hi: toRational(5) });
    expect(analysis.saturates).toMatchObject([{ index: 0, couldBeShown: false, unit: 'V' }]);
  });

  it('says that an intermediate limit holds back what the target could show', () => {
    const steps: Step[] = [{ do: 'limit', max: 100, unit: 'km/h' }, { do: 'convert' }];
    const analysis = analyse(
      [signal({ id: 'S', unit: 'km/h', range: [0, 250] })],
      signal({ id: 'T', unit: '[mi_i]/h' }),
      steps,
    );
    expect(analysis.saturates).toMatchObject([
      { index: 0, above: { lo: toRational(100), hi: toRational(250) }, below: null, couldBeShown: true },
    ]);
    expect(analysis.clips).toEqual([]);
    const idle = analyse(
      [signal({ id: 'S', unit: 'km/h', range: [0, 90] })],
      signal({ id: 'T', unit: '[mi_i]/h' }),
      steps,
    );
    expect(idle.stepsThatNeverAct).toEqual([0]);
    expect(idle.saturates).toEqual([]);
  });

  it('takes a limit in another unit of the same quantity', () => {
    const analysis = analyse(
      [signal({ id: 'S', bits: bits(16), factor: 0.01, unit: 'km/h', range: [0, 300] })],
      signal({ id: 'T', bits: bits(16), factor: 0.01, unit: 'km/h' }),
      [{ do: 'limit', max: 100, unit: '[mi_i]/h' }],
    );
    expect(plain(analysis.stages[0]?.cutHigh?.lo)).toBe(160.9344);
  });

  it('carries an interval through a reciprocal and through pulses', () => {
    // 4000 pulses a mile at 1 mile a minute: 4000/60 Hz.
    const pulses = analyse(
      [signal({ id: 'S', unit: 'km/h', bits: bits(16), factor: 0.01, range: [0, 193.12] })],
      signal({ id: 'T', bits: bits(16), factor: 0.1, unit: 'Hz' }),
      [{ do: 'pulses', pulsesPerUnit: 4000, per: '[mi_i]', unit: 'Hz' }],
    );
    // 193.12 km/h are 193.12/1.609344 mi/h (NIST SP 811 B.8), 4000 pulses each, in 3600 s.
    expect(pulses.delivered).toMatchObject({ interval: { hi: toRational('772480000000/5793638400') } });
    const economy = analyse(
      [signal({ id: 'S', unit: 'km/L', range: [5, 25] })],
      signal({ id: 'T', factor: 0.1, unit: 'L/(100.km)' }),
      [{ do: 'convert' }],
    );
    // 100 / (km/L): 5 km/L is 20 L/100 km, 25 km/L is 4.
    expect(economy.delivered).toMatchObject({ interval: { lo: toRational(4), hi: toRational(20) }, resolution: null });
    expect(economy.chain).toBeNull();
  });

  it('sees a wire by its curve', () => {
    const { pairing, route } = routeBetween(
      [
        wire({
          id: 'sender',
          electrical: { class: 'resistive' },
          // mistakes.json `sender-curve-reversed`: 240–33 Ω and 0–90 Ω senders.
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
      signal({ id: 'T', unit: '%', bits: bits(6) }),
      undefined,
    );
    const analysis = analyseRoute(pairing, route);
    expect(plain(analysis.clippedHigh?.from)).toBe(63);
    expect(analysis.worstError).toMatchObject({ targetSteps: toRational('1/2'), unit: '%' });
  });
});

describe('rounding', () => {
  it('finds no error where every source value lies on a target step', () => {
    const analysis = analyse(
      [signal({ id: 'S', factor: 0.5, unit: 'V' })],
      signal({ id: 'T', bits: bits(16), factor: 0.25, unit: 'V' }),
    );
    expect(analysis.worstError?.targetSteps).toEqual(toRational(0));
    expect(analysis.rawChain).toEqual({ factor: toRational(2), offset: toRational(0) });
  });

  // SAE J1939-71, SPN 190: 0.125 rev/min a bit; into a coding of 0.25 rev/min a bit the worst is half a target step, 0.125.
  it('gives the worst error in physical units and in target steps', () => {
    const analysis = analyse(
      [signal({ id: 'S', bits: bits(16), factor: 0.125, unit: '{rev}/min', range: [0, 8031.875] })],
      signal({ id: 'T', bits: bits(16), factor: 0.25, unit: '{rev}/min' }),
    );
    expect(analysis.worstError).toEqual({
      physical: toRational(0.125),
      targetSteps: toRational(0.5),
      unit: '{rev}/min',
    });
  });

  it('claims no step for a float target', () => {
    const analysis = analyse(
      [signal({ id: 'S', unit: 'V' })],
      signal({ id: 'T', bits: bits(32), number: 'float32', unit: 'V' }),
    );
    expect(analysis.worstError).toBeNull();
    expect(analysis.clips).toEqual([]);
  });
});
