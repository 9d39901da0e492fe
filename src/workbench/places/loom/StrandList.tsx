import { select } from '../../actions/navigate.ts';
import type { SubjectWords } from '../../parts/subject.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import type { LoomRow } from './layout.ts';
import { CarrierIcon, SeverityIcon } from './marks.tsx';

/** The strands a module, bus, signal or pin has part in. */
export function StrandList({ words, rows }: { readonly words: SubjectWords; readonly rows: readonly LoomRow[] }) {
  const store = useWorkbenchStore();
  return (
    <div className="detail">
      <header>
        <p className="soft">{words.kind}</p>
        <h2>{words.title}</h2>
        <p className="mono soft">{words.ref}</p>
      </header>
      {rows.length === 0 ? (
        <p className="soft">No strand has to do with it.</p>
      ) : (
        <section>
          <h3>
            {rows.length} {rows.length === 1 ? 'strand' : 'strands'}
          </h3>
          <ul className="strand-list">
            {rows.map((row) => (
              <li key={row.id}>
                <button type="button" className="strand-button" onClick={() => select(store, row.id)}>
                  <CarrierIcon carrier={row.kind === 'loose' ? 'loose' : row.carrier} />
                  <span>{row.kind === 'loose' ? row.end.label : row.title}</span>
                  {row.kind === 'strand' && row.worst !== null ? <SeverityIcon severity={row.worst} /> : null}
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}
