import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { check, recheck } from '../../src/checks/index.ts';
import { comparePairings, reviewWalk, type ReviewWalk, type WalkStep } from '../../src/compare/index.ts';
import { indexSide, pair, type CrossloomMap, type Platform, type Route, type Side } from '../../src/model/index.ts';
import { loadDocuments } from '../compare/sample-pairings.ts';

const base = loadDocuments('ft6-orrin32.map.json');
const revised = loadDocuments('faulty/review-me.map.json');
const sides = [indexSide('host', base.host), indexSide('donor', base.donor)] as const;
const baseRun = check(pair(base.map, ...sides));

function walkOf(map: CrossloomMap, host: Platform | Side = sides[0], donor: Platform | Side = sides[1]): ReviewWalk {
  const comparison = comparePairings(baseRun.pairing, pair(map, host, donor), baseRun);
  return reviewWalk(comparison.after, recheck(baseRun, comparison.after).findings, comparison);
}

// The revision stands on the same platforms, so that they need not be looked at again for every example.
const before = walkOf(revised.map);

/** The list in the order of the keys drawn for it. */
function shuffled<T>(list: readonly T[], keys: readonly number[]): T[] {
  return list
    .map((entry, at) => ({ entry, key: keys[at % keys.length]! * (at + 1) }))
    .sort((a, b) => (a.key % 1009) - (b.key % 1009))
    .map(({ entry }) => entry);
}

const keys = fc.array(fc.integer({ min: 1, max: 100_000 }), { minLength: 7, maxLength: 40 });

describe('the review walk', () => {
  it('is the same whatever the order of the lists in map and platforms', () => {
    fc.assert(
      fc.property(keys, (order) => {
        const { map, host, donor } = revised;
        const mixed: CrossloomMap = {
          ...map,
          routes: shuffled(map.routes, order),
          transmits: shuffled(map.transmits, order),
          waivers: shuffled(map.waivers ?? [], order),
          leftOut: shuffled(map.leftOut ?? [], order),
        };
        const side = (platform: Platform): Platform => ({
          ...platform,
          modules: shuffled(platform.modules, order),
          messages: shuffled(platform.messages, order),
          wires: shuffled(platform.wires, order),
          feeds: shuffled(platform.feeds, order),
        });
        const after = walkOf(mixed, side(host), side(donor));
        expect(after.steps.map(({ id, digest }) => [id, digest])).toEqual(
          before.steps.map(({ id, digest }) => [id, digest]),
        );
      }),
      { numRuns: 8 },
    );
  }, 120_000);

  it('has every id once', () => {
    expect(new Set(before.steps.map(({ id }) => id)).size).toBe(before.steps.length);
  });

  const edit: fc.Arbitrary<{ at: number; change: Partial<Route> }> = fc.record({
    at: fc.nat({ max: revised.map.routes.length - 1 }),
    change: fc.oneof(
      fc.record({ staleAfterMs: fc.constantFrom(11, 777, undefined) }),
      fc.record({ recoverAfter: fc.constantFrom(1, 9) }),
      fc.record({ note: fc.constantFrom('Another note.', undefined) }),
      fc.record({ onLoss: fc.constantFrom<Route['onLoss']>({ do: 'hold' }, { do: 'stop-sending' }, undefined) }),
      fc.record({ verifySource: fc.boolean() }),
      fc.record({ when: fc.constantFrom<Route['when']>({ year: ['2021'] }, undefined) }),
      fc.record({ from: fc.constantFrom(['host:brake-switch-a'], ['donor:EngineTemps.Oil']) }),
      fc.record({ measured: fc.boolean() }),
    ) as fc.Arbitrary<Partial<Route>>,
  });

  it('changes a digest exactly when what is shown changes, and never that of a route left alone', () => {
    fc.assert(
      fc.property(edit, ({ at, change }) => {
        const routes = revised.map.routes.map((route, index) => (index === at ? { ...route, ...change } : route));
        const edited = revised.map.routes[at]!;
        const after = new Map(walkOf({ ...revised.map, routes }).steps.map((step) => [step.id, step]));
        for (const was of before.steps) {
          const now = after.get(was.id);
          if (!now) continue;
          expect(now.digest === was.digest, was.id).toBe(shown(now) === shown(was));
          // The way and the value of a route come from that route and the platforms alone.
          if (
            (was.kind === 'interlock-path' || was.kind === 'motion-value') &&
            was.subjects[0] !== `route:${edited.id}`
          )
            expect(was.elements.some(({ kind }) => kind === 'relay') || now.digest === was.digest, was.id).toBe(true);
        }
      }),
      { numRuns: 25 },
    );
  }, 120_000);
});

/** Everything a reviewer can read of the facts of a step: rows, elements, failures, changes, what was found. */
function shown({ facts, elements, changes, findings, waiver, kind }: WalkStep): string {
  const values =
    kind === 'finding' || kind === 'waiver' ? findings.map(({ values: of, options }) => [of, options]) : [];
  const things = changes.map(({ consequences: _words, ...rest }) => rest);
  const rows = elements.map(({ title: _title, why: _why, failures, ...rest }) => [
    rest,
    failures.map(({ effect: _effect, ...outcome }) => outcome),
  ]);
  return JSON.stringify([facts, rows, things, values, waiver]);
}
