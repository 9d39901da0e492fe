import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { goTo } from '../../actions/navigate.ts';

/** Goes to where documents are handed over. */
export function RecordButton() {
  const store = useWorkbenchStore();
  const isOpen = useWorkbench((state) => state.open !== null);
  return (
    <button type="button" className="button small" disabled={!isOpen} onClick={() => goTo(store, 'hand-over')}>
      Hand over…
    </button>
  );
}
