import { describe, expect, it } from 'vitest';
import { comparePairings, differingFields } from '../../src/compare/index.ts';
import type { CrossloomMap } from '../../src/model/index.ts';
import { loadPairing as load, plantedMistakes } from './sample-pairings.ts';

const clean = load('ft6-orrin32.map.json');

describe('comparing two revisions by meaning', () => {
  it('finds nothing between a map and itself, whatever the order of its keys and routes', () => {
    const shuffled = load('ft6-orrin32.map.json', (map) => ({
      ...(Object.fromEntries(Object.entries(map).reverse()) as CrossloomMap),
      routes: [...map.routes].reverse(),
    }));
    const { changes, findingsNew, findingsGone } = comparePairings(clean, shuffled);
    expect(changes).toEqual([]);
    // A sign-off stands for the bytes, so another order of routes does make it stale.
    expect([...findingsNew, ...findingsGone].filter(({ rule }) => !rule.startsWith('record/'))).toEqual([]);
  });

  it('shows every planted mistake of review-me against its clean ancestor', () => {
    const comparison = comparePairings(clean, load('faulty/review-me.map.json'));
    const planted = plantedMistakes();
    expect(planted).toHaveLength(15);
    const shown = [
      ...comparison.changes.flatMap(({ subject, was }) => [subject, was ?? '']),
      ...comparison.findingsNew.map(({ subject }) => subject),
    ];
    for (const { subject } of planted) expect(shown, subject).toContain(subject);
    expect(comparison.findingsNew.length).toBeGreaterThanOrEqual(15);
  });

  it('recognises a rename and says what a changed carrier means', () => {
    const renamed = load('ft6-orrin32.map.json', (map) => ({
      ...map,
      routes: map.routes.map((route) => (route.id === 'park-neutral' ? { ...route, id: 'pn-contact' } : route)),
    }));
    expect(comparePairings(clean, renamed).changes).toContainEqual(
      expect.objectContaining({ kind: 'renamed', subject: 'route:pn-contact', was: 'route:park-neutral' }),
    );
    const moved = load('ft6-orrin32.map.json', (map) => ({
      ...map,
      routes: map.routes.map((route) =>
        route.id === 'park-neutral' ? { ...route, carrier: 'interface', by: 'xm' } : route,
      ),
    }));
    const change = comparePairings(clean, moved).changes.find(({ subject }) => subject === 'route:park-neutral');
    expect(change?.consequences.join(' ')).toContain('programmable is now in series');
  });

  it('names fields as deep as helps', () => {
    expect(
      differingFields(
        { a: { b: 1, c: 2 }, routes: [{ id: 'x', note: 'a' }] },
        { a: { b: 1, c: 3 }, routes: [{ id: 'x', note: 'b' }] },
      ),
    ).toEqual([
      { path: 'a.c', from: 2, to: 3 },
      { path: 'routes[x].note', from: 'a', to: 'b' },
    ]);
  });
});
