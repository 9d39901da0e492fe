import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mapStates, propose, stepsBetween } from '../../../src/edit/index.ts';
import {
  CrossloomMap,
  applyEdits,
  findFunction,
  pair,
  readMap,
  readPlatform,
  type Pairing,
} from '../../../src/model/index.ts';
import { domainOfSignal } from '../../../src/translate/index.ts';

const folder = resolve(import.meta.dirname, '../../../sample-maps');

function sample(): Pairing {
  const read = <T>(name: string, reader: (text: string) => { ok: true; document: T } | { ok: false }): T => {
    const result = reader(readFileSync(join(folder, name), 'utf8'));
    if (!result.ok) throw new Error(`${name} cannot be read`);
    return result.document;
  };
  const map = read('ft6-orrin32.map.json', readMap);
  return pair(map, read(map.host.platform, readPlatform), read(map.donor.platform, readPlatform));
}

describe('proposals for the sample with its routes taken out', () => {
  const whole = sample();
  const bare = pair({ ...whole.map, routes: [], transmits: [], leftOut: [] }, whole.host, whole.donor);
  const proposals = propose(bare);
  const byNeed = new Map(proposals.map((entry) => [entry.need.ref, entry]));

  it('finds again, as its first choice, the source a person chose, for most routes', () => {
    const wanted = whole.map.routes.filter(({ to }) => byNeed.has(to));
    const found = wanted.filter(({ to, from }) => {
      const best = byNeed.get(to)!.proposals[0];
      return best?.draft.route && from.includes(best.offer.ref);
    });
    expect(wanted.length).toBeGreaterThan(100);
    expect(found.length / wanted.length).toBeGreaterThan(0.8);
  });

  it('proposes interlocks as hard wires or not at all', () => {
    let interlocks = 0;
    for (const { need, proposals: list } of proposals) {
      const entry = findFunction(need.function ?? undefined);
      if (entry?.criticality !== 'interlock' && entry?.carrierRule !== 'hard-wired') continue;
      interlocks += 1;
      for (const { draft } of list) if (draft.route) expect(draft.route.carrier, need.ref).toBe('hard-wire');
    }
    expect(interlocks).toBeGreaterThan(5);
  });

  it('gives reasons that add up to the score', () => {
    for (const { proposals: list } of proposals) {
      for (const { score, reasons } of list) {
        expect(reasons.length).toBeGreaterThan(0);
        expect(reasons.reduce((sum, { points }) => sum + points, 0)).toBe(score);
      }
    }
  });

  it('drafts complete routes: staleness, loss behaviour, module; the map stays valid with them', () => {
    const drafts = proposals.flatMap(({ proposals: [best] }) =>
      best?.draft.route?.carrier === 'interface' ? [best.draft] : [],
    );
    expect(drafts.length).toBeGreaterThan(50);
    for (const { route, open } of drafts) {
      expect(route!.by).toBeDefined();
      expect(route!.staleAfterMs).toBeGreaterThan(0);
      expect(route!.onLoss !== undefined || open.some((text) => text.includes('on loss')), route!.id).toBe(true);
    }
    const first = drafts[0]!;
    const { map } = applyEdits({ map: bare.map, host: bare.host.platform, donor: bare.donor.platform }, first.edits);
    expect(CrossloomMap.safeParse(map).success).toBe(true);
    const after = propose(pair(map, bare.host, bare.donor));
    expect(after.length).toBe(proposals.length - 1);
  });
});

describe('steps between two values', () => {
  const number = (unit: string) =>
    domainOfSignal({
      id: 's',
      bits: { start: 0, length: 8, order: 'little' },
      number: 'unsigned',
      factor: 1,
      offset: 0,
      unit,
      range: [0, 100],
    });

  it('copies equal units, converts convertible ones, and leaves the rest to a person', () => {
    expect(stepsBetween(number('km/h'), number('km/h'))).toEqual({ steps: [], left: [] });
    expect(stepsBetween(number('km/h'), number('[mi_i]/h'))).toEqual({ steps: [{ do: 'convert' }], left: [] });
    expect(stepsBetween(number('km/h'), number('Cel')).left).toHaveLength(1);
  });

  it('pairs states by name and by meaning, and names those it cannot pair', () => {
    expect(mapStates(['Off', 'On', 'Error'], ['Inactive', 'Active'])).toEqual({
      map: { Off: 'Inactive', On: 'Active' },
      unmatched: ['Error'],
    });
    expect(mapStates(['Park', 'Drive'], ['P', 'R', 'N', 'D'])).toEqual({
      map: { Park: 'P', Drive: 'D' },
      unmatched: [],
    });
  });
});
