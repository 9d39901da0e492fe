import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeDocuments, saysTheSame } from '../../src/compare/index.ts';
import type { CrossloomMap, Route } from '../../src/model/index.ts';

const route = (id: string, note = ''): Route => ({
  id,
  from: ['donor:w'],
  to: `host:${id}`,
  carrier: 'hard-wire',
  note,
});
const base: CrossloomMap = {
  format: 'crossloom-map',
  version: 1,
  id: 'm',
  title: 'M',
  revision: 'A',
  host: { platform: 'h' },
  donor: { platform: 'd' },
  fates: { 'host:a': 'removed' },
  interfaceModules: [],
  transmits: [],
  routes: ['a', 'b', 'c', 'd'].map((id) => route(id)),
};

type Change = (map: CrossloomMap) => CrossloomMap;
const change: fc.Arbitrary<Change> = fc.oneof(
  fc.record({ at: fc.nat({ max: 5 }), note: fc.constantFrom('x', 'y', 'z') }).map(
    ({ at, note }): Change =>
      (map) =>
        at < map.routes.length ? { ...map, routes: map.routes.with(at, { ...map.routes[at]!, note }) } : map,
  ),
  fc.nat({ max: 5 }).map((at): Change => (map) => ({ ...map, routes: map.routes.toSpliced(at, 1) })),
  fc.constantFrom('n1', 'n2', 'n3').map(
    (id): Change =>
      (map) =>
        map.routes.some((entry) => entry.id === id) ? map : { ...map, routes: [...map.routes, route(id, id)] },
  ),
  fc.constantFrom('B', 'C').map((revision): Change => (map) => ({ ...map, revision })),
  fc.constant<Change>((map) => ({ ...map, fates: { ...map.fates, 'host:b': 'removed' } })),
  fc.constant<Change>((map) => ({ ...map, routes: [...map.routes].reverse() })),
);
const changed = fc.array(change, { maxLength: 4 }).map((changes) => changes.reduce((map, apply) => apply(map), base));
const ids = (map: CrossloomMap): string[] => map.routes.map(({ id }) => id).sort();

describe('three-way merge by meaning', () => {
  it('takes what one side changed', () => {
    fc.assert(
      fc.property(changed, (theirs) => {
        expect(mergeDocuments(base, base, theirs)).toEqual({ merged: theirs, conflicts: [] });
        expect(mergeDocuments(base, theirs, base)).toEqual({ merged: theirs, conflicts: [] });
        expect(mergeDocuments(base, theirs, theirs)).toEqual({ merged: theirs, conflicts: [] });
      }),
    );
  });

  it('is symmetric where nothing conflicts, but for the order of additions', () => {
    fc.assert(
      fc.property(changed, changed, (ours, theirs) => {
        const one = mergeDocuments(base, ours, theirs);
        const other = mergeDocuments(base, theirs, ours);
        expect(one.conflicts.map(({ path }) => path).sort()).toEqual(other.conflicts.map(({ path }) => path).sort());
        if (one.conflicts.length > 0) return;
        const sorted = (map: CrossloomMap): CrossloomMap => ({
          ...map,
          routes: [...map.routes].sort((a, b) => (a.id < b.id ? -1 : 1)),
        });
        expect(saysTheSame(sorted(one.merged), sorted(other.merged))).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });

  it('loses nothing: every addition and every change is there or named', () => {
    fc.assert(
      fc.property(changed, changed, (ours, theirs) => {
        const { merged, conflicts } = mergeDocuments(base, ours, theirs);
        const before = new Set(ids(base));
        for (const side of [ours, theirs]) {
          for (const { id, note } of side.routes) {
            const was = base.routes.find((entry) => entry.id === id);
            const now = merged.routes.find((entry) => entry.id === id);
            if (!before.has(id)) expect(now, `added ${id}`).toBeDefined();
            if (was && was.note !== note) {
              const named = conflicts.some(({ path }) => path.startsWith(`routes[${id}]`));
              expect(now?.note === note || named, `change of ${id}`).toBe(true);
            }
          }
        }
        expect(new Set(ids(merged)).size).toBe(merged.routes.length);
      }),
      { numRuns: 1000 },
    );
  });

  it('names what both changed differently, and an entry one removed and the other changed', () => {
    const ours = { ...base, routes: base.routes.with(0, route('a', 'ours')) };
    const theirs = { ...base, routes: base.routes.with(0, route('a', 'theirs')) };
    expect(mergeDocuments(base, ours, theirs).conflicts).toEqual([
      { path: 'routes[a].note', base: '', ours: 'ours', theirs: 'theirs' },
    ]);
    const without = { ...base, routes: base.routes.slice(1) };
    const result = mergeDocuments(base, without, theirs);
    expect(result.merged.routes.map(({ id }) => id)).toContain('a');
    expect(result.conflicts.map(({ path }) => path)).toEqual(['routes[a]']);
  });
});
