import { useState } from 'react';
import type { CrossloomMap, Edit } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { notify } from '../../actions/notices.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { addBranch } from './first-nodes.ts';
import { segmentSubject, nodeSubject } from './selected.ts';

/** A new segment between two nodes, or a new branch point. */
export function AddSegment({ map }: { readonly map: CrossloomMap }) {
  const store = useWorkbenchStore();
  const nodes = map.harness?.nodes ?? [];
  const [from, setFrom] = useState('');
  const [to, setTo] = useState('');
  const [length, setLength] = useState('');
  if (nodes.length === 0) return null;

  const add = (): void => {
    const lengthM = Number(length.replace(',', '.'));
    if (from === '' || to === '' || from === to) {
      notify(store, 'bad', 'A segment joins two different nodes: choose where it begins and where it ends.');
      return;
    }
    if (length.trim() === '' || !(lengthM > 0)) {
      notify(store, 'bad', 'A segment has a length above zero in metres, as measured on the vehicle.');
      return;
    }
    const taken = new Set(
      (map.harness?.segments ?? []).map((segment) => segment.id ?? `${segment.from}-${segment.to}`),
    );
    let id = `s-${from}-${to}`.slice(0, 110);
    for (let count = 2; taken.has(id); count += 1) id = `s-${from}-${to}-${count}`;
    const edit: Edit = { do: 'insert', in: 'map', path: ['harness', 'segments'], value: { id, from, to, lengthM } };
    if (!change(store, `add segment ${id}`, [edit])) return;
    setFrom('');
    setTo('');
    setLength('');
    select(store, segmentSubject(id));
  };
  const branch = (): void => {
    const { id, edits } = addBranch(map);
    if (change(store, `add branch ${id}`, edits)) select(store, nodeSubject(id));
  };

  return (
    <form
      className="add-segment"
      aria-label="New segment"
      onSubmit={(event) => {
        event.preventDefault();
        add();
      }}
    >
      <span className="soft">New segment</span>
      {(
        [
          ['from', from, setFrom],
          ['to', to, setTo],
        ] as const
      ).map(([name, value, set]) => (
        <label key={name}>
          {name}
          <select className="field" value={value} onChange={(event) => set(event.target.value)}>
            <option value="">choose…</option>
            {nodes.map(({ id }) => (
              <option key={id} value={id}>
                {id}
              </option>
            ))}
          </select>
        </label>
      ))}
      <label>
        length m
        <input
          className="field number"
          inputMode="decimal"
          value={length}
          onChange={(event) => setLength(event.target.value)}
        />
      </label>
      <button type="submit" className="button small">
        Add segment
      </button>
      <button type="button" className="button small" onClick={branch}>
        Add branch point
      </button>
    </form>
  );
}
