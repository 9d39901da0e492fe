import { useMemo, useState } from 'react';
import type { Connector, Platform, SideName } from '../../../model/index.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';

interface Occupant {
  readonly what: string;
  readonly subject: string;
  readonly detail: string;
  readonly conductor: string;
}

/** What sits in each cavity, as `connector/cavity`. */
function occupants(platform: Platform, side: SideName): ReadonlyMap<string, readonly Occupant[]> {
  const held = new Map<string, Occupant[]>();
  const add = (at: { connector: string; cavity: string } | undefined, occupant: Occupant): void => {
    if (!at) return;
    const key = `${at.connector}/${at.cavity}`;
    held.set(key, [...(held.get(key) ?? []), occupant]);
  };
  for (const wire of platform.wires) {
    add(wire.at, {
      what: wire.title,
      subject: `${side}:${wire.id}`,
      detail: `${wire.direction === 'out' ? 'drives' : 'reads'}, ${wire.electrical.class}`,
      conductor: [wire.conductor?.size, wire.conductor?.colour].filter(Boolean).join(' '),
    });
    add(wire.electrical.supplyAt, {
      what: `supply of ${wire.title}`,
      subject: `${side}:${wire.id}`,
      detail: 'sensor supply',
      conductor: '',
    });
    add(wire.electrical.returnAt, {
      what: `return of ${wire.title}`,
      subject: `${side}:${wire.id}`,
      detail: 'sensor return',
      conductor: '',
    });
  }
  for (const feed of platform.feeds)
    add(feed.at, {
      what: feed.title ?? feed.id,
      subject: `feed:${side}:${feed.id}`,
      detail: `feed, ${feed.kind}${feed.fuseA === null ? ', no fuse' : `, ${feed.fuseA} A`}`,
      conductor: [feed.conductor?.size, feed.conductor?.colour].filter(Boolean).join(' '),
    });
  for (const ground of platform.grounds)
    add(ground.at, {
      what: ground.title ?? ground.id,
      subject: `ground:${side}:${ground.id}`,
      detail: `${ground.kind ?? ''} ground`,
      conductor: '',
    });
  for (const bus of platform.buses) {
    add(bus.tap?.high, { what: `${bus.id} high`, subject: `bus:${side}:${bus.id}`, detail: 'CAN high', conductor: '' });
    add(bus.tap?.low, { what: `${bus.id} low`, subject: `bus:${side}:${bus.id}`, detail: 'CAN low', conductor: '' });
  }
  return held;
}

/** The connectors of one side, each with its cavity table. */
export function Connectors({ side }: { readonly side: SideName }) {
  const store = useWorkbenchStore();
  const platform = useWorkbench((state) => state.open!.history.documents[side]);
  const selection = useWorkbench((state) => state.selection);
  const held = useMemo(() => occupants(platform, side), [platform, side]);
  const selected = selection?.startsWith(`connector:${side}:`) ? selection.slice(`connector:${side}:`.length) : null;
  const [query, setQuery] = useState('');
  const shown = platform.connectors.filter(({ id, title, of }) =>
    `${id} ${title} ${of ?? ''}`.toLowerCase().includes(query.toLowerCase()),
  );
  const current = platform.connectors.find(({ id }) => id === selected) ?? shown[0];
  return (
    <div className="two-panes">
      <div className="pane-list">
        <div className="pane-bar">
          <input
            className="field"
            type="search"
            aria-label="Find a connector"
            placeholder="Find a connector"
            value={query}
            onChange={(event) => setQuery(event.target.value)}
          />
        </div>
        <ul className="pick-list" aria-label="Connectors">
          {shown.map((connector) => (
            <li key={connector.id}>
              <button
                type="button"
                aria-current={connector === current}
                onClick={() => select(store, `connector:${side}:${connector.id}`)}
              >
                <span className="mono">{connector.id}</span>
                <span>{connector.title}</span>
                <span className="soft">{connector.cavities.length}</span>
              </button>
            </li>
          ))}
        </ul>
      </div>
      {current ? (
        <ConnectorDetail connector={current} held={held} />
      ) : (
        <p className="empty">This platform has no connectors yet.</p>
      )}
    </div>
  );
}

function contactWords({ maxA, maxAAt }: Connector): string | undefined {
  const own = Object.entries(maxAAt ?? {}).map(([cavity, ampere]) => `≤ ${ampere} A in ${cavity}`);
  const all = maxA === undefined ? [] : [`≤ ${maxA} A`];
  return own.length + all.length === 0 ? undefined : [...all, ...own].join(', ');
}

function ConnectorDetail({
  connector,
  held,
}: {
  readonly connector: Connector;
  readonly held: ReadonlyMap<string, readonly Occupant[]>;
}) {
  const store = useWorkbenchStore();
  const { accepts } = connector;
  const facts: readonly (readonly [string, string | undefined])[] = [
    ['Belongs to', connector.of],
    ['Housing', connector.part],
    ['Mates with', connector.mate],
    ['Contacts', connector.contacts],
    ['View', connector.view],
    ['Accepts', accepts ? `${accepts.minMm2}–${accepts.maxMm2} mm²` : undefined],
    ['Contact current', contactWords(connector)],
    ['Sealed', connector.sealed === undefined ? undefined : connector.sealed ? 'yes' : 'no'],
    ['Documents', connector.documents?.join(', ')],
  ];
  return (
    <section className="pane-detail" tabIndex={0} aria-label={`Connector ${connector.id}`}>
      <h2>
        {connector.id} <span className="soft">{connector.title}</span>
      </h2>
      <dl className="facts">
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value ?? 'not stated'}</dd>
          </div>
        ))}
      </dl>
      <table className="grid-table">
        <caption className="visually-hidden">Cavities</caption>
        <thead>
          <tr>
            {['Cavity', 'Circuit', 'Character', 'Conductor'].map((title) => (
              <th key={title} scope="col">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {connector.cavities.map((cavity) => {
            const own = held.get(`${connector.id}/${cavity}`) ?? [];
            return (
              <tr key={cavity} onClick={() => (own[0] ? select(store, own[0].subject) : undefined)}>
                <th scope="row" className="number">
                  {cavity}
                </th>
                <td>
                  {own.length === 0 ? <span className="soft">empty</span> : own.map(({ what }) => what).join('; ')}
                </td>
                <td>{own.map(({ detail }) => detail).join('; ')}</td>
                <td className="mono">
                  {own
                    .map(({ conductor }) => conductor)
                    .filter(Boolean)
                    .join('; ')}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
