import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beginHistory, isDirty, markSaved, perform, redo, undo, type History } from '../../src/edit/index.ts';
import {
  EditPathError,
  applyEdit,
  writeMap,
  writePlatform,
  type CrossloomMap,
  type Edit,
  type Platform,
} from '../../src/model/index.ts';

const platform = (id: string): Platform => ({
  format: 'crossloom-platform',
  version: 1,
  id,
  title: id,
  buses: [{ id: 'b', kind: 'can', bitRate: 500000 }],
  modules: [
    { id: 'm1', title: 'One' },
    { id: 'm2', title: 'Two' },
  ],
  messages: [],
  wires: [],
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
  host: { platform: 'h.platform.json' },
  donor: { platform: 'd.platform.json' },
  fates: { 'host:m1': 'removed' },
  interfaceModules: [],
  transmits: [],
  routes: ['a', 'b', 'c'].map((id) => ({ id, from: ['donor:w'], to: 'host:w', carrier: 'hard-wire' })),
};

const start = (): History => beginHistory({ map, host: platform('h'), donor: platform('d') });
const bytes = ({ documents }: History): string =>
  writeMap(documents.map) + writePlatform(documents.host) + writePlatform(documents.donor);

const route = fc.constantFrom('a', 'b', 'c').map((id) => ({ id }));
const edit: fc.Arbitrary<Edit> = fc.oneof(
  fc
    .record({ path: route, to: fc.string({ maxLength: 5 }) })
    .map(({ path, to }): Edit => ({ do: 'set', in: 'map', path: ['routes', path, 'note'], to })),
  fc.nat({ max: 5 }).map((at): Edit => ({
    do: 'insert',
    in: 'map',
    path: ['routes'],
    before: { at },
    value: { id: `n${at}`, from: [], to: 'host:w', carrier: 'bus' },
  })),
  route.map((path): Edit => ({ do: 'remove', in: 'map', path: ['routes', path] })),
  fc.constant<Edit>({ do: 'set', in: 'map', path: ['fates', 'host:m2'], to: 'removed' }),
  fc.constant<Edit>({ do: 'remove', in: 'map', path: ['fates', 'host:m1'] }),
  fc.constant<Edit>({ do: 'insert', in: 'map', path: ['leftOut'], value: { signal: 'host:w', reason: 'none' } }),
  fc
    .constantFrom<Edit['in']>('host', 'donor')
    .map((document): Edit => ({ do: 'set', in: document, path: ['modules', { id: 'm2' }, 'title'], to: 'Renamed' })),
);

/** Performs what can be performed: an edit whose place is gone changes nothing. */
function performIfPossible(history: History, step: Edit): History {
  try {
    return perform(history, 'step', [step]);
  } catch (error) {
    if (error instanceof EditPathError) return history;
    throw error;
  }
}

describe('history', () => {
  it('undo ∘ do is the identity, byte for byte, and redo brings it back', () => {
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 30 }), (steps) => {
        const before = bytes(start());
        let history = start();
        for (const step of steps) history = performIfPossible(history, step);
        const after = bytes(history);
        const count = history.done.length;
        for (let n = 0; n < count; n += 1) history = undo(history);
        expect(bytes(history)).toBe(before);
        for (let n = 0; n < count; n += 1) history = redo(history);
        expect(bytes(history)).toBe(after);
      }),
    );
  });

  it('changes nothing when one of several edits leads nowhere', () => {
    const history = start();
    const edits: Edit[] = [
      { do: 'set', in: 'map', path: ['title'], to: 'Changed' },
      { do: 'remove', in: 'map', path: ['routes', { id: 'absent' }] },
    ];
    expect(() => perform(history, 'both', edits)).toThrow(EditPathError);
    expect(history.documents.map.title).toBe('M');
  });

  it('knows what is saved', () => {
    const set = (value: string): Edit => ({ do: 'set', in: 'map', path: ['title'], to: value });
    let history = start();
    expect(isDirty(history)).toBe(false);
    history = perform(history, 'title', [set('X')]);
    expect(isDirty(history)).toBe(true);
    history = markSaved(history);
    expect(isDirty(history)).toBe(false);
    history = undo(history);
    expect(isDirty(history)).toBe(true);
    expect(isDirty(redo(history))).toBe(false);
    history = perform(history, 'other', [set('Y')]);
    expect(isDirty(undo(history))).toBe(true);
  });

  it('refuses reserved keys', () => {
    const { documents } = start();
    const hostile: Edit = { do: 'set', in: 'map', path: ['fates', '__proto__'], to: {} };
    expect(() => applyEdit(documents, hostile)).toThrow(EditPathError);
  });
});
