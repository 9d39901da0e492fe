import { describe, expect, it } from 'vitest';
import { applyEdits, pair, type CrossloomMap, type Pairing, type Platform } from '../../../src/model/index.ts';
import { pasteTable, readTable, writeTable } from '../../../src/workbench/places/routes/clipboard.ts';

const platform = (id: string): Platform => ({
  format: 'crossloom-platform',
  version: 1,
  id,
  title: id,
  buses: [],
  modules: [{ id: 'm', title: 'M' }],
  messages: [],
  wires: ['w1', 'w2', 'w3'].map((wire) => ({
    id: wire,
    title: wire,
    module: 'm',
    direction: 'in',
    electrical: { class: 'lamp' },
  })),
  connectors: [],
  feeds: [],
  grounds: [],
});
const map: CrossloomMap = {
  format: 'crossloom-map',
  version: 1,
  id: 'm',
  title: 'M',
  revision: 'A',
  host: { platform: 'h' },
  donor: { platform: 'd' },
  fates: {},
  options: [{ id: 'drive', choices: ['2wd', '4wd'] }],
  interfaceModules: [],
  transmits: [],
  routes: [
    { id: 'a', from: ['donor:w1'], to: 'host:w1', carrier: 'hard-wire', note: 'line one\nline "two"\tand a tab' },
    { id: 'b', from: ['donor:w2'], to: 'host:w2', carrier: 'hard-wire', title: '=HYPERLINK("x")', staleAfterMs: 100 },
  ],
};
const pairing = pair(map, platform('host'), platform('donor'));
const after = (edits: Parameters<typeof applyEdits>[1]): CrossloomMap =>
  applyEdits({ map, host: pairing.host.platform, donor: pairing.donor.platform }, edits).map;
const at = { row: 0, column: 0 };

describe('the spreadsheet clipboard', () => {
  it('reads quoted cells with tabs, line breaks and quotes', () => {
    expect(readTable('a\t"b\n""c"""\r\n"d\te"\tf')).toEqual([
      ['a', 'b\n"c"'],
      ['d\te', 'f'],
    ]);
    expect(readTable('a\tb\n')).toEqual([['a', 'b']]);
    expect(readTable('')).toEqual([]);
  });

  it('brings back what was copied without a change', () => {
    const pasted = pasteTable(readTable(writeTable(map.routes, pairing)), pairing, map.routes, at);
    expect(pasted).toEqual({ edits: [], faults: [], changed: 0, added: 0 });
  });

  it('neutralises what a spreadsheet would run', () => {
    expect(writeTable(map.routes, pairing)).toContain(`\t"'=HYPERLINK(""x"")"\t`);
  });

  it('changes and adds routes by their id', () => {
    const text =
      'Route\tStale after, ms\tOnly in\tFrom\tTo\na\t250\tdrive=4wd\tdonor:w1\thost:w1\nc\t\t\tdonor:w3\thost:w3\n';
    const pasted = pasteTable(readTable(text), pairing, map.routes, at);
    expect(pasted).toMatchObject({ faults: [], changed: 1, added: 1 });
    const { routes } = after(pasted.edits);
    expect(routes[0]).toMatchObject({ id: 'a', staleAfterMs: 250, when: { drive: ['4wd'] } });
    expect(routes[2]).toMatchObject({ id: 'c', from: ['donor:w3'], to: 'host:w3' });
  });

  it('names faulty cells and pastes the rest', () => {
    const text = 'Route\tStale after, ms\tTitle\tTo\na\tsoon\tBetter\thost:w1\nd\t\t\thost:absent\nx y\t1\t\t\n';
    const pasted = pasteTable(readTable(text), pairing, map.routes, at);
    expect(pasted.faults).toHaveLength(3);
    expect(after(pasted.edits).routes[0]!.title).toBe('Better');
    expect(after(pasted.edits).routes).toHaveLength(2);
  });

  it('pastes cells down and right from the active one', () => {
    const pasted = pasteTable([['One'], ['Two'], ['Three']], pairing, map.routes, { row: 0, column: 1 });
    expect(after(pasted.edits).routes.map(({ title }) => title)).toEqual(['One', 'Two']);
    expect(pasted.faults).toHaveLength(1);
  });

  it('never writes into the shared documents', () => {
    const before = JSON.stringify(map);
    const pairingBefore: Pairing = pairing;
    pasteTable(readTable('Route\tNote\na\tchanged'), pairingBefore, map.routes, at);
    expect(JSON.stringify(map)).toBe(before);
  });
});
