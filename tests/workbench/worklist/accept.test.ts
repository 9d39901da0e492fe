import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { acceptBest, propose } from '../../../src/edit/index.ts';
import { applyEdits, deriveNeedsAndOffers, pair, readMap, readPlatform, writeMap } from '../../../src/model/index.ts';
import { progressOf } from '../../../src/workbench/state/progress.ts';

function read<T>(result: { ok: true; document: T } | { ok: false }): T {
  if (!result.ok) throw new Error('the sample is not valid');
  return result.document;
}
const sample = (name: string): string => readFileSync(`sample-maps/${name}`, 'utf8');
const full = read(readMap(sample('ft6-orrin32.map.json')));
const host = read(readPlatform(sample('halden-ft6.platform.json')));
const donor = read(readPlatform(sample('orrin-32.platform.json')));

describe('accepting many proposals at once', () => {
  const map = { ...full, routes: [], transmits: [], leftOut: [], waivers: [] };
  const pairing = pair(map, host, donor);
  const needs = propose(pairing);
  const { edits, accepted, refused } = acceptBest(pairing, needs, 60);
  const after = applyEdits({ map, host, donor }, edits).map;

  it('gives a valid map in which no route shares an id, no pin is driven twice and no message is sent twice', () => {
    expect(accepted.length).toBeGreaterThan(60);
    expect(readMap(writeMap(after)).ok).toBe(true);
    const unique = (list: readonly string[]): void => expect(new Set(list).size).toBe(list.length);
    unique(after.routes.map(({ id }) => id));
    unique(after.routes.flatMap(({ by, leaves }) => (leaves === undefined ? [] : [`${by}.${leaves}`])));
    unique(after.transmits.map(({ message }) => message));
  });

  it('takes just the needs whose best proposal can be routed and scores enough', () => {
    const able = needs.filter(
      ({ proposals: [best] }) => best !== undefined && best.draft.route !== null && best.score >= 60,
    );
    expect(accepted.length + refused.length).toBe(able.length);
    expect(accepted.map(({ route }) => route.to)).toEqual(
      able.map(({ need }) => need.ref).filter((ref) => !refused.some(({ need }) => need.ref === ref)),
    );
  });

  it('moves the progress by as many needs as were accepted', () => {
    const before = progressOf(pairing, deriveNeedsAndOffers(pairing));
    const now = pair(after, host, donor);
    const then = progressOf(now, deriveNeedsAndOffers(now));
    expect(before.met).toBe(0);
    expect(then.open.map(({ ref }) => ref)).not.toEqual(expect.arrayContaining(accepted.map(({ need }) => need.ref)));
    expect(then.met).toBeGreaterThan(0.9 * accepted.length);
  });

  it('counts a need as answered when its function is left out', () => {
    const need = needs.find(({ need: { function: id } }) => id !== null)!.need;
    const without = { ...map, leftOut: [{ function: need.function!, reason: 'not fitted' }] };
    const left = pair(without, host, donor);
    expect(progressOf(left, deriveNeedsAndOffers(left)).open.map(({ ref }) => ref)).not.toContain(need.ref);
  });
});
