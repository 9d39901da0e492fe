import type { Ref } from 'react';
import type { Pairing } from '../../../model/index.ts';
import { Progress } from './Progress.tsx';
import { groupTitle, type ListedNeed, type WorklistView } from './view.ts';

interface FilterBarProps {
  readonly view: WorklistView;
  readonly change: (change: Partial<WorklistView>) => void;
  /** Of the kind shown, before the other filters. */
  readonly listed: readonly ListedNeed[];
  readonly counts: Readonly<Record<WorklistView['shows'], number>>;
  readonly needs: number;
  readonly pairing: Pairing;
  readonly textField: Ref<HTMLInputElement>;
}

const SHOWS: readonly (readonly [WorklistView['shows'], string])[] = [
  ['open', 'Open'],
  ['left-out', 'Left out'],
  ['met', 'Routed'],
];

function counted(listed: readonly ListedNeed[], keysOf: (entry: ListedNeed) => readonly string[]) {
  const counts = new Map<string, number>();
  for (const entry of listed) for (const key of keysOf(entry)) counts.set(key, (counts.get(key) ?? 0) + 1);
  return [...counts].sort(([a], [b]) => (a < b ? -1 : 1));
}

/** Chooses which needs the list shows. */
export function FilterBar({ view, change, listed, counts, needs, pairing, textField }: FilterBarProps) {
  const readerTitle = (ref: string): string => {
    const [side, id] = ref.split(':') as ['host' | 'donor', string];
    return `${side}: ${pairing.side(side).modules.get(id)?.title ?? id}`;
  };
  const narrowed = view.group !== '' || view.side !== '' || view.reader !== '' || view.text !== '';
  return (
    <div className="place-tools" role="search" aria-label="Filter the needs">
      <Progress met={needs - counts.open} needs={needs} />
      <div className="segments" role="group" aria-label="Which needs">
        {SHOWS.map(([id, title]) => (
          <button key={id} type="button" aria-pressed={view.shows === id} onClick={() => change({ shows: id })}>
            {title} {counts[id]}
          </button>
        ))}
      </div>
      <input
        ref={textField}
        type="search"
        className="field"
        placeholder="Filter by text  /"
        aria-label="Filter by text"
        value={view.text}
        onChange={(event) => change({ text: event.target.value })}
      />
      <label>
        Group
        <select className="field" value={view.group} onChange={(event) => change({ group: event.target.value })}>
          <option value="">all</option>
          {counted(listed, ({ group }) => [group]).map(([group, count]) => (
            <option key={group} value={group}>
              {groupTitle(group)} ({count})
            </option>
          ))}
        </select>
      </label>
      <label>
        Side
        <select
          className="field"
          value={view.side}
          onChange={(event) => change({ side: event.target.value as WorklistView['side'], reader: '' })}
        >
          <option value="">both</option>
          <option value="host">host</option>
          <option value="donor">donor</option>
        </select>
      </label>
      <label>
        Reader
        <select className="field" value={view.reader} onChange={(event) => change({ reader: event.target.value })}>
          <option value="">all</option>
          {counted(
            listed.filter(({ need }) => view.side === '' || need.side === view.side),
            ({ need }) => need.modules.map((id) => `${need.side}:${id}`),
          ).map(([ref, count]) => (
            <option key={ref} value={ref}>
              {readerTitle(ref)} ({count})
            </option>
          ))}
        </select>
      </label>
      {narrowed ? (
        <button
          type="button"
          className="button quiet"
          onClick={() => change({ group: '', side: '', reader: '', text: '' })}
        >
          Show all
        </button>
      ) : null}
    </div>
  );
}
