import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Harness, type Circuit, type Splice } from '../../src/model/index.ts';
import {
  bendRadiusMm,
  bundleDiameterMm,
  coveredDiameterMm,
  harnessGraph,
  placeSplices,
  twistFactor,
} from '../../src/wiring/index.ts';

interface Link {
  readonly from: number;
  readonly to: number;
  readonly lengthM: number;
}

function harnessOf(count: number, links: readonly Link[], kinds: readonly string[] = []): Harness {
  return Harness.parse({
    connectors: [],
    circuits: [],
    nodes: Array.from({ length: count }, (_, index) => ({
      id: `n${index}`,
      kind: kinds[index] ?? 'branch',
      connector: `K${index}`,
    })),
    segments: links.map(({ from, to, lengthM }) => ({ from: `n${from}`, to: `n${to}`, lengthM })),
  });
}

/** All distances by Floyd and Warshall: another method than the one under test. */
function allDistances(count: number, links: readonly Link[]): number[][] {
  const d = Array.from({ length: count }, (_, i) => Array.from({ length: count }, (__, j) => (i === j ? 0 : Infinity)));
  for (const { from, to, lengthM } of links) {
    d[from]![to] = Math.min(d[from]![to]!, lengthM);
    d[to]![from] = Math.min(d[to]![from]!, lengthM);
  }
  for (let k = 0; k < count; k += 1)
    for (let i = 0; i < count; i += 1)
      for (let j = 0; j < count; j += 1) d[i]![j] = Math.min(d[i]![j]!, d[i]![k]! + d[k]![j]!);
  return d;
}

const length = fc.integer({ min: 1, max: 40 }).map((tenths) => tenths / 10);
const network = fc.integer({ min: 2, max: 14 }).chain((count) =>
  fc.record({
    count: fc.constant(count),
    links: fc.array(
      fc
        .record({
          from: fc.integer({ min: 0, max: count - 1 }),
          to: fc.integer({ min: 0, max: count - 1 }),
          lengthM: length,
        })
        .filter(({ from, to }) => from !== to),
      { maxLength: 25 },
    ),
  }),
);
/** A tree: every node but the first hangs on an earlier one. */
const tree = fc.integer({ min: 3, max: 14 }).chain((count) =>
  fc.record({
    count: fc.constant(count),
    links: fc.tuple(
      ...Array.from({ length: count - 1 }, (_, index) =>
        fc.record({ from: fc.integer({ min: 0, max: index }), to: fc.constant(index + 1), lengthM: length }),
      ),
    ),
  }),
);

describe('ways', () => {
  it('are the shortest, and their segments add up to their length', () => {
    fc.assert(
      fc.property(network, ({ count, links }) => {
        const graph = harnessGraph(harnessOf(count, links));
        const distances = allDistances(count, links);
        for (let from = 0; from < count; from += 1)
          for (let to = 0; to < count; to += 1) {
            const way = graph.way(`n${from}`, `n${to}`);
            const shortest = distances[from]![to]!;
            if (shortest === Infinity) {
              expect(way).toBeNull();
              continue;
            }
            expect(way!.lengthM).toBeCloseTo(shortest, 9);
            const sum = way!.segments.reduce((all, id) => all + graph.segmentById.get(id)!.lengthM, 0);
            expect(sum).toBeCloseTo(shortest, 9);
            expect(way!.nodes.length).toBe(way!.segments.length + 1);
            way!.segments.forEach((id, index) => {
              const { from: a, to: b } = graph.segmentById.get(id)!;
              expect([a, b].sort()).toEqual([way!.nodes[index]!, way!.nodes[index + 1]!].sort());
            });
          }
      }),
      { numRuns: 60 },
    );
  });

  it('names what it cannot use: a segment to nowhere or to itself, a connector at two nodes', () => {
    const graph = harnessGraph(
      Harness.parse({
        connectors: [],
        circuits: [],
        nodes: [
          { id: 'a', kind: 'connector', connector: 'K' },
          { id: 'b', kind: 'connector', connector: 'K' },
        ],
        segments: [
          { from: 'a', to: 'gone', lengthM: 1 },
          { from: 'a', to: 'a', lengthM: 1 },
        ],
      }),
    );
    expect(graph.problems.map(({ kind }) => kind).sort()).toEqual([
      'connector-twice',
      'segment-to-itself',
      'segment-without-node',
    ]);
    expect(graph.way('a', 'b')).toBeNull();
  });
});

const circuit = (key: string, node: number, splice: string): Circuit =>
  ({
    key,
    from: { kind: 'cavity', key: `K${node}/1`, connector: `K${node}`, cavity: '1', joint: 'terminal' },
    to: { kind: 'splice', key: splice, splice },
    through: [] as readonly string[],
  }) as unknown as Circuit;

describe('splices', () => {
  it('lie where their conductors need the least copper (weighted 1-median, by trying every node)', () => {
    fc.assert(
      fc.property(
        tree,
        fc.array(fc.record({ at: fc.nat(), areaMm2: fc.constantFrom(0.35, 0.5, 1, 2.5, 6) }), {
          minLength: 2,
          maxLength: 6,
        }),
        ({ count, links }, legs) => {
          const graph = harnessGraph(harnessOf(count, links));
          const ends = legs.map(({ at, areaMm2 }, index) => ({ key: `c${index}`, node: at % count, areaMm2 }));
          const circuits = new Map(ends.map(({ key, node }) => [key, circuit(key, node, 's')]));
          const splice = { id: 's', circuits: [...circuits.keys()] } as unknown as Splice;
          const area = new Map(ends.map(({ key, areaMm2 }) => [key, areaMm2]));
          const place = placeSplices(graph, [splice], circuits, ({ key }) => area.get(key)!).get('s')!;
          const distances = allDistances(count, links);
          const costs = Array.from({ length: count }, (_, node) =>
            ends.reduce((sum, end) => sum + end.areaMm2 * distances[end.node]![node]!, 0),
          );
          expect(place.copperMm2M).toBeCloseTo(Math.min(...costs), 9);
          expect(costs[Number(place.node!.slice(1))]).toBeCloseTo(Math.min(...costs), 9);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('stay off connectors and out of pass-throughs, and go where a person leads them', () => {
    // n0 – n1 – n2 – n3 – n4: connector, pass-through, splice, branch, connector.
    const links = [0, 1, 2, 3].map((from) => ({ from, to: from + 1, lengthM: 1 }));
    const graph = harnessGraph(harnessOf(5, links, ['connector', 'pass-through', 'splice', 'branch', 'connector']));
    const circuits = new Map([
      ['a', circuit('a', 0, 's')],
      ['b', circuit('b', 0, 's')],
      ['c', circuit('c', 4, 's')],
    ]);
    const splice = { id: 's', circuits: [...circuits.keys()] } as unknown as Splice;
    // Two of three conductors end at n0: the least copper would be there, or next in the pass-through.
    expect(placeSplices(graph, [splice], circuits, () => 1).get('s')).toMatchObject({ node: 'n2', by: 'least-copper' });
    const led = new Map(circuits).set('c', { ...circuits.get('c')!, through: ['n3'] });
    expect(placeSplices(graph, [splice], led, () => 1).get('s')!.by).toBe('least-copper');
    const byHand = new Map(circuits).set('c', { ...circuits.get('c')!, through: ['n2'] });
    expect(placeSplices(graph, [splice], byHand, () => 1).get('s')).toMatchObject({ node: 'n2', by: 'hand' });
  });
});

describe('bundles', () => {
  it('public harness guide: 24 wires of 2.0 mm with the factor 1.20 make 2.0 × √24 × 1.2 = 11.76 mm', () => {
    expect(bundleDiameterMm(Array.from({ length: 24 }, () => 2)).toFixed(2)).toBe('11.76');
  });

  it('are never smaller than the best packing of equal circles in a circle (published ratios)', () => {
    const ratios = { 1: 1, 2: 2, 3: 2.1547, 4: 2.4142, 5: 2.7013, 6: 3, 7: 3, 8: 3.3047, 9: 3.613, 10: 3.813 };
    const more = { 11: 3.9238, 12: 4.0296, 13: 4.236, 14: 4.3284, 15: 4.5213, 16: 4.6154, 19: 4.8637, 37: 6.7587 };
    for (const [count, ratio] of Object.entries({ ...ratios, ...more })) {
      const bundle = bundleDiameterMm(Array.from({ length: Number(count) }, () => 1.7));
      expect(bundle, count).toBeGreaterThanOrEqual(1.7 * ratio - 1e-3);
      expect(bundle, count).toBeLessThan(1.7 * ratio * 1.15);
    }
    expect(bundleDiameterMm([])).toBe(0);
  });

  it('never shrink when a conductor is added', () => {
    const outside = fc.constantFrom(0.5, 1.4, 1.7, 2.4, 6, 9.9);
    fc.assert(
      fc.property(fc.array(outside, { maxLength: 20 }), outside, (bundle, one) => {
        expect(bundleDiameterMm([...bundle, one])).toBeGreaterThanOrEqual(bundleDiameterMm(bundle) - 1e-12);
      }),
    );
  });

  it('bear two large ones side by side, and a tube is a quarter wider (AC 43.13-1B 11-249)', () => {
    expect(bundleDiameterMm([6, 6, 1])).toBeGreaterThanOrEqual(12);
    expect(coveredDiameterMm(10, 'convoluted tube')).toBeGreaterThan(12.5);
    expect(coveredDiameterMm(10, undefined)).toBe(10);
    expect(bendRadiusMm([1.7, 6])).toBe(60);
  });

  it('a twisted conductor is longer by its helix: unrolled, one turn is the hypotenuse of pitch and circumference', () => {
    expect(twistFactor(1.7, 25)).toBeCloseTo(Math.hypot(25, Math.PI * 1.7) / 25, 12);
  });
});
