import { useVirtualizer } from '@tanstack/react-virtual';
import { useMemo, useRef } from 'react';
import { select } from '../../actions/navigate.ts';
import { subjectWords } from '../../parts/subject.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { benchMemory, useBench, type RouteFilter } from './bench-state.ts';
import { PanelTabs } from './PanelTabs.tsx';
import type { RouteAt } from './recording/at-cursor.ts';
import { stateWords } from './route-words.ts';
import { benchSession } from './session.ts';
import { ageText } from './time-text.ts';

const FILTERS: readonly (readonly [RouteFilter, string])[] = [
  ['all', 'All'],
  ['traced', 'Traced'],
  ['loss', 'In loss'],
  ['clipped', 'Clipped'],
];
const ROW_REM = 1.75;

function isInLoss({ state }: RouteAt): boolean {
  return state === 'lost' || state === 'not-yet' || state === 'error' || state === 'not-available';
}

/** Every route at the cursor: what its sources say, what is delivered, and what is written. The traces as figures. */
export function RouteTable() {
  const store = useWorkbenchStore();
  const session = benchSession(store);
  const memory = benchMemory(store);
  const { moment, filter, text, traced } = useBench(({ moment, filter, text, traced }) => ({
    moment,
    filter,
    text,
    traced,
  }));
  const documents = useWorkbench((state) => state.open!.history.documents);
  const selection = useWorkbench((state) => state.selection);
  const zoom = useWorkbench((state) => state.zoom);
  const pairing = pairingOf(documents);
  const scroller = useRef<HTMLDivElement>(null);
  const titles = useMemo(
    () => new Map(pairing.map.routes.map(({ id }) => [id, subjectWords(pairing, `route:${id}`).title])),
    [pairing],
  );
  const routes = moment?.routes ?? [];
  const shown = session.shown();
  const fits: Readonly<Record<RouteFilter, (route: RouteAt) => boolean>> = {
    all: () => true,
    traced: ({ route }) => shown.includes(route),
    loss: isInLoss,
    clipped: ({ clip }) => clip !== 'none',
  };
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  const fitting = routes.filter((route) => {
    if (!fits[filter](route)) return false;
    if (words.length === 0) return true;
    const hay =
      `${titles.get(route.route) ?? ''} ${route.route} ${route.sources.map(({ ref }) => ref).join(' ')}`.toLowerCase();
    return words.every((word) => hay.includes(word));
  });
  // The traced ones first, in the order of their lanes.
  const rows = [
    ...shown.flatMap((id) => fitting.find(({ route }) => route === id) ?? []),
    ...fitting.filter(({ route }) => !shown.includes(route)),
  ];
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: () => ROW_REM * 16 * zoom,
    overscan: 8,
  });
  const items = virtual.getVirtualItems();
  const before = items[0]?.start ?? 0;
  const after = virtual.getTotalSize() - (items.at(-1)?.end ?? 0);
  return (
    <section className="cursor-table" aria-label="Routes at the cursor">
      <div className="place-tools">
        <PanelTabs />
        <div className="segments" role="group" aria-label="Which routes">
          {FILTERS.map(([id, title]) => (
            <button key={id} type="button" aria-pressed={filter === id} onClick={() => memory.setState({ filter: id })}>
              {title} {routes.filter(fits[id]).length}
            </button>
          ))}
        </div>
        <label>
          <span className="visually-hidden">Filter by text</span>
          <input
            className="field"
            type="search"
            placeholder="Filter by text"
            aria-label="Filter by text"
            value={text}
            onChange={(event) => memory.setState({ text: event.target.value })}
          />
        </label>
      </div>
      <div
        ref={scroller}
        className="table-scroll"
        tabIndex={0}
        role="region"
        aria-label="Routes at the cursor, as a table"
      >
        <table aria-rowcount={rows.length + 1}>
          <thead>
            <tr>
              <th scope="col">Route</th>
              <th scope="col">State</th>
              <th scope="col" className="number">
                Source
              </th>
              <th scope="col">Source is</th>
              <th scope="col" className="number">
                Delivered
              </th>
              <th scope="col" className="number">
                Reader reads
              </th>
              <th scope="col" className="number">
                Raw
              </th>
              <th scope="col">Trace</th>
            </tr>
          </thead>
          <tbody>
            {before > 0 ? (
              <tr aria-hidden="true" style={{ height: before }}>
                <td colSpan={8} />
              </tr>
            ) : null}
            {items.map(({ index }) => {
              const row = rows[index]!;
              return (
                <Row
                  key={row.route}
                  row={row}
                  position={index + 2}
                  title={titles.get(row.route) ?? row.route}
                  selected={selection === `route:${row.route}`}
                  traced={traced.includes(row.route)}
                  onSelect={() => select(store, `route:${row.route}`)}
                  onTrace={(on) => session.trace(row.route, on)}
                />
              );
            })}
            {after > 0 ? (
              <tr aria-hidden="true" style={{ height: after }}>
                <td colSpan={8} />
              </tr>
            ) : null}
          </tbody>
        </table>
        {rows.length === 0 ? (
          <p className="soft table-none">{moment === null ? 'Reading …' : 'No route is like this at the cursor.'}</p>
        ) : null}
      </div>
    </section>
  );
}

function Row({
  row,
  position,
  title,
  selected,
  traced,
  onSelect,
  onTrace,
}: {
  readonly row: RouteAt;
  readonly position: number;
  readonly title: string;
  readonly selected: boolean;
  readonly traced: boolean;
  readonly onSelect: () => void;
  readonly onTrace: (on: boolean) => void;
}) {
  const state = stateWords(row);
  const values = row.sources.map(({ value }) => value || '–');
  return (
    <tr aria-rowindex={position} data-selected={selected || undefined} data-route={row.route} onClick={onSelect}>
      <th scope="row">
        <button
          type="button"
          className="row-title"
          title={row.route}
          aria-current={selected || undefined}
          onClick={onSelect}
        >
          {title}
        </button>
      </th>
      <td title={state.long}>
        <span className="route-state" data-state={state.tone}>
          {state.short}
        </span>
        {row.loss === '' || row.state !== 'lost' ? null : <span className="soft loss-words"> {row.loss}</span>}
      </td>
      <td
        className="number"
        title={row.sources.map(({ ref, value, raw }) => `${ref}: ${value || '–'}, raw ${raw}`).join('\n')}
      >
        {values.length > 2 ? `${values.slice(0, 2).join(' · ')} · +${values.length - 2}` : values.join(' · ')}
      </td>
      <td>{sourceWords(row)}</td>
      <td className="number">{row.delivered || '–'}</td>
      <td className="number">{row.target || '–'}</td>
      <td className="number mono">{row.raw}</td>
      <td>
        <input
          type="checkbox"
          aria-label={`Keep the trace of ${title}`}
          checked={traced}
          onClick={(event) => event.stopPropagation()}
          onChange={(event) => onTrace(event.target.checked)}
        />
      </td>
    </tr>
  );
}

/** Whether the sources count, and how old what they say is; a wire is not sent anew, its level stands. */
function sourceWords({ sources }: RouteAt): string {
  const lost = sources.filter(({ state }) => state === 'lost');
  const none = sources.filter(({ state }) => state === 'not-yet');
  const oldest = sources.reduce((most, { ageMs }) => Math.max(most, ageMs ?? -1), -1);
  const wires = sources.every(({ ref }) => !ref.includes('.'));
  const age = oldest < 0 ? '' : wires ? `, steady for ${ageText(oldest)}` : `, ${ageText(oldest)} old`;
  if (lost.length > 0)
    return `stale${lost.length < sources.length ? ` ${lost.length} of ${sources.length}` : ''}${age}`;
  if (none.length === sources.length) return 'nothing yet';
  return `fresh${none.length > 0 ? ` ${sources.length - none.length} of ${sources.length}` : ''}${age}`;
}
