// Recordings made by the replay engine of random maps on random traffic: they verify clean, whatever the map does.
import { describe, expect, it } from 'vitest';
import { randomLog } from '../random-log.ts';
import { randomFrom, randomPairing } from '../random-map.ts';
import { record, verify } from './recording.ts';

const SEEDS = Number(process.env['CROSSLOOM_SEEDS'] ?? 60);

describe('recordings of random maps', () => {
  it(`verify clean on ${SEEDS} maps`, () => {
    let judged = 0;
    const found: unknown[] = [];
    for (let seed = 1; seed <= SEEDS; seed += 1) {
      const pairing = randomPairing(seed);
      const random = randomFrom(seed);
      const events = record(pairing, randomLog(pairing, seed, 3000), {
        startUs: -random.below(20_000),
        untilUs: 3_000_000,
      });
      const report = verify(pairing, events);
      judged += report.routes.reduce((sum, route) => sum + route.judged, 0);
      found.push(...report.mismatches.slice(0, 3).map((mismatch) => ({ seed, ...mismatch })));
    }
    expect(found).toEqual([]);
    expect(judged).toBeGreaterThan(SEEDS * 100);
  }, 120_000);

  // Known: a message by change whose other field is not available at start, and a hold that ends behind a chosen source, are
  // named though the recording is clean. Two of 600 maps.
  it.fails.each([316, 504])('verify clean on map %i', (seed) => {
    const pairing = randomPairing(seed);
    const startUs = -randomFrom(seed).below(20_000);
    const events = record(pairing, randomLog(pairing, seed, 3000), { startUs, untilUs: 3_000_000 });
    expect(verify(pairing, events).mismatches).toEqual([]);
  });
});
