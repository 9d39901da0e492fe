import { goTo } from '../actions/navigate.ts';
import { PLACES, type PlaceId } from '../places/index.ts';
import { derivationOf, pairingOf } from '../state/derived.ts';
import { progressOf } from '../state/progress.ts';
import { useWorkbench, useWorkbenchStore, type WorkbenchState } from '../state/store.ts';

/** What waits in a place, as a count beside its name. */
function waiting({ open, checked }: WorkbenchState, place: PlaceId): number {
  if (place === 'findings' && checked) return checked.counts.stop + checked.counts.fix + checked.counts.look;
  if (place === 'worklist' && open) {
    const pairing = pairingOf(open.history.documents);
    const { needs, met } = progressOf(pairing, derivationOf(pairing));
    return needs - met;
  }
  return 0;
}

function PlaceButton({
  id,
  title,
  keyHint,
  question,
  locked,
}: {
  readonly id: PlaceId;
  readonly title: string;
  readonly keyHint: string;
  readonly question: string;
  readonly locked: boolean;
}) {
  const store = useWorkbenchStore();
  const current = useWorkbench((state) => state.place === id);
  const count = useWorkbench((state) => waiting(state, id));
  return (
    <li>
      <button
        type="button"
        className="place-button"
        data-place={id}
        aria-current={current ? 'page' : undefined}
        disabled={locked}
        title={`${question} (Alt+${keyHint})`}
        onClick={() => goTo(store, id)}
      >
        <span>{title}</span>
        {count > 0 ? <span className="count">{count}</span> : null}
      </button>
    </li>
  );
}

/** The places, each reachable by name and by key. */
export function PlaceBar() {
  const isOpen = useWorkbench((state) => state.open !== null);
  return (
    <nav className="place-bar" aria-label="Places">
      <ul>
        {PLACES.map(({ id, title, key, question, needsPairing }) => (
          <PlaceButton
            key={id}
            id={id}
            title={title}
            keyHint={key}
            question={question}
            locked={needsPairing && !isOpen}
          />
        ))}
      </ul>
    </nav>
  );
}
