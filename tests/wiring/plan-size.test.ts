import { expect, it } from 'vitest';
import { buildHarness } from '../../src/wiring/index.ts';
import { largePairing } from './large-pairing.ts';

it('2,000 circuits plan within a few seconds', () => {
  const pairing = largePairing(2000);
  const start = performance.now();
  const plan = buildHarness(pairing);
  const seconds = (performance.now() - start) / 1000;
  // 2,000 routes, 200 of which share a source: one stub each.
  expect(plan.totals.conductors).toBe(2200);
  expect(plan.totals.splices).toBe(200);
  expect(plan.totals.withoutLength).toBe(0);
  expect(seconds).toBeLessThan(8);
});

it('time grows about in step with the circuits', () => {
  const time = (count: number): number => {
    const pairing = largePairing(count);
    const start = performance.now();
    buildHarness(pairing);
    return performance.now() - start;
  };
  time(200);
  const small = Math.min(time(500), time(500));
  const big = Math.min(time(2000), time(2000));
  // Four times the circuits; sixteen would be quadratic.
  expect(big / small).toBeLessThan(12);
});
