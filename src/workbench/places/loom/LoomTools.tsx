import type { Ref, KeyboardEvent } from 'react';
import type { Pairing } from '../../../model/index.ts';
import type { LoomFilter } from './filter.ts';
import type { LoomGroup } from './layout.ts';
import { CarrierIcon, EndShape, SeverityIcon } from './marks.tsx';

const CARRIERS = [
  ['hard-wire', 'hard wire', 'one conductor, edge to edge, in front of the interface module'],
  ['interface', 'interface', 'in and out of the interface module at a port or a pin: firmware in series'],
  ['bus', 'bus', 'down to the bus bar at the foot'],
  ['loose', 'unmet', 'a need that nothing meets: a short loose end'],
] as const;

interface LoomToolsProps {
  readonly pairing: Pairing;
  readonly groups: readonly LoomGroup[];
  readonly filter: LoomFilter;
  readonly found: number | null;
  /** The search field. */
  readonly ref: Ref<HTMLInputElement>;
  readonly onFilter: (change: Partial<LoomFilter>) => void;
  readonly onNext: (step: 1 | -1) => void;
  readonly onLeaveSearch: () => void;
  readonly onFoldAll: () => void;
  readonly onUnfoldAll: () => void;
  readonly sideOpen: boolean;
  readonly stripOpen: boolean;
  readonly onSide: () => void;
  readonly onStrip: () => void;
}

function countOf(groups: readonly LoomGroup[], carrier: (typeof CARRIERS)[number][0]): number {
  return groups.reduce((sum, group) => sum + (carrier === 'loose' ? group.loose : group.byCarrier[carrier]), 0);
}

/** Search, filters, zoom and folds. The carrier filter is at the same time the legend of the shapes. */
export function LoomTools({ ref, ...props }: LoomToolsProps) {
  const { filter, groups, pairing, found } = props;
  const onSearchKey = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') props.onNext(event.shiftKey ? -1 : 1);
    else if (event.key === 'ArrowDown') props.onLeaveSearch();
    else if (event.key === 'Escape') {
      props.onFilter({ query: '' });
      props.onLeaveSearch();
    } else return;
    event.preventDefault();
  };
  return (
    <div className="loom-tools" role="toolbar" aria-label="Loom">
      <span className="search-box">
        <input
          ref={ref}
          className="field"
          type="search"
          aria-label="Search strands"
          placeholder="Search  /"
          value={filter.query}
          onChange={(event) => props.onFilter({ query: event.target.value })}
          onKeyDown={onSearchKey}
        />
        {found === null ? null : (
          <span className="soft" role="status">
            {found} found
          </span>
        )}
      </span>
      <span className="legend" role="group" aria-label="Carriers: show only one">
        {CARRIERS.map(([carrier, word, meaning]) => (
          <button
            key={carrier}
            type="button"
            className="legend-button"
            aria-pressed={filter.carrier === carrier}
            title={meaning}
            onClick={() => props.onFilter({ carrier: filter.carrier === carrier ? 'all' : carrier })}
          >
            <CarrierIcon carrier={carrier} />
            {word} <span className="legend-count">{countOf(groups, carrier)}</span>
          </button>
        ))}
        <button
          type="button"
          className="legend-button"
          aria-pressed={filter.onlyFindings}
          title="only strands with findings: S stop, F fix, L look"
          onClick={() => props.onFilter({ onlyFindings: !filter.onlyFindings })}
        >
          <SeverityIcon severity="stop" />
          <SeverityIcon severity="fix" />
          <SeverityIcon severity="look" />
          findings
        </button>
        <span className="legend-ends">
          <svg className="loom-icon" viewBox="-8 -8 16 16" aria-hidden="true">
            <EndShape x={0} y={0} edge="left" role="offer" />
          </svg>
          offer
          <svg className="loom-icon" viewBox="-8 -8 16 16" aria-hidden="true">
            <EndShape x={-2} y={0} edge="left" role="need" />
          </svg>
          need
        </span>
      </span>
      {pairing.options.combinations.length < 2 ? null : (
        <select
          className="field"
          aria-label="Build"
          value={filter.build === null ? '' : String(filter.build)}
          onChange={(event) => props.onFilter({ build: event.target.value === '' ? null : BigInt(event.target.value) })}
        >
          <option value="">all builds</option>
          {pairing.options.combinations.map((combination, index) => (
            <option key={index} value={String(1n << BigInt(index))}>
              {[...combination.values()].join(' · ')}
            </option>
          ))}
        </select>
      )}
      <span className="push tool-group">
        <button type="button" className="button small" onClick={props.onFoldAll}>
          Fold all
        </button>
        <button type="button" className="button small" onClick={props.onUnfoldAll}>
          Unfold all
        </button>
        <button type="button" className="button small" aria-pressed={props.stripOpen} onClick={props.onStrip}>
          Strip
        </button>
        <button type="button" className="button small" aria-pressed={props.sideOpen} onClick={props.onSide}>
          Detail
        </button>
      </span>
    </div>
  );
}
