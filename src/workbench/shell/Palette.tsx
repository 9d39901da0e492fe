import { useMemo, useState, type KeyboardEvent } from 'react';
import { COMMANDS, runCommand } from '../actions/commands.ts';
import { show } from '../actions/navigate.ts';
import { findAnywhere, findFindings, type Found } from '../state/find.ts';
import { useWorkbench, useWorkbenchStore } from '../state/store.ts';
import { Sheet } from './Sheet.tsx';
import { keysText } from './keys.ts';

interface Entry {
  readonly id: string;
  readonly title: string;
  readonly hint: string;
  readonly run: () => void;
}

const MAX_SHOWN = 60;

/** Commands by name, or anything in the documents by name. */
export function Palette({ mode }: { readonly mode: 'commands' | 'find' }) {
  const store = useWorkbenchStore();
  const open = useWorkbench((state) => state.open);
  const checked = useWorkbench((state) => state.checked);
  const [query, setQuery] = useState('');
  const [at, setAt] = useState(0);
  const close = (): void => store.setState({ overlay: null });

  const entries = useMemo((): readonly Entry[] => {
    if (mode === 'commands') {
      const words = query.toLowerCase().split(/\s+/).filter(Boolean);
      return COMMANDS.filter(
        ({ title, enabled }) =>
          (enabled?.(store.getState()) ?? true) && words.every((word) => title.toLowerCase().includes(word)),
      ).map(({ id, title, keys }) => ({
        id,
        title,
        hint: keys ? keysText(keys) : '',
        run: () => void runCommand(store, id),
      }));
    }
    if (!open) return [];
    const named = findAnywhere(open.history.documents, query, MAX_SHOWN).map((found: Found) => ({
      id: `${found.kind} ${found.subject}`,
      title: found.title,
      hint: `${found.kind} · ${found.subject}`,
      run: () => show(store, found.subject, found.place),
    }));
    const findings = findFindings(checked?.findings ?? [], query, MAX_SHOWN - named.length).map((finding, index) => ({
      id: `finding ${index} ${finding.rule} ${finding.subject}`,
      title: finding.message,
      hint: `finding · ${finding.rule}`,
      run: () => show(store, finding.subject, 'findings'),
    }));
    return [...named, ...findings];
  }, [mode, query, open, checked, store]);

  const chosen = Math.min(at, entries.length - 1);
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'ArrowDown') setAt(Math.min(chosen + 1, entries.length - 1));
    else if (event.key === 'ArrowUp') setAt(Math.max(chosen - 1, 0));
    else if (event.key === 'Enter' && entries[chosen]) {
      close();
      entries[chosen].run();
    } else return;
    event.preventDefault();
  };

  return (
    <Sheet title={mode === 'commands' ? 'Commands' : 'Find anywhere'} onClose={close} width="wide">
      <input
        className="field palette-field"
        type="search"
        role="combobox"
        aria-expanded="true"
        aria-controls="palette-list"
        aria-activedescendant={entries[chosen] ? `palette-${chosen}` : undefined}
        aria-label={
          mode === 'commands' ? 'Command' : 'Name of a signal, message, wire, module, route, function or finding'
        }
        placeholder={mode === 'commands' ? 'Type a command' : 'Type a part of a name'}
        autoFocus
        value={query}
        onChange={(event) => {
          setQuery(event.target.value);
          setAt(0);
        }}
        onKeyDown={onKeyDown}
      />
      <ul id="palette-list" role="listbox" aria-label="Results" className="palette-list">
        {entries.map((entry, index) => (
          <li
            key={entry.id}
            id={`palette-${index}`}
            role="option"
            aria-selected={index === chosen}
            ref={index === chosen ? (element) => element?.scrollIntoView({ block: 'nearest' }) : undefined}
            onClick={() => {
              close();
              entry.run();
            }}
          >
            <span>{entry.title}</span>
            <span className="soft mono">{entry.hint}</span>
          </li>
        ))}
      </ul>
      {entries.length === 0 ? (
        <p className="soft sheet-text">{query === '' ? 'Type to search.' : 'Nothing has that name.'}</p>
      ) : null}
    </Sheet>
  );
}
