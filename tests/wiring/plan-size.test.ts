import { expect, it } from 'vitest';
import { pair } from '../../src/model/index.ts';
import { buildHarness } from '../../src/wiring/index.ts';
import { mapOf, platformOf } from './small-pairing.ts';

/** 2,000 hard wires between 40 connectors a side on a trunk of 40 branches; every tenth taps the source of the one before. */
function large(count: number) {
  const connectors = Array.from({ length: 40 }, (_, index) => ({
    id: `K${index}`,
    title: `Connector ${index}`,
    cavities: Array.from({ length: Math.ceil(count / 40) }, (__, cavity) => `${cavity}`),
    rows: 4,
    sealed: true,
  }));
  const wires = (direction: 'in' | 'out') =>
    Array.from({ length: count }, (_, index) => ({
      id: `w${index}`,
      title: `Wire ${index}`,
      module: 'm',
      direction,
      electrical: direction === 'out' ? { class: 'switched-ground', maxA: 1 } : { class: 'input-pull-up-12v' },
      at: { connector: `K${index % 40}`, cavity: `${Math.floor(index / 40)}` },
    }));
  const side = (id: string, direction: 'in' | 'out') =>
    platformOf(id, { modules: [{ id: 'm', title: 'M' }], connectors, wires: wires(direction) });
  const nodes = Array.from({ length: 40 }, (_, index) => [
    { id: `b${index}`, kind: 'branch' },
    { id: `h${index}`, kind: 'connector', connector: `host:K${index}` },
    { id: `d${index}`, kind: 'connector', connector: `donor:K${index}` },
  ]).flat();
  const segments = Array.from({ length: 40 }, (_, index) => [
    ...(index === 0 ? [] : [{ from: `b${index - 1}`, to: `b${index}`, lengthM: 0.2 }]),
    { from: `h${index}`, to: `b${index}`, lengthM: 0.3 },
    { from: `d${index}`, to: `b${index}`, lengthM: 0.4 },
  ]).flat();
  const routes = Array.from({ length: count }, (_, index) => ({
    id: `r${index}`,
    from: [`donor:w${index % 10 === 9 ? index - 1 : index}`],
    to: `host:w${(index * 7) % count}`,
    carrier: 'hard-wire',
  }));
  return pair(
    mapOf({ routes, harness: { connectors: [], nodes, segments, circuits: [] } }),
    side('host', 'in'),
    side('donor', 'out'),
  );
}

it('2,000 circuits plan within a few seconds', () => {
  const pairing = large(2000);
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
    const pairing = large(count);
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
