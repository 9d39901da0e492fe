import type { CavityRow, ConnectorPage } from '../../../wiring/index.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { Badge, NO_BADGES } from './Badge.tsx';
import { Face } from './Face.tsx';
import type { FindingsInPlace } from './findings-in-place.ts';
import type { PlanIndex } from './plan-index.ts';
import { circuitSubject, connectorSubject } from './selected.ts';

/** The housings that the added harness reaches, and the face of the one that is chosen. */
export function ConnectorPanel({
  index,
  findings,
  chosen,
  current,
  onChoose,
}: {
  readonly index: PlanIndex;
  readonly findings: FindingsInPlace;
  readonly chosen: string | null;
  /** Circuits that are marked in the face. */
  readonly current: ReadonlySet<string>;
  readonly onChoose: (ref: string) => void;
}) {
  const store = useWorkbenchStore();
  const { connectors } = index.plan;
  const page = connectors.find(({ ref }) => ref === chosen) ?? connectors[0];
  if (!page) return <p className="circuit-none">No connector is reached by the added harness yet.</p>;
  const pick = ({ cavity, conductors }: CavityRow): void => {
    onChoose(page.ref);
    const at = conductors.findIndex(({ key }) => current.has(key));
    const next = conductors[(at + 1) % Math.max(1, conductors.length)];
    select(store, next ? circuitSubject(next.circuit) : connectorSubject(`${page.ref}/${cavity}`));
  };
  return (
    <div className="connector-panel">
      <ul className="connector-list" aria-label="Connectors">
        {connectors.map((one) => (
          <li key={one.ref}>
            <button
              type="button"
              aria-current={one === page}
              onClick={() => {
                onChoose(one.ref);
                select(store, connectorSubject(one.ref));
              }}
            >
              <span className="mono">{one.ref}</span>
              <span className="connector-title">{one.title}</span>
              <span className="soft">{used(one)}</span>
            </button>
          </li>
        ))}
      </ul>
      <div className="connector-face" tabIndex={0} role="region" aria-label={`Connector ${page.ref}`}>
        <header>
          <h2>
            <span className="mono">{page.ref}</span> {page.title}
          </h2>
          <Badge findings={findings.connectors.get(page.ref) ?? NO_BADGES} />
          <span className="soft">{factsOf(page).join(' · ')}</span>
        </header>
        <div className="face-scroll" tabIndex={0} role="group" aria-label="Cavities, to be scrolled">
          <Face page={page} current={current} onPick={pick} />
        </div>
        <p className="soft">
          {viewWords(page)} Cavities row by row as the documents list them; no likeness of the housing: the numbers
          moulded on it govern.
        </p>
      </div>
    </div>
  );
}

function used({ cavities }: ConnectorPage): string {
  return `${cavities.filter(({ state }) => state === 'added').length}/${cavities.length}`;
}

function viewWords({ view, tapped }: ConnectorPage): string {
  const where = tapped ? 'Spliced onto the conductors here, not plugged in. ' : '';
  if (view === null) return `${where}The documents do not say from which side it is numbered.`;
  return `${where}Seen from the ${view === 'wire-side' ? 'wire side, as the terminals are pushed in' : 'mating side'}.`;
}

function factsOf(page: ConnectorPage): readonly string[] {
  return [
    page.added ? 'added by the map' : page.of === null ? '' : `of ${page.of}`,
    page.part === null ? 'housing not named' : `housing ${page.part}`,
    page.key === null ? 'key not stated' : `key ${page.key}`,
    page.contacts === null ? '' : `${page.contacts} contacts`,
    page.sealed ? 'sealed' : '',
    page.terminal === null ? '' : `terminal ${page.terminal}`,
    page.options.length === 0 ? '' : `only in ${page.options.join('; ')}`,
  ].filter((text) => text !== '');
}
