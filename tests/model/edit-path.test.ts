import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EditPathError, applyEdit, applyEdits, pathInWords, valueAt, type Edit } from '../../src/model/index.ts';
import { numberCase } from '../../src/checks/examples/frame-case.ts';

const documents = numberCase();
const route = ['routes', { id: 'the-route' }] as const;

describe('edits at a path of ids', () => {
  it('sets a field and leaves the document before it, and every other part, as they were', () => {
    const frozen = JSON.stringify(documents);
    const after = applyEdit(documents, { do: 'set', in: 'map', path: [...route, 'staleAfterMs'], to: 42 });
    expect(after.map.routes[0]?.staleAfterMs).toBe(42);
    expect(JSON.stringify(documents)).toBe(frozen);
    expect(after.host).toBe(documents.host);
    expect(after.map.transmits).toBe(documents.map.transmits);
    expect(after.map.interfaceModules).toBe(documents.map.interfaceModules);
  });

  it('reaches entries without an id by another key, or by position', () => {
    const by = applyEdit(documents, {
      do: 'set',
      in: 'map',
      path: ['transmits', { key: 'message', is: 'host:ToCluster' }, 'cycleMs'],
      to: 7,
    });
    const at = applyEdit(documents, { do: 'set', in: 'map', path: ['transmits', { at: 0 }, 'cycleMs'], to: 7 });
    expect(by).toEqual(at);
  });

  it('makes a list or an object that is absent on the way', () => {
    const listed = applyEdit(documents, {
      do: 'insert',
      in: 'map',
      path: ['leftOut'],
      value: { function: 'engine-hours', reason: 'r' },
    });
    expect(listed.map.leftOut).toEqual([{ function: 'engine-hours', reason: 'r' }]);
    const filled = applyEdit(documents, {
      do: 'set',
      in: 'map',
      path: ['transmits', { at: 0 }, 'fill', 'Spare'],
      to: 1,
    });
    expect(filled.map.transmits[0]?.fill).toEqual({ Spare: 1 });
  });

  it('inserts last, or before an entry', () => {
    const steps = (before?: { at: number }): Edit => ({
      do: 'insert',
      in: 'map',
      path: [...route, 'steps'],
      value: { do: 'convert' },
      ...(before ? { before } : {}),
    });
    const one = applyEdit(documents, steps());
    const two = applyEdit(one, { ...steps({ at: 0 }), value: { do: 'lowest' } } as Edit);
    expect(two.map.routes[0]?.steps?.map(({ do: kind }) => kind)).toEqual(['lowest', 'convert']);
  });

  it('takes out entries and keys', () => {
    const gone = applyEdits(documents, [
      { do: 'remove', in: 'map', path: [...route, 'staleAfterMs'] },
      { do: 'remove', in: 'map', path: ['transmits', { at: 0 }] },
    ]);
    expect('staleAfterMs' in gone.map.routes[0]!).toBe(false);
    expect(gone.map.transmits).toEqual([]);
  });

  it.each<[string, Edit]>([
    ['an unknown id', { do: 'set', in: 'map', path: ['routes', { id: 'nobody' }, 'note'], to: 'x' }],
    ['an absent key to remove', { do: 'remove', in: 'map', path: [...route, 'note'] }],
    ['a prototype key', { do: 'set', in: 'map', path: ['__proto__', 'polluted'], to: true }],
    ['a prototype key below', { do: 'set', in: 'map', path: [...route, 'constructor'], to: true }],
    ['a key of a list', { do: 'set', in: 'map', path: ['routes', 'length'], to: 0 }],
    ['an insertion into an object', { do: 'insert', in: 'map', path: ['host'], value: 1 }],
    ['a position beyond the list', { do: 'remove', in: 'map', path: ['routes', { at: 9 }] }],
    ['a whole document', { do: 'remove', in: 'map', path: [] }],
  ])('refuses %s, names the place, and changes nothing', (_what, edit) => {
    expect(() => applyEdit(documents, edit)).toThrow(EditPathError);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });

  it('writes a path for people', () => {
    expect(pathInWords([...route, 'steps', { at: 2 }])).toBe('routes[the-route].steps[2]');
    expect(pathInWords(['transmits', { key: 'message', is: 'host:M' }])).toBe('transmits[message host:M]');
  });

  it('reads back what it set', () => {
    fc.assert(
      fc.property(fc.string(), (note) => {
        const after = applyEdit(documents, { do: 'set', in: 'map', path: [...route, 'note'], to: note });
        expect(valueAt(after.map, [...route, 'note'])).toBe(note);
      }),
    );
    expect(valueAt(documents.map, ['routes', { id: 'nobody' }])).toBeUndefined();
    expect(valueAt(documents.map, ['toString'])).toBeUndefined();
  });
});
