import { COMMANDS, runCommand } from '../actions/commands.ts';
import { isDirty } from '../../edit/index.ts';
import { useWorkbench, useWorkbenchStore } from '../state/store.ts';
import { keysText } from './keys.ts';

function CommandButton({ id, label, title }: { readonly id: string; readonly label: string; readonly title?: string }) {
  const store = useWorkbenchStore();
  const command = COMMANDS.find((entry) => entry.id === id)!;
  const enabled = useWorkbench((state) => command.enabled?.(state) ?? true);
  const keys = command.keys ? ` (${keysText(command.keys)})` : '';
  return (
    <button
      type="button"
      className="button quiet"
      disabled={!enabled}
      title={`${title ?? command.title}${keys}`}
      onClick={() => void runCommand(store, id)}
    >
      {label}
    </button>
  );
}

/** What is open, whether it is saved, and what can be done anywhere. */
export function Header() {
  const open = useWorkbench((state) => state.open);
  const map = open?.history.documents.map;
  const last = open?.history.done.at(-1);
  const next = open?.history.undone.at(-1);
  return (
    <header className="header">
      <span className="wordmark" aria-hidden="true">
        <svg viewBox="0 0 20 20" width="18" height="18">
          <path d="M1 5h18M1 10h6M13 10h6M1 15h18" fill="none" stroke="currentColor" strokeWidth="1.8" />
          <rect x="7" y="7.6" width="6" height="4.8" fill="currentColor" />
        </svg>
      </span>
      <h1 className="title">
        {map ? (
          <>
            <span>{map.title}</span> <span className="soft">revision {map.revision}</span>
            {open && isDirty(open.history) ? <span className="dirty"> not saved</span> : null}
          </>
        ) : (
          'Crossloom'
        )}
      </h1>
      <div className="header-actions" role="toolbar" aria-label="Document">
        <CommandButton id="undo" label="Undo" {...(last ? { title: `Undo: ${last.title}` } : {})} />
        <CommandButton id="redo" label="Redo" {...(next ? { title: `Do again: ${next.title}` } : {})} />
        <CommandButton id="save" label="Save" />
        <CommandButton id="find" label="Find" />
        <CommandButton id="palette" label="Commands" />
      </div>
    </header>
  );
}
