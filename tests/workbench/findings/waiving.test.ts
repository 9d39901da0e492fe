import { describe, expect, it } from 'vitest';
import { RULES, check, type Finding } from '../../../src/checks/index.ts';
import { pair, type CrossloomMap } from '../../../src/model/index.ts';
import { beginHistory } from '../../../src/edit/index.ts';
import { undoLast } from '../../../src/workbench/actions/change.ts';
import { createWorkbenchStore, type WorkbenchStore } from '../../../src/workbench/state/store.ts';
import { answerFault, lift, standings, waive, waiverOf } from '../../../src/workbench/places/findings/waiving.ts';

const example = RULES.find(({ id }) => id === 'routing/not-hard-wired')!.examples.failing();
const { documents } = example;

function openStore(): WorkbenchStore {
  const store = createWorkbenchStore({
    call: () => Promise.reject(new Error('no machine')),
    listen: () => () => undefined,
  });
  store.setState({
    session: {
      shell: 'loopback',
      version: '0',
      today: '2026-01-31',
      folder: '.',
      opens: null,
      sample: null,
      recent: [],
    },
    open: {
      serial: 1,
      mapPath: 'm.map.json',
      hostPath: 'h.platform.json',
      donorPath: 'd.platform.json',
      seen: { map: null, host: null, donor: null },
      onDisk: documents,
      history: beginHistory(documents),
    },
  });
  return store;
}

const mapOf = (store: WorkbenchStore): CrossloomMap => store.getState().open!.history.documents.map;
const findingsOf = (map: CrossloomMap): readonly Finding[] =>
  check(pair(map, documents.host, documents.donor)).findings;
const finding = findingsOf(documents.map).find(({ rule }) => rule === 'routing/not-hard-wired')!;

describe('waiving', () => {
  it('asks for a reason, a name, and for a stop a second person', () => {
    expect(finding.severity).toBe('stop');
    expect(answerFault({ reason: ' ', by: 'A', secondBy: 'B' }, [finding])).toMatch(/reason/);
    expect(answerFault({ reason: 'r', by: '', secondBy: 'B' }, [finding])).toMatch(/name/);
    expect(answerFault({ reason: 'r', by: 'A', secondBy: '' }, [finding])).toMatch(/two people/);
    expect(answerFault({ reason: 'r', by: 'Ann Lee', secondBy: ' ann  lee' }, [finding])).toMatch(/two people/);
    expect(answerFault({ reason: 'r', by: 'A', secondBy: 'B' }, [finding])).toBeNull();
    expect(answerFault({ reason: 'r', by: 'A', secondBy: '' }, [{ ...finding, severity: 'look' }])).toBeNull();
  });

  it('answers the finding, lapses when its subject changes, and can be lifted and undone', () => {
    const store = openStore();
    waive(store, [finding], { reason: ' bench only ', by: 'A', secondBy: 'B' });
    const waived = findingsOf(mapOf(store)).find(
      ({ rule, subject }) => rule === finding.rule && subject === finding.subject,
    )!;
    expect(waived.waived).toEqual({ by: 'A', secondBy: 'B', reason: 'bench only', on: '2026-01-31' });
    expect(standings(mapOf(store), findingsOf(mapOf(store)))[0]?.standing.kind).toBe('answers');
    const changed = findingsOf(mapOf(store)).map((each) =>
      each.rule === finding.rule ? { ...each, values: [{ name: 'carrier', value: 'another', unit: '' }] } : each,
    );
    expect(standings(mapOf(store), changed)[0]?.standing.kind).toBe('lapsed');
    lift(store, waiverOf(mapOf(store), finding)!);
    expect(mapOf(store).waivers).toEqual([]);
    undoLast(store);
    undoLast(store);
    expect(mapOf(store)).toBe(documents.map);
  });
});
