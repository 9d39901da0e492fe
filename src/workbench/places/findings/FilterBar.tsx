import type { Ref } from 'react';
import type { OptionAxis } from '../../../model/index.ts';
import { titleOfFunction } from '../../parts/subject.ts';
import { countBy, groupOf, type FindingsView, type ListedFinding } from './view.ts';

interface FilterBarProps {
  readonly view: FindingsView;
  readonly change: (change: Partial<FindingsView>) => void;
  /** Of the kind shown, before the other filters. */
  readonly listed: readonly ListedFinding[];
  readonly counts: Readonly<Record<FindingsView['shows'], number>>;
  readonly axes: readonly OptionAxis[];
  readonly textField: Ref<HTMLInputElement>;
}

const SHOWS: readonly (readonly [FindingsView['shows'], string])[] = [
  ['open', 'Open'],
  ['waived', 'Waived'],
  ['waivers', 'Waivers'],
];

/** Chooses which findings the list shows. */
export function FilterBar({ view, change, listed, counts, axes, textField }: FilterBarProps) {
  const narrowed =
    view.group !== '' || view.function !== '' || view.text !== '' || Object.values(view.build).some(Boolean);
  return (
    <div className="place-tools" role="search" aria-label="Filter the findings">
      <div className="segments" role="group" aria-label="Which findings">
        {SHOWS.map(([id, title]) => (
          <button key={id} type="button" aria-pressed={view.shows === id} onClick={() => change({ shows: id })}>
            {title} {counts[id]}
          </button>
        ))}
      </div>
      {view.shows === 'waivers' ? null : (
        <>
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
            Rules
            <select className="field" value={view.group} onChange={(event) => change({ group: event.target.value })}>
              <option value="">all</option>
              {countBy(listed, ({ finding }) => groupOf(finding.rule)).map(([group, count]) => (
                <option key={group} value={group}>
                  {group} ({count})
                </option>
              ))}
            </select>
          </label>
          <label>
            Function
            <select
              className="field"
              value={view.function}
              onChange={(event) => change({ function: event.target.value })}
            >
              <option value="">all</option>
              {countBy(listed, (entry) => entry.function).map(([id, count]) => (
                <option key={id} value={id}>
                  {titleOfFunction(id)} ({count})
                </option>
              ))}
            </select>
          </label>
          {axes.map((axis) => (
            <label key={axis.id}>
              {axis.title ?? axis.id}
              <select
                className="field"
                value={view.build[axis.id] ?? ''}
                onChange={(event) => change({ build: { ...view.build, [axis.id]: event.target.value } })}
              >
                <option value="">any</option>
                {axis.choices.map((choice) => (
                  <option key={choice}>{choice}</option>
                ))}
              </select>
            </label>
          ))}
          {narrowed ? (
            <button
              type="button"
              className="button quiet"
              onClick={() => change({ group: '', function: '', text: '', build: {} })}
            >
              Show all
            </button>
          ) : null}
        </>
      )}
    </div>
  );
}
