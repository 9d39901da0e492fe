/**
 * The response-time analysis against an adversarial simulation of the bus: fixed priorities without pre-emption, each message at its own phase, the
 * blocking frame started just before. The simulation is written here, apart from the analysis.
 */
import { describe, expect, it } from 'vitest';
import {
  analyseBus,
  type BusMessage,
  compareArbitration,
  responseBounds,
  type ResponseTime,
  responseTimes,
  type ScheduledMessage,
} from '../../src/can/index.ts';

interface Release {
  readonly index: number;
  /** When the sending is due; its response counts from here. */
  readonly dueNs: number;
  readonly queuedNs: number;
}

/** Longest response seen per message when `releases` meet an idle bus. A frame that is queued within a running one waits for its end. */
function simulate(frames: readonly number[], releases: readonly Release[]): number[] {
  const waiting: Release[] = [];
  const coming = [...releases].sort((a, b) => a.queuedNs - b.queuedNs);
  const worst = frames.map(() => 0);
  let now = 0;
  let next = 0;
  while (next < coming.length || waiting.length > 0) {
    if (waiting.length === 0) now = Math.max(now, coming[next]!.queuedNs);
    for (; next < coming.length && coming[next]!.queuedNs <= now; next += 1) waiting.push(coming[next]!);
    let best = 0;
    for (let i = 1; i < waiting.length; i += 1) if (waiting[i]!.index < waiting[best]!.index) best = i;
    const [sent] = waiting.splice(best, 1);
    now += frames[sent!.index]!;
    worst[sent!.index] = Math.max(worst[sent!.index]!, now - sent!.dueNs);
  }
  return worst;
}

/** Numbers in [0, 1) from a seed: the same on every run. */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

function randomSet(random: () => number): { set: ScheduledMessage[]; bitTimeNs: number } {
  const bitTimeNs = 2000;
  const count = 3 + Math.floor(random() * 6);
  const target = 0.5 + random() * 0.48;
  const set: ScheduledMessage[] = [];
  let left = target;
  for (let i = 0; i < count; i += 1) {
    const frameTimeNs = (55 + 10 * Math.floor(random() * 9)) * bitTimeNs;
    const share = i === count - 1 ? left : left * random();
    left -= share;
    const periodNs = Math.max(Math.round(frameTimeNs / Math.max(share, 0.005)), frameTimeNs + 1);
    const jitterNs = random() < 0.5 ? 0 : Math.floor(random() * periodNs * 0.5);
    set.push({ name: `m${i}`, frameTimeNs, periodNs, jitterNs });
  }
  const used = set.reduce((sum, one) => sum + one.frameTimeNs / one.periodNs, 0);
  return used < 0.999 ? { set, bitTimeNs } : randomSet(random);
}

/** Releases that hurt message m most: everyone of higher priority just within its first bit, as late as jitter lets, a long frame before. */
function critical(set: readonly ScheduledMessage[], m: number, horizonNs: number): Release[] {
  const releases: Release[] = [];
  let longest = -1;
  for (let k = m + 1; k < set.length; k += 1) {
    if (longest < 0 || set[k]!.frameTimeNs > set[longest]!.frameTimeNs) longest = k;
  }
  const startNs = longest < 0 ? 0 : 1;
  if (longest >= 0) releases.push({ index: longest, dueNs: 0, queuedNs: 0 });
  for (let k = 0; k <= m; k += 1) {
    const { periodNs, jitterNs } = set[k]!;
    for (let n = 0; n * periodNs - jitterNs <= horizonNs; n += 1) {
      const dueNs = startNs + n * periodNs - jitterNs;
      releases.push({ index: k, dueNs, queuedNs: Math.max(startNs, dueNs) });
    }
  }
  return releases;
}

/** The same with random phases and random lateness, everyone included. */
function scattered(set: readonly ScheduledMessage[], random: () => number, horizonNs: number): Release[] {
  return set.flatMap(({ periodNs, jitterNs }, index) => {
    const phase = Math.floor(random() * periodNs);
    const releases: Release[] = [];
    for (let dueNs = phase; dueNs < horizonNs; dueNs += periodNs) {
      releases.push({ index, dueNs, queuedNs: dueNs + Math.floor(random() * (jitterNs + 1)) });
    }
    return releases;
  });
}

function boundOf(response: ResponseTime): number {
  return response.kind === 'bounded' ? response.responseNs : Infinity;
}

describe('response times against simulation', () => {
  it('Davis et al. 2007: the simulation too finds 3.5 ms for the second instance of C', () => {
    const frames = [1e6, 1e6, 1e6];
    const due = (index: number, periodNs: number): Release[] =>
      Array.from({ length: 100 }, (_, n) => ({ index, dueNs: n * periodNs, queuedNs: n * periodNs }));
    const worst = simulate(frames, [...due(0, 2.5e6), ...due(1, 3.5e6), ...due(2, 3.5e6)]);
    expect(worst[2]).toBe(3.5e6);
  });

  it('300 random sets: never above the bound, and at the critical instant within one bit of it', () => {
    const random = randomFrom(20070517);
    let compared = 0;
    let tight = 0;
    let several = 0;
    for (let round = 0; round < 300; round += 1) {
      const { set, bitTimeNs } = randomSet(random);
      const frames = set.map(({ frameTimeNs }) => frameTimeNs);
      const results = responseTimes(set, { bitTimeNs });
      const horizonNs = Math.max(...set.map(({ periodNs }) => periodNs)) * 4;
      const anyhow = simulate(frames, scattered(set, random, Math.min(horizonNs, 2e8)));
      results.forEach((result, m) => {
        expect(result.kind).toBe('bounded');
        if (result.kind !== 'bounded') return;
        const worst = simulate(frames, critical(set, m, result.busyPeriodNs))[m]!;
        expect(worst).toBeLessThanOrEqual(result.responseNs);
        expect(anyhow[m]).toBeLessThanOrEqual(result.responseNs);
        compared += 1;
        if (result.instances > 1) several += 1;
        if (worst >= result.responseNs - bitTimeNs) tight += 1;
      });
    }
    expect(compared).toBeGreaterThan(1500);
    // The bound lets a frame in for one bit longer than the bus does here; that seldom lets in a whole frame more.
    expect(tight / compared).toBeGreaterThan(0.97);
    expect(several).toBeGreaterThan(200);
  });

  it('a bound without the later instances would be exceeded: the second instance matters', () => {
    const random = randomFrom(4);
    let exceeded = 0;
    for (let round = 0; round < 300; round += 1) {
      const { set, bitTimeNs } = randomSet(random);
      for (const result of responseTimes(set, { bitTimeNs })) {
        if (result.kind === 'bounded' && result.worstInstance > 0) exceeded += 1;
      }
    }
    expect(exceeded).toBeGreaterThan(0);
  });
});

describe('a bus that is full', () => {
  const one = (name: string, frameTimeNs: number, periodNs: number): ScheduledMessage => ({
    ...{ name, frameTimeNs, periodNs, jitterNs: 0 },
  });

  it('the bound without iteration is never below what the simulation sees, nor below the exact analysis', () => {
    const random = randomFrom(1994);
    for (let round = 0; round < 200; round += 1) {
      const { set, bitTimeNs } = randomSet(random);
      const bounds = responseBounds(set, { bitTimeNs });
      const exact = responseTimes(set, { bitTimeNs });
      set.forEach((_, m) => {
        const response = exact[m]!;
        if (response.kind !== 'bounded') return;
        const seen = simulate(
          set.map(({ frameTimeNs }) => frameTimeNs),
          critical(set, m, response.busyPeriodNs),
        );
        expect(bounds[m]!).toBeGreaterThanOrEqual(seen[m]!);
        expect(bounds[m]!).toBeGreaterThanOrEqual(response.responseNs);
      });
    }
    expect([...responseBounds([{ name: 'a', frameTimeNs: 10, periodNs: 10, jitterNs: 0 }], { bitTimeNs: 1 })]).toEqual([
      Infinity,
    ]);
  });

  it('is unbounded from the message that overfills it', () => {
    const results = responseTimes([one('a', 60, 100), one('b', 30, 100), one('c', 20, 100), one('d', 1, 1000)], {
      bitTimeNs: 1,
    });
    expect(results.map(({ kind }) => kind)).toEqual(['bounded', 'bounded', 'unbounded', 'unbounded']);
  });

  it('gives up, and says so, when the busy period is too long to follow', () => {
    const set = [one('a', 500_000, 1_000_000), one('b', 499_999, 1_000_001), one('c', 1000, 10_000_000_000)];
    const results = responseTimes(set, { bitTimeNs: 2, maxInstances: 100 });
    expect(results[0]!.kind).toBe('bounded');
    // c blocks for 1,000 ns, of which a and b leave 1 ns in each of their periods: about 1,000 instances.
    expect(results.slice(1).map(({ kind }) => kind)).toEqual(['beyond-limit', 'beyond-limit']);
    const patient = responseTimes(set, { bitTimeNs: 2 });
    expect(patient[1]).toMatchObject({ kind: 'bounded' });
    if (patient[1]!.kind === 'bounded') expect(patient[1]!.instances).toBeGreaterThan(900);
  });

  it('refuses times that are none, by name', () => {
    expect(() => responseTimes([one('EngineStatus', 0, 10)], { bitTimeNs: 1 })).toThrow(/EngineStatus: a frame time/);
    expect(() => responseTimes([one('EngineStatus', 5, 0)], { bitTimeNs: 1 })).toThrow(/EngineStatus: a period/);
  });
});

describe('analysing a bus', () => {
  const message = (name: string, frameId: number, periodMs: number | null, lengthBytes = 8): BusMessage => ({
    ...{ name, frameId, idFormat: 'standard', frameFormat: 'classic', lengthBytes, periodMs },
  });

  it('orders by arbitration: of equal leading bits the 11-bit id wins', () => {
    const standard = { frameId: 0x123, idFormat: 'standard' as const };
    const extended = { frameId: 0x123 << 18, idFormat: 'extended' as const };
    expect(compareArbitration(standard, extended)).toBeLessThan(0);
    expect(compareArbitration({ frameId: 0x124, idFormat: 'standard' }, extended)).toBeGreaterThan(0);
    expect(compareArbitration({ frameId: (0x123 << 18) + 1, idFormat: 'extended' }, extended)).toBeGreaterThan(0);
    expect(
      compareArbitration({ frameId: 0x1fffffff, idFormat: 'extended' }, { frameId: 0x7ff, idFormat: 'standard' }),
    ).toBeGreaterThan(0);
  });

  it('lets a message without a period block those above it and warns those below', () => {
    const timing = analyseBus({ bitRate: 500_000 }, [
      message('low', 0x300, 10, 1),
      message('event', 0x200, null),
      message('high', 0x100, 10, 1),
    ]);
    expect(timing.withoutPeriod.map(({ name }) => name)).toEqual(['event']);
    const [high, low] = timing.messages;
    // 8 bytes: 135 bits of 2 µs.
    expect(high!.response).toMatchObject({ kind: 'bounded', blockingNs: 270_000 });
    expect([high!.withoutPeriodAbove, low!.withoutPeriodAbove]).toEqual([0, 1]);
    expect(boundOf(low!.response)).toBe(2 * 65 * 2000);
  });

  it('500 messages stay well below cubic work: growth at 250, 500 and 1,000', () => {
    const random = randomFrom(11);
    const work = [250, 500, 1000].map((count) => {
      const messages = Array.from({ length: count }, (_, i) =>
        message(`m${i}`, i, [10, 20, 50, 100, 200, 500, 1000][Math.floor(random() * 7)]! * (count / 100)),
      );
      const timing = analyseBus({ bitRate: 500_000 }, messages);
      expect(timing.load.worst).toBeLessThan(1);
      // One pass over m higher priorities costs m steps.
      return timing.messages.reduce(
        (sum, { response }, m) => sum + (response.kind === 'bounded' ? response.iterations * m : 0),
        0,
      );
    });
    // Quadratic is a factor of 4 for each doubling, cubic 8.
    expect(work[1]! / work[0]!).toBeLessThan(5);
    expect(work[2]! / work[1]!).toBeLessThan(5);
  });
});
