import { describe, expect, it } from 'vitest';
import { RULES, check, type Mend } from '../../../src/checks/index.ts';
import { applyEdits, pair, type PairingDocuments } from '../../../src/model/index.ts';
import { leavesOut, planMends } from '../../../src/workbench/places/findings/mending.ts';

const rule = RULES.find(({ id }) => id === 'time/no-loss-behaviour')!;
const documents: PairingDocuments = rule.examples.failing().documents;
const route = documents.map.routes[0]!.id;

const set = (id: string, field: string, to: number): Mend => ({
  title: `set ${field}`,
  edits: [{ do: 'set', in: 'map', path: ['routes', { id }, field], to }],
});

describe('mending several findings at once', () => {
  it('does not touch one entry twice: the second waits for the next check', () => {
    const plan = planMends(documents, [set(route, 'staleAfterMs', 10), set(route, 'recoverAfter', 2)]);
    expect(plan).toMatchObject({ mended: 1, waiting: 1 });
    expect(applyEdits(documents, plan.edits).map.routes[0]!.staleAfterMs).toBe(10);
  });

  it('does an edit that two mends share once, and entries added to a list beside each other', () => {
    const add = (signal: string): Mend => ({
      title: 'leave out',
      edits: [{ do: 'insert', in: 'map', path: ['leftOut'], value: { signal, reason: 'r' } }],
    });
    const plan = planMends(documents, [add('host:A.B'), add('host:A.C'), add('host:A.B')]);
    expect(plan.waiting).toBe(0);
    expect(applyEdits(documents, plan.edits).map.leftOut?.map(({ signal }) => signal)).toEqual([
      'host:A.B',
      'host:A.C',
    ]);
  });

  it('leaves out a mend whose path leads nowhere, and does the others', () => {
    const plan = planMends(documents, [set('no-such-route', 'staleAfterMs', 10), set(route, 'staleAfterMs', 10)]);
    expect(plan).toMatchObject({ mended: 1, waiting: 1 });
    expect(() => applyEdits(documents, plan.edits)).not.toThrow();
  });

  it('knows which mends leave a need out', () => {
    expect(leavesOut(set(route, 'staleAfterMs', 1))).toEqual([]);
    expect(leavesOut(null)).toEqual([]);
    const need = RULES.find(({ id }) => id === 'orphan/need-without-route')!.examples.failing();
    const { map, host, donor } = need.documents;
    const found = check(pair(map, host, donor)).findings.filter((each) => each.rule === 'orphan/need-without-route');
    expect(found.map((finding) => leavesOut(finding.mend))).toEqual(need.expect.map((subject) => [subject]));
  });

  it('mends every failing example of the rules that offer a mend, or leaves it whole', () => {
    let mended = 0;
    for (const each of RULES) {
      const example = each.examples.failing().documents;
      const pairing = pair(example.map, example.host, example.donor);
      const mends = check(pairing).findings.flatMap((finding) =>
        finding.rule === each.id && finding.mend ? [finding.mend] : [],
      );
      const plan = planMends(example, mends);
      expect(plan.mended + plan.waiting).toBe(mends.length);
      if (mends.length > 0) expect(plan.mended, each.id).toBeGreaterThan(0);
      mended += plan.mended;
    }
    expect(mended).toBeGreaterThan(20);
  });
});
