import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pair, type Pairing } from '../../src/model/index.ts';
import { buildHarness, type HarnessPlan } from '../../src/wiring/index.ts';
import { mapOf, platformOf } from '../wiring/small-pairing.ts';

/** A harness of random hard wires, pins and builds over a random tree. Cavities are shared as chance has it. */
const drawn = fc.record({
  wires: fc.integer({ min: 1, max: 8 }),
  parents: fc.array(fc.nat(), { minLength: 6, maxLength: 6 }),
  lengths: fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 6, maxLength: 6 }),
  routes: fc.array(
    fc.record({
      from: fc.nat(),
      to: fc.nat(),
      pin: fc.boolean(),
      size: fc.constantFrom(undefined, '0.5mm2', '1mm2', '20AWG'),
      colour: fc.constantFrom(undefined, 'WH', 'BU-RD'),
      build: fc.constantFrom(undefined, 'a', 'b'),
    }),
    { maxLength: 16 },
  ),
});

type Drawn = typeof drawn extends fc.Arbitrary<infer T> ? T : never;

function pairingOf(shape: Drawn): Pairing {
  const wires = (prefix: string, direction: 'in' | 'out') =>
    Array.from({ length: shape.wires }, (_, index) => ({
      id: `${prefix}${index}`,
      title: `${prefix} ${index}`,
      module: 'm',
      direction,
      electrical: direction === 'out' ? { class: 'switched-ground', maxA: 1 } : { class: 'input-pull-up-12v' },
      at: { connector: `K${index % 3}`, cavity: `${index}` },
    }));
  const side = (id: string, prefix: string, direction: 'in' | 'out') =>
    platformOf(id, {
      modules: [{ id: 'm', title: 'M' }],
      wires: wires(prefix, direction),
      connectors: [0, 1, 2].map((index) => ({
        id: `K${index}`,
        title: `K${index}`,
        cavities: Array.from({ length: 9 }, (_, one) => `${one}`),
      })),
      feeds: [{ id: 'F1', kind: 'battery', fuseA: 10, at: { connector: 'K0', cavity: '8' } }],
      grounds: [{ id: 'G1', stud: 'rail' }],
    });
  const held = ['host:K0', 'host:K1', 'host:K2', 'donor:K0', 'donor:K1', 'donor:K2'];
  const nodes = [
    ...held.map((connector, index) => ({ id: `n${index}`, kind: 'connector', connector })),
    { id: 'nX', kind: 'connector', connector: 'X1' },
    { id: 'nG', kind: 'stud', ground: 'host:G1' },
    ...[0, 1, 2].map((index) => ({ id: `b${index}`, kind: 'branch' })),
  ];
  const segments = [
    { from: 'b0', to: 'b1', lengthM: 0.7 },
    { from: 'b1', to: 'b2', lengthM: 1.3 },
    { from: 'nX', to: 'b1', lengthM: 0.4 },
    { from: 'nG', to: 'b2', lengthM: 0.2 },
    ...held.map((_, index) => ({
      from: `n${index}`,
      to: `b${shape.parents[index]! % 3}`,
      lengthM: shape.lengths[index]! / 10,
    })),
  ];
  const pins = Array.from({ length: 16 }, (_, index) => ({
    id: `p${index}`,
    electrical: { class: 'input-pull-up-12v' },
    at: { connector: 'X1', cavity: `${index + 10}` },
  }));
  const map = mapOf({
    options: [{ id: 'build', choices: ['a', 'b'] }],
    interfaceModules: [
      {
        id: 'xm',
        title: 'XM',
        periodMs: 10,
        latencyMs: 1,
        maxA: 1,
        ports: [],
        pins,
        feed: 'host:F1',
        feedAt: { connector: 'X1', cavity: '1' },
        ground: 'host:G1',
        groundAt: { connector: 'X1', cavity: '2' },
      },
    ],
    routes: shape.routes.map((route, index) => ({
      id: `r${index}`,
      from: [`donor:out${route.from % shape.wires}`],
      to: route.pin ? 'host:Nowhere' : `host:in${route.to % shape.wires}`,
      carrier: route.pin ? 'interface' : 'hard-wire',
      ...(route.pin ? { by: 'xm', enters: [`p${index}`] } : {}),
      ...(route.build === undefined ? {} : { when: { build: [route.build] } }),
      conductor: { size: route.size, colour: route.colour },
    })),
    harness: {
      connectors: [{ id: 'X1', title: 'X1', cavities: Array.from({ length: 30 }, (_, index) => `${index}`) }],
      nodes,
      segments,
      circuits: [],
    },
  });
  return pair(map, side('host', 'in', 'in'), side('donor', 'out', 'out'));
}

const planned = (shape: Drawn): { readonly pairing: Pairing; readonly plan: HarnessPlan } => {
  const pairing = pairingOf(shape);
  return { pairing, plan: buildHarness(pairing) };
};

it('every conductor has two different ends and one unbroken way between them', () => {
  fc.assert(
    fc.property(drawn, (shape) => {
      for (const { circuit, way, lengthM } of planned(shape).plan.conductors) {
        expect(circuit.from.key).not.toBe(circuit.to.key);
        expect(way, circuit.key).not.toBeNull();
        expect(way!.segments.length).toBe(way!.nodes.length - 1);
        expect(new Set(way!.nodes).size, 'a way over a tree visits no node twice').toBe(way!.nodes.length);
        expect(lengthM).toBeCloseTo(way!.lengthM, 12);
      }
    }),
    { numRuns: 100 },
  );
});

it('no cavity holds two conductors in one build, in the pack of all builds and in that of each', () => {
  fc.assert(
    fc.property(drawn, (shape) => {
      const { pairing, plan } = planned(shape);
      for (const build of [1n, 2n]) {
        for (const { conductors } of [plan, buildHarness(pairing, { mask: build })]) {
          const held = new Set<string>();
          for (const { circuit } of conductors) {
            if ((circuit.mask & build) === 0n) continue;
            for (const end of [circuit.from, circuit.to]) {
              if (end.kind === 'stud' || end.kind === 'splice') continue;
              expect(held.has(end.key), `${end.key} twice`).toBe(false);
              held.add(end.key);
            }
          }
        }
      }
    }),
    { numRuns: 100 },
  );
});

/** Which places hang together, by joining pairs one after the other. */
function joiner() {
  const parent = new Map<string, string>();
  const find = (place: string): string => {
    let at = place;
    for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) at = up;
    return at;
  };
  return {
    join: (a: string, b: string) => parent.set(find(a), find(b)),
    together: (a: string, b: string) => find(a) === find(b),
  };
}

it('in each build exactly those places are joined which its routes join: none is cut off, none is shorted to another', () => {
  fc.assert(
    fc.property(drawn, (shape) => {
      const { pairing, plan } = planned(shape);
      const place = (ref: string): string => {
        const found = pairing.find(ref);
        return found?.kind === 'wire' ? `${found.side}:${found.wire.at!.connector}/${found.wire.at!.cavity}` : '';
      };
      for (const build of [1n, 2n]) {
        const wanted = joiner();
        const places = new Set<string>();
        for (const route of pairing.map.routes) {
          if ((pairing.options.maskOf(route.when) & build) === 0n) continue;
          const from = place(route.from[0]!);
          const to = route.carrier === 'hard-wire' ? place(route.to) : `X1/${Number(route.enters![0]!.slice(1)) + 10}`;
          wanted.join(from, to);
          places.add(from).add(to);
        }
        for (const { conductors } of [plan, buildHarness(pairing, { mask: build })]) {
          const built = joiner();
          for (const { circuit } of conductors)
            if ((circuit.mask & build) !== 0n) built.join(circuit.from.key, circuit.to.key);
          for (const a of places)
            for (const b of places) expect(built.together(a, b), `${a} and ${b}`).toBe(wanted.together(a, b));
        }
      }
    }),
    { numRuns: 150 },
  );
});

it('the cut lengths of the from–to list add up to the wire of the bill, size by size and colour by colour', () => {
  fc.assert(
    fc.property(drawn, (shape) => {
      const { plan } = planned(shape);
      const wire = plan.bom.filter(({ kind }) => kind === 'wire');
      for (const line of wire) {
        const used = new Set(line.usedBy);
        const cutMm = plan.fromTo
          .filter(({ circuit }) => used.has(circuit))
          .reduce((sum, row) => sum + row.cutLengthMm!, 0);
        expect(Math.round(line.net * 1000)).toBe(cutMm);
        expect(line.quantity).toBeGreaterThanOrEqual(line.net * 1.1 - 1e-9);
      }
      const allMm = plan.fromTo.reduce((sum, row) => sum + row.cutLengthMm!, 0);
      expect(Math.round(wire.reduce((sum, { net }) => sum + net, 0) * 1000)).toBe(allMm);
      expect(wire.flatMap(({ usedBy }) => usedBy).sort()).toEqual(plan.fromTo.map(({ circuit }) => circuit).sort());
    }),
    { numRuns: 100 },
  );
});
