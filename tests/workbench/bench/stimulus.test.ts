import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { extractRaw, verifyChecksum } from '../../../src/can/index.ts';
import {
  courseAt,
  isSilent,
  stimulate,
  stimulusRange,
  type StimulusPlan,
} from '../../../src/workbench/places/bench/recording/stimulus.ts';
import { createRecorder } from '../../../src/workbench/places/bench/recording/recorder.ts';
import { routeBetween, signal, wire } from '../../translate/bench-pairing.ts';
import { samplePairing } from '../loom/sample.ts';
import { sentRoute } from './sent-route.ts';

/** round(num / den), halves away from zero, in whole numbers. */
function rounded(num: bigint, den: bigint): bigint {
  const size = num < 0n ? -num : num;
  const whole = (2n * size + den) / (2n * den);
  return num < 0n ? -whole : whole;
}

const course = { shape: 'ramp', low: 0n, high: 64_000n, periodMs: 8000 } as const;

describe('the course of a stimulus', () => {
  it('rises and falls in a straight line, exactly', () => {
    // 64,000 in 4 s: 16 a millisecond.
    expect([0, 1, 1000, 4000, 4001, 7999, 8000].map((ms) => courseAt(course, ms * 1000))).toEqual([
      0n,
      16n,
      16_000n,
      64_000n,
      63_984n,
      16n,
      0n,
    ]);
  });

  it('is the exact line rounded once, for any range, period and moment', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(2n ** 63n), max: 2n ** 63n }),
        fc.bigInt({ min: 0n, max: 2n ** 64n }),
        fc.integer({ min: 1, max: 600_000 }),
        fc.integer({ min: 0, max: 4_000_000_000 }),
        (low, range, periodMs, timeUs) => {
          const period = BigInt(periodMs) * 1000n;
          const into = BigInt(timeUs) % period;
          const half = 2n * into <= period ? 2n * into : 2n * period - 2n * into;
          expect(courseAt({ shape: 'ramp', low, high: low + range, periodMs }, timeUs)).toBe(
            low + rounded(range * half, period),
          );
        },
      ),
    );
  });

  it('goes up in eight equal steps, or through every value where there are fewer', () => {
    const steps = { shape: 'steps', low: 0n, high: 80n, periodMs: 900 } as const;
    const values = Array.from({ length: 10 }, (_, at) => courseAt(steps, at * 100_000));
    expect(values).toEqual([0n, 10n, 20n, 30n, 40n, 50n, 60n, 70n, 80n, 0n]);
    const few = { shape: 'steps', low: 3n, high: 5n, periodMs: 300 } as const;
    expect([0, 100, 200, 300].map((ms) => courseAt(few, ms * 1000))).toEqual([3n, 4n, 5n, 3n]);
  });

  it('is silent at the end of each of its periods', () => {
    const drops = { dropoutMs: 200, dropoutEveryMs: 1000 };
    expect([0, 799, 800, 999, 1000, 1799, 1800].map((ms) => isSilent(drops, ms * 1000))).toEqual([
      false,
      false,
      true,
      true,
      false,
      false,
      true,
    ]);
    expect(isSilent({ dropoutMs: 0, dropoutEveryMs: 1000 }, 999_000)).toBe(false);
  });
});

describe('a stimulus through the engine', () => {
  // SAE J1939-71, SPN 190: 0.125 rev/min a bit, 0 to 8031.875 rev/min; the target has 1 rev/min a bit.
  const speed = signal({
    id: 'S',
    bits: { start: 0, length: 16, order: 'little' },
    factor: 0.125,
    unit: '{rev}/min',
    range: [0, '8031.875'],
  });
  const target = signal({ id: 'T', bits: { start: 0, length: 16, order: 'little' }, factor: 1, unit: '{rev}/min' });
  const plan: StimulusPlan = {
    route: 'route',
    source: 0,
    shape: 'ramp',
    low: 0n,
    high: 64_000n,
    periodMs: 8000,
    forMs: 4000,
    dropoutMs: 400,
    dropoutEveryMs: 2000,
  };

  it('gives the ramp in the unit of the target, and the loss behaviour while it is silent', () => {
    const pairing = sentRoute(speed, target, { staleAfterMs: 100, onLoss: { do: 'substitute', value: 0 } });
    const recorder = createRecorder(pairing, new Map(), 0);
    for (const event of stimulate(pairing, { ...plan, route: 'r' }))
      if (event.kind === 'frame') recorder.onFrame(event.frame);
    const recording = recorder.finish(4_000_000);
    const { raw, state } = recording.routes.get('r')!;
    const at = (ms: number) => [raw.valueAt(raw.indexAt(ms * 1000)), state.values.at(state.indexAt(ms * 1000))];
    // 16 counts a millisecond are 2 rev/min; the tick of this moment has seen the frame of this moment.
    expect(at(500)).toEqual([1000, 0]);
    expect(at(1590)).toEqual([3180, 0]);
    // The last frame before the silence came at 1590 ms; 100 ms later the value is still there, at the next tick it is lost.
    expect(at(1690)).toEqual([3180, 0]);
    expect(at(1700)).toEqual([0, 3]);
    expect(at(2000)).toEqual([4000, 0]);
  });

  it('refuses sources without values that can be put in', () => {
    const text = signal({ id: 'S', kind: 'text', bits: { start: 0, length: 32, order: 'little' } });
    const { pairing } = routeBetween([text], target, undefined);
    expect(() => [...stimulate(pairing, plan)]).toThrow(/no values that can be put in/);
  });

  it('moves a wire between its ends, and tells only changes', () => {
    const level = wire({
      id: 'w',
      meaning: { scale: { of: 'V', factor: 20, range: [0, 100] }, unit: '%' },
      electrical: { class: 'ratiometric-5v' },
    });
    const { pairing } = routeBetween([level], signal({ id: 'T', unit: '%' }), undefined);
    const range = stimulusRange(pairing.find('donor:w')!)!;
    expect([range.low, range.high]).toEqual([0n, 5000n]);
    const events = [
      ...stimulate(pairing, { ...plan, shape: 'steps', low: 0n, high: 5000n, periodMs: 900, forMs: 899, dropoutMs: 0 }),
    ];
    expect(
      events.map((event) =>
        event.kind === 'wire' && event.level.kind === 'measured' ? event.level.thousandths : null,
      ),
    ).toEqual([0, 625, 1250, 1875, 2500, 3125, 3750, 4375, 5000]);
  });
});

describe('a stimulus on the sample', () => {
  const pairing = samplePairing();

  it('can be played on every route through the interface module whose sources are numbers, states or switched wires', () => {
    const refused: string[] = [];
    for (const route of pairing.map.routes) {
      const ranges = route.from.map((ref) => stimulusRange(pairing.find(ref)!));
      if (ranges.some((range) => range === null)) {
        refused.push(route.id);
        continue;
      }
      const events = [
        ...stimulate(pairing, {
          route: route.id,
          source: 0,
          shape: 'ramp',
          low: ranges[0]!.low,
          high: ranges[0]!.high,
          periodMs: 400,
          forMs: 200,
          dropoutMs: 0,
          dropoutEveryMs: 1000,
        }),
      ];
      expect(events.length, route.id).toBeGreaterThan(0);
    }
    expect(refused.length).toBeLessThan(pairing.map.routes.length / 10);
  });

  it('guards its frames as the platform says', () => {
    // The rule of the checksum is tested against AUTOSAR's published profile elsewhere; here, that the frames follow it.
    const endpoint = pairing.find('donor:EngineData1');
    if (endpoint?.kind !== 'message') throw new Error('EngineData1 is a message of the sample');
    const { protection, signals } = endpoint.message;
    const bitsOf = (id: string | undefined) => signals.find((each) => each.id === id)!.bits;
    const course = {
      shape: 'ramp',
      low: 0n,
      high: 100n,
      periodMs: 400,
      forMs: 200,
      dropoutMs: 0,
      dropoutEveryMs: 1000,
    } as const;
    const events = [...stimulate(pairing, { route: 'engine-speed', source: 0, ...course })];
    const frames = events.flatMap((event) => (event.kind === 'frame' ? [event.frame.data] : []));
    expect(frames.length).toBe(21);
    const rule = protection as Parameters<typeof verifyChecksum>[1];
    expect(frames.every((data) => verifyChecksum(data, rule, bitsOf(protection?.checksum)))).toBe(true);
    const counts = frames.map((data) => Number(extractRaw(data, bitsOf(protection?.counter))));
    expect(counts).toEqual(frames.map((_, at) => at % 15));
  });
});
