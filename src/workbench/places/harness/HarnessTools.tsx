import type { KeyboardEvent, RefObject } from 'react';
import type { OptionSpace } from '../../../model/index.ts';
import type { PlannedHarness } from '../../actions/planning.ts';
import { goTo } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { TABS, useHarnessMemory, type Tab } from './memory.ts';

/** One build in words: `drivetrain 4wd, year 2021`. */
function buildWords(build: ReadonlyMap<string, string>): string {
  return [...build].map(([axis, choice]) => `${axis} ${choice}`).join(', ');
}

/** Filter, builds, and what the harness comes to. */
export function HarnessTools({
  plan,
  options,
  shown,
  findings,
  isStale,
  failure,
  search,
}: {
  readonly plan: PlannedHarness;
  readonly options: OptionSpace;
  readonly shown: number;
  readonly findings: number;
  readonly isStale: boolean;
  readonly failure: string | null;
  readonly search: RefObject<HTMLInputElement | null>;
}) {
  const store = useWorkbenchStore();
  const [memory, remember] = useHarnessMemory();
  const { totals } = plan;
  return (
    <div className="place-tools harness-tools" role="toolbar" aria-label="Harness">
      <input
        ref={search}
        className="field"
        type="search"
        aria-label="Filter the circuits"
        placeholder="Filter circuits  /"
        value={memory.query}
        onChange={(event) => remember({ query: event.target.value, tab: 'circuits' })}
        onKeyDown={(event) => {
          if (event.key !== 'Escape' || memory.query === '') return;
          event.stopPropagation();
          remember({ query: '' });
        }}
      />
      <span className="soft" role="status">
        {shown} of {totals.conductors} circuits
      </span>
      {options.combinations.length > 1 ? (
        <label>
          Builds
          <select
            className="field"
            value={memory.build ?? ''}
            onChange={(event) => remember({ build: event.target.value === '' ? null : Number(event.target.value) })}
          >
            <option value="">all, marked by build</option>
            {options.combinations.map((build, at) => (
              <option key={at} value={at}>
                {buildWords(build)}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      <label>
        <input
          type="checkbox"
          checked={memory.onlyWithFindings}
          onChange={(event) => remember({ onlyWithFindings: event.target.checked, tab: 'circuits' })}
        />
        only with findings{findings > 0 ? ` (${findings})` : ''}
      </label>
      <span className="push harness-sums">
        {failure === null ? null : <span className="bad">not planned anew: {failure}</span>}
        {isStale ? <span role="status">planning again …</span> : null}
        <span>
          {totals.wireM.toFixed(1)} m of wire, {(totals.weightG / 1000).toFixed(2)} kg
          {totals.withoutLength > 0 ? `, ${totals.withoutLength} without length` : ''}
        </span>
        <span className="soft">{layoutWords(plan)}</span>
        <button type="button" className="button small" onClick={() => goTo(store, 'hand-over')}>
          Print, PDF
        </button>
      </span>
    </div>
  );
}

function layoutWords({ drawing: { layout, toScale }, documents }: PlannedHarness): string {
  if (layout === 'nothing to draw') return '';
  const nodes = documents.map.harness?.nodes ?? [];
  const isPlaced = nodes.every(({ x, y }) => x !== undefined && y !== undefined);
  // Places that a person gave are left aside while they would make segments cross.
  const tool = isPlaced ? 'laid out by the tool: the places given make segments cross' : 'laid out by the tool';
  const where = layout === 'by hand' ? 'places by hand' : tool;
  return `${where}, ${toScale ? 'to scale along the segments' : 'dashed segments not to scale'}`;
}

const TAB_WORDS: Readonly<Record<Tab, string>> = {
  circuits: 'Circuits',
  connectors: 'Connectors',
  segments: 'Segments',
  nodes: 'Nodes',
  splices: 'Splices',
  open: 'To be found out',
};

/** The tables under the drawing. */
export function TabBar({
  plan,
  nodes,
  tab,
  onTab,
}: {
  readonly plan: PlannedHarness;
  readonly nodes: number;
  readonly tab: Tab;
  readonly onTab: (tab: Tab) => void;
}) {
  const counts: Readonly<Record<Tab, number>> = {
    circuits: plan.totals.conductors,
    connectors: plan.connectors.length,
    segments: plan.segments.length,
    nodes,
    splices: plan.splices.length,
    open: plan.open.length + plan.problems.length,
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
    if (step === 0) return;
    const next = TABS[(TABS.indexOf(tab) + step + TABS.length) % TABS.length]!;
    onTab(next);
    document.getElementById(`harness-tab-${next}`)?.focus();
  };
  return (
    <div role="tablist" aria-label="Parts of the harness" className="harness-tabs" onKeyDown={onKeyDown}>
      {TABS.map((name) => (
        <button
          key={name}
          id={`harness-tab-${name}`}
          type="button"
          role="tab"
          aria-selected={tab === name}
          aria-controls="harness-panel"
          tabIndex={tab === name ? 0 : -1}
          onClick={() => onTab(name)}
        >
          {TAB_WORDS[name]} <span className="soft">{counts[name]}</span>
        </button>
      ))}
    </div>
  );
}
