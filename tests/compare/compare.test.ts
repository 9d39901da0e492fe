import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { comparePairings, differingFields } from '../../src/compare/index.ts';
import {
  pair,
  readMap,
  readPlatform,
  type CrossloomMap,
  type Pairing,
  type ReadResult,
} from '../../src/model/index.ts';

const folder = resolve(import.meta.dirname, '../../sample-maps');

function must<T>(result: ReadResult<T>): T {
  if (!result.ok) throw new Error(result.faults[0]!.message);
  return result.document;
}

function load(name: string, change: (map: CrossloomMap) => CrossloomMap = (map) => map): Pairing {
  const path = join(folder, name);
  const map = must(readMap(readFileSync(path, 'utf8')));
  const platform = (link: string) => must(readPlatform(readFileSync(join(dirname(path), link), 'utf8')));
  return pair(change(map), platform(map.host.platform), platform(map.donor.platform));
}

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
    const text = readFileSync(join(folder, 'faulty/review-me.md'), 'utf8');
    const planted = [...text.matchAll(/^\| *\d+ *\|.*$/gm)].map(([row]) => row);
    expect(planted).toHaveLength(15);
    const shown = [
      ...comparison.changes.flatMap(({ subject, was }) => [subject, was ?? '']),
      ...comparison.findingsNew.map(({ subject }) => subject),
    ].filter((subject) => subject.length > 3);
    for (const row of planted) {
      const names = shown.some(
        (subject) => row.includes(subject) || row.includes(subject.replace(/^(route|function|transmit):/, '')),
      );
      expect(names, row).toBe(true);
    }
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
