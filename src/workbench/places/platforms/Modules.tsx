import { Fate, type Edit, type Module, type SideName } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { select } from '../../actions/navigate.ts';
import { derivationOf, pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';

const FATE_WORDS: Readonly<Record<Fate, string>> = { retained: 'retained', removed: 'removed', added: 'added' };

interface Tally {
  readonly needs: number;
  readonly offers: number;
}

/** The modules of one side, each with its fate; needs and offers follow at once. */
export function Modules({ side }: { readonly side: SideName }) {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const selection = useWorkbench((state) => state.selection);
  const pairing = pairingOf(documents);
  const { needs, offers } = derivationOf(pairing);
  const tallies = new Map<string, { needs: number; offers: number }>();
  for (const [kind, list] of [
    ['needs', needs],
    ['offers', offers],
  ] as const) {
    for (const supply of list.values()) {
      if (supply.side !== side) continue;
      for (const module of supply.modules) {
        const tally = tallies.get(module) ?? { needs: 0, offers: 0 };
        tally[kind] += 1;
        tallies.set(module, tally);
      }
    }
  }
  const setFate = (module: Module, fate: Fate): void => {
    const path = ['fates', `${side}:${module.id}`];
    const edit: Edit =
      fate === 'retained' ? { do: 'remove', in: 'map', path } : { do: 'set', in: 'map', path, to: fate };
    change(store, `mark ${module.title} as ${FATE_WORDS[fate]}`, [edit]);
  };
  return (
    <table className="grid-table">
      <caption className="visually-hidden">Modules</caption>
      <thead>
        <tr>
          <th scope="col">Module</th>
          <th scope="col">Title</th>
          <th scope="col">Kind</th>
          <th scope="col">Buses</th>
          <th scope="col">Fate in this pairing</th>
          <th scope="col" className="number">
            Needs
          </th>
          <th scope="col" className="number">
            Offers
          </th>
          <th scope="col">Calibration</th>
          <th scope="col">Documents</th>
        </tr>
      </thead>
      <tbody>
        {documents[side].modules.map((module) => {
          const fate = pairing.fateOf(side, module.id);
          const tally: Tally = tallies.get(module.id) ?? { needs: 0, offers: 0 };
          const subject = `module:${side}:${module.id}`;
          return (
            <tr
              key={module.id}
              data-current={selection === subject}
              data-fate={fate}
              onClick={() => select(store, subject)}
            >
              <th scope="row" className="mono">
                {module.id}
              </th>
              <td>{module.title}</td>
              <td>{module.kind ?? 'controller'}</td>
              <td className="mono">{module.buses?.join(', ') ?? ''}</td>
              <td>
                <select
                  className="field"
                  aria-label={`Fate of ${module.title}`}
                  value={fate}
                  onChange={(event) => setFate(module, Fate.parse(event.target.value))}
                >
                  {Fate.options.map((choice) => (
                    <option key={choice} value={choice}>
                      {FATE_WORDS[choice]}
                    </option>
                  ))}
                </select>
              </td>
              <td className="number">{tally.needs || '–'}</td>
              <td className="number">{tally.offers || '–'}</td>
              <td>{module.calibration ?? ''}</td>
              <td className="mono">{module.documents?.join(', ') ?? ''}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
