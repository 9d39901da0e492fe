import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { diffDocuments, mergeDocuments } from '../../src/compare/index.ts';
import {
  applyEdits,
  readMap,
  readPlatform,
  writeMap,
  writePlatform,
  type CrossloomMap,
  type Platform,
  type ReadResult,
} from '../../src/model/index.ts';

const folder = resolve(import.meta.dirname, '../../sample-maps');

function must<T>(result: ReadResult<T>): T {
  if (!result.ok) throw new Error(result.faults[0]!.message);
  return result.document;
}
const whole = must(readMap(readFileSync(resolve(folder, 'ft6-orrin32.map.json'), 'utf8')));
const host = must(readPlatform(readFileSync(resolve(folder, whole.host.platform), 'utf8')));
/** Small enough for a thousand runs, with every list a map has. */
const base: CrossloomMap = { ...whole, routes: whole.routes.slice(0, 12), transmits: whole.transmits.slice(0, 8) };
const smallHost: Platform = { ...host, messages: host.messages.slice(0, 6) };

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** Walks into a copy of a document by fractions and changes what it comes upon: removes, repeats under another id, reverses, replaces. */
function disturbed<T>(document: T, turns: readonly (readonly number[])[]): T {
  const copy = JSON.parse(JSON.stringify(document)) as { [key: string]: Json };
  for (const [seed, ...turn] of turns) {
    let at: Json = copy;
    for (const fraction of turn) {
      const keys: (string | number)[] = Array.isArray(at) ? [...at.keys()] : Object.keys(at as object);
      if (keys.length === 0) break;
      const key = keys[Math.floor(fraction * keys.length)]!;
      const holder = at as { [key: string]: Json };
      const value: Json = holder[key as string]!;
      if (typeof value === 'object' && value !== null && turn.indexOf(fraction) < turn.length - 1) {
        at = value;
        continue;
      }
      disturb(holder, key, value, Math.floor(seed! * 5));
      break;
    }
  }
  return copy as T;
}

function disturb(holder: { [key: string]: Json }, key: string | number, value: Json, how: number): void {
  if (Array.isArray(holder)) {
    const list = holder as Json[];
    const at = Number(key);
    if (how === 0) list.splice(at, 1);
    else if (how === 1) list.reverse();
    else if (how === 2) list.push(...list.splice(at, 1));
    else if (typeof value === 'object' && value !== null && !Array.isArray(value) && typeof value['id'] === 'string') {
      list.splice(at, 0, { ...value, id: `${value['id']}-${list.length}` });
    }
  } else if (how === 0) Reflect.deleteProperty(holder, key);
  else if (typeof value === 'string') holder[key] = `${value}~`;
  else if (typeof value === 'number') holder[key] = value + 1;
  else if (typeof value === 'boolean') holder[key] = !value;
  else if (Array.isArray(value)) value.reverse();
}

const fraction = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
const turns = fc.array(fc.array(fraction, { minLength: 2, maxLength: 7 }), { maxLength: 8 });

describe('differences as edits', () => {
  it('apply(diff(a, b), a) = b for maps, and back again', () => {
    let differing = 0;
    fc.assert(
      fc.property(turns, turns, (one, other) => {
        const [a, b] = [disturbed(base, one), disturbed(base, other)];
        const there = applyEdits({ map: a, host, donor: host }, diffDocuments('map', a, b)).map;
        expect(writeMap(there)).toBe(writeMap(b));
        if (writeMap(a) !== writeMap(b)) differing += 1;
        expect(writeMap(applyEdits({ map: b, host, donor: host }, diffDocuments('map', b, a)).map)).toBe(writeMap(a));
      }),
      { numRuns: 1000 },
    );
    expect(differing).toBeGreaterThan(500);
  });

  it('the same for platforms', () => {
    fc.assert(
      fc.property(turns, turns, (one, other) => {
        const [a, b] = [disturbed(smallHost, one), disturbed(smallHost, other)];
        const there = applyEdits({ map: base, host: a, donor: host }, diffDocuments('host', a, b)).host;
        expect(writePlatform(there)).toBe(writePlatform(b));
      }),
      { numRuns: 300 },
    );
  });

  it('says nothing of two that read the same, and one edit of one that moved', () => {
    expect(diffDocuments('map', base, JSON.parse(JSON.stringify(base)) as CrossloomMap)).toEqual([]);
    const [first, ...rest] = base.routes;
    const edits = diffDocuments('map', base, { ...base, routes: [...rest, first!] });
    expect(edits.map((edit) => edit.do)).toEqual(['remove', 'insert']);
  });

  it('a merge of whole maps loses nothing: where it names no conflict, each side finds its own changes in it', () => {
    let clean = 0;
    fc.assert(
      fc.property(turns, turns, (one, other) => {
        const [ours, theirs] = [disturbed(base, one), disturbed(base, other)];
        const { merged, conflicts } = mergeDocuments(base, ours, theirs);
        if (conflicts.length > 0) return;
        clean += 1;
        // What only they changed stands between ours and the merge, and nothing of ours was undone by it.
        const again = mergeDocuments(base, merged, theirs);
        expect(again.conflicts).toEqual([]);
        expect(sorted(again.merged)).toEqual(sorted(merged));
        expect(sorted(mergeDocuments(base, merged, ours).merged)).toEqual(sorted(merged));
      }),
      { numRuns: 1000 },
    );
    expect(clean).toBeGreaterThan(200);
  });
});

/** Lists in an order of their own: a merge may place additions of both sides either way round. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted).sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, inner]) => [key, sorted(inner)]),
  );
}
