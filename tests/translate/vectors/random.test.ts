// Vectors of random maps against the replay engine: whatever a map does, its vectors say it before the engine does it.
import { describe, expect, it } from 'vitest';
import { createEngineCheck, createVectorMaker, type UnmetVector } from '../../../src/translate/index.ts';
import { randomPairing } from '../random-map.ts';

const SEEDS = Number(process.env['CROSSLOOM_SEEDS'] ?? 40);

describe('vectors of random maps', () => {
  it(`are met by the replay engine on ${SEEDS} maps`, () => {
    let vectors = 0;
    const unmet: (UnmetVector & { readonly seed: number })[] = [];
    for (let seed = 1; seed <= SEEDS; seed += 1) {
      const pairing = randomPairing(seed);
      const check = createEngineCheck(pairing, new Map());
      const maker = createVectorMaker(pairing);
      for (const route of maker.routes) {
        for (const vector of maker.make(route).vectors) {
          vectors += 1;
          unmet.push(...check.play(route.id, vector).map((one) => ({ seed, ...one })));
        }
      }
    }
    expect(unmet).toEqual([]);
    expect(vectors).toBeGreaterThan(SEEDS * 20);
  }, 120_000);
});
