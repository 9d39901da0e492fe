import { describe, expect, it } from 'vitest';
import { check } from '../../../src/checks/index.ts';
import { comparePairings } from '../../../src/compare/index.ts';
import type { CrossloomMap, Pairing } from '../../../src/model/index.ts';
import { layLoom } from '../../../src/workbench/places/loom/layout.ts';
import { alignLooms, countChanges, differingOnly } from '../../../src/workbench/places/review/align.ts';
import { flowOfTwo } from '../../../src/workbench/places/review/two-flow.ts';
import { derivationOf } from '../../../src/workbench/state/derived.ts';
import { progressOf } from '../../../src/workbench/state/progress.ts';
import { loadPairing } from '../../compare/sample-pairings.ts';

const groupsOf = (pairing: Pairing) =>
  layLoom(pairing, progressOf(pairing, derivationOf(pairing)).open, check(pairing).findings);

const clean = loadPairing('ft6-orrin32.map.json');
const faulty = loadPairing('faulty/review-me.map.json');
const aligned = (before: Pairing, after: Pairing) =>
  alignLooms(groupsOf(before), groupsOf(after), comparePairings(before, after).changes);

const both = aligned(clean, faulty);
const edited = (change: (map: CrossloomMap) => CrossloomMap): Pairing => loadPairing('ft6-orrin32.map.json', change);

describe('two looms on common lines', () => {
  it('shows every strand and loose end of both revisions, each once', () => {
    const rows = both.flatMap((group) => group.rows);
    const ids = (pairing: Pairing) =>
      groupsOf(pairing)
        .flatMap((group) => group.rows.map(({ id }) => id))
        .sort();
    expect(rows.flatMap(({ before }) => (before ? [before.id] : [])).sort()).toEqual(ids(clean));
    expect(rows.flatMap(({ after }) => (after ? [after.id] : [])).sort()).toEqual(ids(faulty));
  });

  it('says nothing of a revision compared with itself', () => {
    const groups = aligned(clean, clean);
    expect(differingOnly(groups)).toEqual([]);
    expect(countChanges(groups).same).toBe(groupsOf(clean).flatMap(({ rows }) => rows).length);
  });

  it('lays a strand that is gone beside the loose end that it left', () => {
    const rows = both.flatMap((group) => group.rows);
    const row = rows.find(({ before }) => before?.id === 'route:steering-angle');
    expect(row).toMatchObject({ change: 'removed', after: { kind: 'loose', id: 'donor:SteeringData.Angle' } });
    const back = aligned(faulty, clean).flatMap((group) => group.rows);
    expect(back.find(({ after }) => after?.id === 'route:steering-angle')).toMatchObject({
      change: 'added',
      before: { kind: 'loose' },
    });
  });

  it('knows a strand under another name, and one whose message alone changed', () => {
    const renamed = edited((map) => ({
      ...map,
      routes: map.routes.map((route) => (route.id === 'crash-line' ? { ...route, id: 'inertia' } : route)),
    }));
    const row = aligned(clean, renamed)
      .flatMap((group) => group.rows)
      .find(({ id }) => id === 'route:inertia');
    expect(row).toMatchObject({ change: 'renamed', before: { id: 'route:crash-line' } });
    const torque = both.flatMap((group) => group.rows).find(({ id }) => id === 'route:torque-actual');
    expect(torque).toMatchObject({ change: 'changed', what: 'message' });
  });

  it('gives both halves the same lines, one below the other', () => {
    const flow = flowOfTwo(both);
    let y = 0;
    for (const row of flow.rows) {
      expect(row.y).toBeGreaterThanOrEqual(y);
      y = row.y + row.height;
      if (row.kind !== 'row') continue;
      for (const half of ['before', 'after'] as const) {
        const own = row.row[half];
        if (own) expect(flow[half].rows[flow[half].indexOf.get(own.id)!]!.y).toBe(row.y);
      }
    }
  });
});
