import { COMMANDS } from '../actions/commands.ts';
import { useWorkbenchStore } from '../state/store.ts';
import { Sheet } from './Sheet.tsx';
import { keysText } from './keys.ts';

/** Every key of the window. */
export function KeyboardMap() {
  const store = useWorkbenchStore();
  return (
    <Sheet title="Keyboard map" onClose={() => store.setState({ overlay: null })}>
      <dl className="key-list">
        {COMMANDS.filter(({ keys }) => keys).map(({ id, title, keys }) => (
          <div key={id}>
            <dt>{title}</dt>
            <dd>
              <kbd>{keysText(keys!)}</kbd>
            </dd>
          </div>
        ))}
      </dl>
    </Sheet>
  );
}
