import { useState } from 'react';
import type { Edit, Pairing, Route } from '../../../model/index.ts';
import { ask } from '../../actions/ask.ts';
import { change } from '../../actions/change.ts';
import { notify } from '../../actions/notices.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { ROUTE_COLUMNS, columnOf } from './columns.ts';

const EDITABLE = ROUTE_COLUMNS.filter(({ id, set }) => set !== undefined && !['from', 'to'].includes(id));

interface MultiEditProps {
  readonly chosen: readonly Route[];
  readonly pairing: Pairing;
  readonly onDone: () => void;
}

/** Sets one column of all chosen routes, or takes the routes out; one change, one undo. */
export function MultiEdit({ chosen, pairing, onDone }: MultiEditProps) {
  const store = useWorkbenchStore();
  const [columnId, setColumnId] = useState('staleAfterMs');
  const [text, setText] = useState('');
  if (chosen.length === 0) return null;
  const column = columnOf(columnId);
  const choices = column.choices?.(pairing);

  const apply = (): void => {
    const faults: string[] = [];
    const edits: Edit[] = chosen.flatMap((route) => {
      const result = column.set!(route, text, pairing);
      if ('edits' in result) return [...result.edits];
      faults.push(`${route.id}: ${result.fault}`);
      return [];
    });
    if (faults.length > 0) notify(store, 'bad', `${column.title} was not set`, faults);
    else change(store, `set ${column.title.toLowerCase()} of ${chosen.length} routes`, edits);
  };

  const remove = async (): Promise<void> => {
    const answer = await ask(
      store,
      `Take out ${chosen.length} ${chosen.length === 1 ? 'route' : 'routes'}?`,
      'The needs they meet will be open again. It can be undone.',
      [
        { id: 'remove', label: 'Take out', tone: 'danger' },
        { id: 'stay', label: 'Keep them', tone: 'primary' },
      ],
    );
    if (answer !== 'remove') return;
    const edits = chosen.map(({ id }): Edit => ({ do: 'remove', in: 'map', path: ['routes', { id }] }));
    if (change(store, `take out ${chosen.length} routes`, edits)) onDone();
  };

  return (
    <form
      className="multi-edit"
      aria-label="Edit the chosen routes"
      onSubmit={(event) => {
        event.preventDefault();
        apply();
      }}
    >
      <label>
        Set{' '}
        <select
          className="field"
          value={columnId}
          onChange={(event) => {
            setColumnId(event.target.value);
            setText('');
          }}
        >
          {EDITABLE.map(({ id, title }) => (
            <option key={id} value={id}>
              {title}
            </option>
          ))}
        </select>
      </label>
      <label>
        to{' '}
        {choices ? (
          <select className="field" value={text} onChange={(event) => setText(event.target.value)}>
            {choices.map((choice) => (
              <option key={choice} value={choice}>
                {choice === '' ? '–' : choice}
              </option>
            ))}
          </select>
        ) : (
          <input className="field" value={text} onChange={(event) => setText(event.target.value)} />
        )}
      </label>
      <button type="submit" className="button">
        Apply to {chosen.length}
      </button>
      <button type="button" className="button danger" onClick={() => void remove()}>
        Take out
      </button>
    </form>
  );
}
