import { COMMANDS } from '../actions/commands.ts';
import { useWorkbenchStore } from '../state/store.ts';
import { Sheet } from './Sheet.tsx';
import { keysText } from './keys.ts';
import { PLACE_KEYS } from './place-keys.ts';

interface Line {
  readonly title: string;
  readonly keys: string;
}

function Lines({ where, lines }: { readonly where: string; readonly lines: readonly Line[] }) {
  return (
    <section className="key-group">
      <h3>{where}</h3>
      <dl>
        {lines.map(({ title, keys }) => (
          <div key={title}>
            <dt>{title}</dt>
            <dd>
              <kbd>{keys}</kbd>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** Every key of the window and of its places. */
export function KeyboardMap() {
  const store = useWorkbenchStore();
  const anywhere = COMMANDS.flatMap(({ title, keys }) => (keys === undefined ? [] : [{ title, keys: keysText(keys) }]));
  return (
    <Sheet title="Keyboard map" onClose={() => store.setState({ overlay: null })} width="broad">
      <div className="key-list" tabIndex={0} role="region" aria-label="Keys">
        <Lines where="Anywhere" lines={anywhere} />
        <div>
          {PLACE_KEYS.map(({ where, keys }) => (
            <Lines
              key={where}
              where={where}
              lines={keys.map(([title, text]) => ({ title, keys: text.replaceAll('Ctrl', keysText('Mod')) }))}
            />
          ))}
        </div>
      </div>
    </Sheet>
  );
}
