import { useMemo, useState } from 'react';
import { parseRef, type Message, type SideName } from '../../../model/index.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { MessageDetail } from './MessageDetail.tsx';

/** The messages of one side by bus, and the one chosen with its bit layout. */
export function Messages({ side }: { readonly side: SideName }) {
  const store = useWorkbenchStore();
  const platform = useWorkbench((state) => state.open!.history.documents[side]);
  const selection = useWorkbench((state) => state.selection);
  const [bus, setBus] = useState('');
  const [query, setQuery] = useState('');
  const ref = selection === null ? null : parseRef(selection);
  const shown = useMemo(() => {
    const words = query.toLowerCase().split(/\s+/).filter(Boolean);
    const matches = (message: Message): boolean => {
      const text =
        `${message.id} ${message.title ?? ''} ${message.frameId} ${message.sender ?? ''} ${message.signals.map(({ id, title }) => `${id} ${title ?? ''}`).join(' ')}`.toLowerCase();
      return words.every((word) => text.includes(word));
    };
    return platform.messages.filter((message) => (bus === '' || message.bus === bus) && matches(message));
  }, [platform, bus, query]);
  const current = platform.messages.find(({ id }) => ref?.side === side && id === ref.name) ?? shown[0];
  return (
    <div className="two-panes">
      <div className="pane-list">
        <div className="pane-bar">
          <input
            className="field"
            type="search"
            aria-label="Find a message or signal"
            placeholder="Find a message or signal"
            value={query}
            onChange={(event) => setQuery(event.target.value)}
          />
          <select className="field" aria-label="Bus" value={bus} onChange={(event) => setBus(event.target.value)}>
            <option value="">every bus</option>
            {platform.buses.map(({ id, bitRate }) => (
              <option key={id} value={id}>
                {id}, {bitRate / 1000} kbit/s
              </option>
            ))}
          </select>
        </div>
        <ul className="pick-list" aria-label="Messages">
          {shown.map((message) => (
            <li key={message.id}>
              <button
                type="button"
                aria-current={message === current}
                onClick={() => select(store, `${side}:${message.id}`)}
              >
                <span className="mono">{message.frameId}</span>
                <span>{message.id}</span>
                <span className="soft">{message.signals.length}</span>
              </button>
            </li>
          ))}
        </ul>
        {platform.messages.length === 0 ? (
          <p className="soft pane-text">No messages: import a DBC file in the tab Import.</p>
        ) : null}
      </div>
      {current ? (
        <MessageDetail
          key={current.id}
          side={side}
          message={current}
          signalId={ref?.side === side ? ref.signal : null}
        />
      ) : (
        <p className="empty">No message has these words.</p>
      )}
    </div>
  );
}
