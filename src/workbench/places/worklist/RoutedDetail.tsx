import type { Pairing, Supply } from '../../../model/index.ts';
import { analyseRoute, routeSentence } from '../../../translate/index.ts';
import { show } from '../../actions/navigate.ts';
import { titleOfEndpoint } from '../../parts/subject.ts';
import { useWorkbenchStore } from '../../state/store.ts';

/** The routes that meet a need. */
export function RoutedDetail({ need, pairing }: { readonly need: Supply; readonly pairing: Pairing }) {
  const store = useWorkbenchStore();
  const endpoint = pairing.find(need.ref);
  return (
    <article className="detail" aria-label="The need">
      <header>
        <h2>{endpoint ? titleOfEndpoint(endpoint) : need.ref}</h2>
        <p className="soft">{need.because}</p>
      </header>
      {(pairing.routesTo.get(need.ref) ?? []).map((route) => (
        <section key={route.id}>
          <h3>
            Route <span className="mono">{route.id}</span>
          </h3>
          <p>{routeSentence(analyseRoute(pairing, route))}</p>
          <div className="actions">
            <button type="button" className="button" onClick={() => show(store, `route:${route.id}`, 'loom')}>
              Show in Loom
            </button>
            <button type="button" className="button" onClick={() => show(store, `route:${route.id}`, 'routes')}>
              Routes
            </button>
          </div>
        </section>
      ))}
    </article>
  );
}
