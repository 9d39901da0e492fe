import { useMemo, useState } from 'react';
import { FUNCTIONS, type Edit, type SideName, type Wire } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { select } from '../../actions/navigate.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';

/** What the level of a wire means, in a few words. */
export function meaningWords({ meaning }: Wire): string {
  if (!meaning) return '';
  if ('active' in meaning) return `active: ${meaning.active}; else ${meaning.inactive}`;
  if ('codes' in meaning) return meaning.codes.map(({ ohm, state }) => `${state} ${ohm[0]}–${ohm[1]} Ω`).join(', ');
  if ('scale' in meaning) {
    const { factor, offset, of, range } = meaning.scale;
    return `${factor} · ${of}${offset === undefined ? '' : ` + ${offset}`} ${meaning.unit}, ${range[0]} … ${range[1]} ${meaning.unit}`;
  }
  const { of, points } = meaning.curve;
  return `curve of ${points.length} points: ${points[0]![0]} ${of} is ${points[0]![1]} ${meaning.unit}, ${points.at(-1)![0]} ${of} is ${points.at(-1)![1]} ${meaning.unit}`;
}

function electricalWords({ electrical }: Wire): string {
  const { openV, maxA, pullOhm, pullToV, thresholdLowV, thresholdHighV, loadA } = electrical;
  return [
    openV === undefined ? null : `${openV} V open`,
    pullOhm === undefined ? null : `pull ${pullOhm} Ω${pullToV === undefined ? '' : ` to ${pullToV} V`}`,
    thresholdLowV === undefined || thresholdHighV === undefined
      ? null
      : `thresholds ${thresholdLowV}–${thresholdHighV} V`,
    maxA === undefined ? null : `≤ ${maxA} A`,
    loadA === undefined ? null : `load ${loadA} A`,
  ]
    .filter(Boolean)
    .join(', ');
}

/** The discrete wires of one side with their electrical character. */
export function Wires({ side }: { readonly side: SideName }) {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const selection = useWorkbench((state) => state.selection);
  const pairing = pairingOf(documents);
  const [query, setQuery] = useState('');
  const shown = useMemo(() => {
    const words = query.toLowerCase().split(/\s+/).filter(Boolean);
    return documents[side].wires.filter((wire) => {
      const text =
        `${wire.id} ${wire.title} ${wire.module} ${wire.electrical.class} ${wire.function ?? ''} ${wire.at?.connector ?? ''}`.toLowerCase();
      return words.every((word) => text.includes(word));
    });
  }, [documents, side, query]);
  const setFunction = (wire: Wire, id: string): void => {
    const path = ['wires', { id: wire.id }, 'function'];
    const edit: Edit = id === '' ? { do: 'remove', in: side, path } : { do: 'set', in: side, path, to: id };
    change(store, `give ${wire.title} its function`, [edit]);
  };
  return (
    <div className="stack">
      <div className="pane-bar">
        <input
          className="field"
          type="search"
          aria-label="Find a wire"
          placeholder="Find a wire"
          value={query}
          onChange={(event) => setQuery(event.target.value)}
        />
        <span className="soft">{shown.length} wires</span>
      </div>
      <table className="grid-table">
        <caption className="visually-hidden">Discrete wires</caption>
        <thead>
          <tr>
            {[
              'Wire',
              'Title',
              'Module',
              'Direction',
              'Class',
              'Electrical',
              'Means',
              'Cavity',
              'Conductor',
              'Readers',
              'Function',
              'Routes',
            ].map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {shown.map((wire) => {
            const ref = `${side}:${wire.id}`;
            const routes = [...(pairing.routesTo.get(ref) ?? []), ...(pairing.routesFrom.get(ref) ?? [])];
            return (
              <tr key={wire.id} data-current={selection === ref} onClick={() => select(store, ref)}>
                <th scope="row" className="mono">
                  {wire.id}
                </th>
                <td>{wire.title}</td>
                <td className="mono">{wire.module}</td>
                <td>
                  {wire.direction === 'out' ? 'drives' : `reads${wire.driver ? `, driven by ${wire.driver}` : ''}`}
                </td>
                <td>{wire.electrical.class}</td>
                <td>{electricalWords(wire)}</td>
                <td>{meaningWords(wire)}</td>
                <td className="mono">{wire.at ? `${wire.at.connector}/${wire.at.cavity}` : ''}</td>
                <td className="mono">{[wire.conductor?.size, wire.conductor?.colour].filter(Boolean).join(' ')}</td>
                <td className="mono">{wire.readers?.join(', ') ?? ''}</td>
                <td>
                  <select
                    className="field narrow"
                    aria-label={`Function of ${wire.title}`}
                    value={wire.function ?? ''}
                    onChange={(event) => setFunction(wire, event.target.value)}
                  >
                    <option value="">–</option>
                    {[...FUNCTIONS.values()].map(({ id, title }) => (
                      <option key={id} value={id}>
                        {title}
                      </option>
                    ))}
                  </select>
                </td>
                <td className="mono">{routes.map(({ id }) => id).join(', ')}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
