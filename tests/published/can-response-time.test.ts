/**
 * Worst-case response times.
 * Davis, Burns, Bril, Lukkien, Real-Time Systems 35 (2007), section 3: the three-message example whose lowest message meets its deadline in its first
 * instance and misses it in the second (recalled; confirmed by simulation in tests/can/response-time.test.ts).
 * Broster, Burns, Rodriguez-Navas 2002, 12-message set at 250 kbit/s, with its published results (as in brandenburg/schedcat).
 * A five-message example at 500 kbit/s from a published bus calculation (blog article on CAN worst-case delay).
 */
import { describe, expect, it } from 'vitest';
import {
  analyseBus,
  type BusMessage,
  busLoad,
  type ResponseTime,
  responseTimes,
  type ScheduledMessage,
  worstCaseFrameBits,
} from '../../src/can/index.ts';
import { hasTimingReference, timingEntries } from './timing-reference.ts';

const NS = 1e6;

function bounded(response: ResponseTime | undefined): Extract<ResponseTime, { kind: 'bounded' }> {
  if (response?.kind !== 'bounded') throw new Error(`not bounded: ${JSON.stringify(response)}`);
  return response;
}

describe('Davis et al. 2007, section 3 example (125 kbit/s, 7 bytes, 11-bit ids)', () => {
  const example = (name: string, frameId: number, periodMs: number, deadlineMs: number): BusMessage => ({
    name,
    frameId,
    idFormat: 'standard',
    frameFormat: 'classic',
    lengthBytes: 7,
    periodMs,
    deadlineMs,
  });
  const { messages, load } = analyseBus({ bitRate: 125_000 }, [
    example('C', 0x300, 3.5, 3.25),
    example('A', 0x100, 2.5, 2.5),
    example('B', 0x200, 3.5, 3.25),
  ]);

  it('takes 1 ms a frame and 97.1 % of the bus', () => {
    expect(messages.map(({ frameTimeNs }) => frameTimeNs)).toEqual([1 * NS, 1 * NS, 1 * NS]);
    expect(load.worst).toBeCloseTo(0.9714, 4);
  });

  it('A 2.0, B 3.0, C 3.5 ms; C is late in its second instance, in a busy period of 7.0 ms', () => {
    expect(messages.map(({ message }) => message.name)).toEqual(['A', 'B', 'C']);
    expect(messages.map(({ response }) => bounded(response).responseNs)).toEqual([2 * NS, 3 * NS, 3.5 * NS]);
    expect(bounded(messages[2]!.response)).toMatchObject({ instances: 2, worstInstance: 1, busyPeriodNs: 7 * NS });
    expect(messages.map(({ meetsDeadline }) => meetsDeadline)).toEqual([true, true, false]);
  });
});

/** Broster 2002: bytes and period in ms, highest priority first. */
const BROSTER: readonly (readonly [number, number])[] = [
  [8, 10],
  [3, 14],
  [3, 20],
  [2, 15],
  [5, 20],
  [5, 40],
  [4, 15],
  [5, 50],
  [4, 20],
  [7, 100],
  [5, 50],
  [1, 100],
];
const BROSTER_R = [1.028, 1.368, 1.708, 2.008, 2.428, 2.848, 3.228, 3.648, 4.028, 4.448, 4.708, 4.72];
/** Their response ends with the end of frame, before the three bits of intermission. */
const INTERMISSION_NS = 3 * 4000;

function brosterSet(): ScheduledMessage[] {
  return BROSTER.map(([lengthBytes, periodMs], index) => ({
    name: `id${index + 1}`,
    frameTimeNs: worstCaseFrameBits({ idFormat: 'standard', frameFormat: 'classic', lengthBytes }).nominalBits * 4000,
    periodNs: periodMs * NS,
    jitterNs: 0,
  }));
}

describe('Broster, Burns, Rodriguez-Navas 2002, 12 messages at 250 kbit/s', () => {
  it('response times of the error-free case', () => {
    const results = responseTimes(brosterSet(), {
      bitTimeNs: 4000,
      // Their lowest message is still blocked by an intermission.
      lowerPriorityFrameNs: BROSTER.map((_, index) => (index === 11 ? INTERMISSION_NS : 0)),
    });
    expect(results.map((one) => (bounded(one).responseNs - INTERMISSION_NS) / NS)).toEqual(BROSTER_R);
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9])('%i faults of 0.644 ms each delay id1 and id8 as published', (faults) => {
    const results = responseTimes(brosterSet(), { bitTimeNs: 4000, additionalBlockingNs: faults * 644_000 });
    const published = [1.028, 3.648].map((free) => Math.round((free + faults * 0.644) * NS));
    expect([0, 7].map((m) => bounded(results[m]).responseNs - INTERMISSION_NS)).toEqual(published);
  });
});

describe('five messages at 500 kbit/s (published bus calculation)', () => {
  const set: readonly (readonly [string, number, number])[] = [
    ['A', 2, 10],
    ['B', 8, 5],
    ['C', 8, 5],
    ['D', 8, 20],
    ['E', 8, 100],
  ];
  const messages = set.map(([name, lengthBytes, periodMs], frameId): BusMessage => ({
    ...{ name, frameId, idFormat: 'standard', frameFormat: 'classic', lengthBytes, periodMs },
  }));
  it('A 420 µs, D and E 1,230 µs, load 13.9 %', () => {
    const timing = analyseBus({ bitRate: 500_000 }, messages);
    const of = (name: string): number =>
      bounded(timing.messages.find(({ message }) => message.name === name)?.response).responseNs / 1000;
    expect([of('A'), of('D'), of('E')]).toEqual([420, 1230, 1230]);
    expect(timing.load.worst).toBeCloseTo(0.139, 3);
  });

  it('one 8-byte frame each 10 ms at 500 kbit/s: 135 bits × 100 / 500,000 = 2.70 %', () => {
    const one: BusMessage = { ...messages[4]!, periodMs: 10 };
    expect(busLoad({ bitRate: 500_000 }, [one]).worst).toBeCloseTo(0.027, 10);
  });
});

interface ReferenceCase {
  readonly case: string;
  readonly method: string;
  readonly tau_ms: number | string;
  readonly kbit_s?: number;
  readonly jitter?: boolean;
  readonly provenance: string;
  readonly R_ms: readonly (number | null)[];
}

describe.skipIf(!hasTimingReference)('message sets of the reference table, exact 2007 analysis', () => {
  it('the 17-message sets, recomputed independently', () => {
    let compared = 0;
    for (const entry of timingEntries('2_response_time', 'message_set')) {
      const messages = entry['messages'] as {
        name: string;
        bytes?: number;
        C_ms?: number;
        T_ms: number;
        J_ms?: number;
      }[];
      // Only the exact analysis: other cases use conventions of their own, and the recalled column is not evidence.
      for (const one of (entry['cases'] as ReferenceCase[]).filter(({ method }) => method === 'exact')) {
        const bitTimeNs = Math.round(Number(one.tau_ms) * NS);
        const set = messages.map((message): ScheduledMessage => ({
          name: message.name,
          frameTimeNs:
            message.C_ms === undefined ? (55 + 10 * message.bytes!) * bitTimeNs : Math.round(message.C_ms * NS),
          periodNs: Math.round(message.T_ms * NS),
          jitterNs: one.jitter === true ? Math.round(message.J_ms! * NS) : 0,
        }));
        const ours = responseTimes(set, { bitTimeNs }).map((response) => bounded(response).responseNs);
        expect(ours, `${entry.id}: ${one.case}`).toEqual(one.R_ms.map((r) => Math.round(r! * NS)));
        compared += ours.length;
      }
    }
    // 3 of Davis et al., 8 × 17 of the SAE set at four bit rates, 17 of the course set.
    expect(compared).toBe(3 + 8 * 17 + 17);
  });
});
