import { useDeferredValue, useEffect, useMemo, useRef } from 'react';
import { useStore } from 'zustand';
import type { Finding } from '../../../checks/index.ts';
import type { OptionSpace, Pairing } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { select, show } from '../../actions/navigate.ts';
import { plannerOf, type PlannedHarness } from '../../actions/planning.ts';
import '../../parts/place.css';
import { useSettled } from '../../parts/use-settled.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { filterCircuits } from './circuit-columns.ts';
import { CircuitTable } from './CircuitTable.tsx';
import { ConnectorPanel } from './ConnectorPanel.tsx';
import { Drawing, type DrawingHandle } from './Drawing.tsx';
import { EmptyHarness, NoDrawing } from './Empty.tsx';
import { findingsInPlace } from './findings-in-place.ts';
import './harness.css';
import './panel.css';
import { HarnessTools, TabBar } from './HarnessTools.tsx';
import { useHarnessMemory } from './memory.ts';
import { moveNode } from './move-node.ts';
import { NodeTable, OpenList, SegmentTable, SpliceTable } from './PartTables.tsx';
import { indexOfPlan } from './plan-index.ts';
import { circuitSubject, connectorSubject, selectedBy } from './selected.ts';
import { SelectedPanel } from './SelectedPanel.tsx';
import { shownOf } from './shown.ts';
import { SplitGrip } from './SplitGrip.tsx';
import { traceOf } from './trace.ts';

const NONE: readonly Finding[] = [];
const NO_CIRCUITS: ReadonlySet<string> = new Set();

/** Mask of one build in the list of combinations; null: all builds. */
function maskOf(options: OptionSpace, build: number | null): bigint | null {
  return build === null || build >= options.combinations.length ? null : 1n << BigInt(build);
}

/** The added harness: drawn, listed, traced end to end, its conductors sized. */
export default function Harness() {
  const store = useWorkbenchStore();
  const open = useWorkbench((state) => state.open!);
  const [memory] = useHarnessMemory();
  const pairing = pairingOf(open.history.documents);
  const planner = plannerOf(store);
  const { plan: newest, stale, failure } = useStore(planner.state);
  // A plan that arrives is drawn in slices, so that a large one does not hold the window up.
  const plan = useDeferredValue(newest);
  const mask = maskOf(pairing.options, memory.build);
  useEffect(() => planner.want(open, mask), [planner, open, mask]);

  if (plan === null || newest === null)
    return failure === null ? (
      <p className="loading" role="status" data-planning>
        Planning the harness …
      </p>
    ) : (
      <div className="empty">
        <p className="bad">The harness could not be planned: {failure}</p>
        <p>Undo the last change, or look at the document in the Text place; saving is still possible.</p>
      </div>
    );
  if (plan.conductors.length === 0 && memory.build === null) return <EmptyHarness />;
  return <PlannedPlace plan={plan} pairing={pairing} isStale={stale || plan !== newest} failure={failure} />;
}

function PlannedPlace({
  plan,
  pairing,
  isStale,
  failure,
}: {
  readonly plan: PlannedHarness;
  readonly pairing: Pairing;
  readonly isStale: boolean;
  readonly failure: string | null;
}) {
  const store = useWorkbenchStore();
  const findings = useWorkbench((state) => state.checked?.findings ?? NONE);
  const selection = useWorkbench((state) => state.selection);
  const [memory, remember] = useHarnessMemory();
  const drawing = useRef<DrawingHandle>(null);
  const search = useRef<HTMLInputElement>(null);
  const panel = useRef<HTMLElement>(null);

  const index = indexOfPlan(plan);
  const found = useMemo(() => findingsInPlace(index, pairing, findings), [index, pairing, findings]);
  const selected = useMemo(() => selectedBy(index, pairing, selection), [index, pairing, selection]);
  const current = selected.kind === 'circuit' ? selected.circuits[0]! : null;
  const trace = useMemo(() => (current === null ? null : traceOf(index, current)), [index, current]);
  const shown = useMemo(() => shownOf(index, selected, trace), [index, selected, trace]);
  const concerned = useMemo(() => new Set(selected.circuits), [selected]);
  const settledSelection = useSettled(selection);
  const settled = useMemo(() => selectedBy(index, pairing, settledSelection), [index, pairing, settledSelection]);
  const settledTrace = useMemo(
    () => (settled.kind === 'circuit' ? traceOf(index, settled.circuits[0]!) : null),
    [index, settled],
  );
  const rows = useMemo(
    () => filterCircuits(plan.conductors, memory.query, memory.sort, found.circuits, memory.onlyWithFindings),
    [plan.conductors, memory.query, memory.sort, found.circuits, memory.onlyWithFindings],
  );

  const intoPanel = (): void => {
    setTimeout(() => panel.current?.querySelector<HTMLElement>('[data-first-field]')?.focus(), 200);
  };
  const onConnector = (ref: string): void => remember({ tab: 'connectors', connector: ref });
  const pickDrawn = (subject: string | null): void => {
    const node = subject?.startsWith('node:')
      ? pairing.map.harness?.nodes.find(({ id }) => `node:${id}` === subject)
      : undefined;
    if (node?.connector !== undefined && index.pages.has(node.connector)) {
      onConnector(node.connector);
      select(store, connectorSubject(node.connector));
    } else select(store, subject);
  };
  const walk = (step: 1 | -1): void => {
    const subjects = [
      ...plan.drawing.nodes.map(({ id }) => `node:${id}`),
      ...plan.drawing.segments.map(({ id }) => `segment:${id}`),
    ];
    const at = subjects.indexOf(selection ?? '');
    const next = subjects[(at + step + subjects.length) % subjects.length];
    if (next !== undefined) select(store, next);
  };

  const move = (node: string, to: { readonly x: number; readonly y: number }): void => {
    change(store, `move node ${node}`, moveNode(pairing.map, plan.drawing, node, to));
  };

  return (
    <div
      className="harness"
      data-planned={isStale ? 'stale' : 'current'}
      style={{
        ['--drawing-share' as string]: `${memory.split}fr`,
        ['--tables-share' as string]: `${1 - memory.split}fr`,
      }}
      onKeyDown={(event) => {
        const target = event.target as HTMLElement;
        if (event.key === 'Escape' && target.closest('.harness-side'))
          (
            event.currentTarget.querySelector<HTMLElement>('.circuit-table') ??
            event.currentTarget.querySelector<HTMLElement>('.harness-drawing')
          )?.focus();
      }}
    >
      <HarnessTools
        plan={plan}
        options={pairing.options}
        shown={rows.length}
        findings={found.count}
        isStale={isStale}
        failure={failure}
        search={search}
      />
      <div className="harness-drawn">
        {plan.drawing.nodes.length === 0 ? (
          <NoDrawing map={pairing.map} index={index} />
        ) : (
          <>
            <Drawing
              ref={drawing}
              drawing={plan.drawing}
              viewport={memory.viewport}
              onViewport={(viewport) => remember({ viewport })}
              shown={shown}
              findings={found}
              onPick={pickDrawn}
              onFinding={(subject) => show(store, subject, 'findings')}
              onWalk={walk}
              onLeave={intoPanel}
              onMoveNode={memory.movesNodes ? move : null}
            />
            <DrawingTools
              drawing={drawing}
              movesNodes={memory.movesNodes}
              onMovesNodes={(movesNodes) => remember({ movesNodes })}
            />
          </>
        )}
      </div>
      <SplitGrip split={memory.split} onSplit={(split) => remember({ split })} />
      <section className="harness-tables" aria-label="Tables">
        <TabBar
          plan={plan}
          nodes={pairing.map.harness?.nodes.length ?? 0}
          tab={memory.tab}
          onTab={(tab) => remember({ tab })}
        />
        <div
          id="harness-panel"
          role="tabpanel"
          aria-labelledby={`harness-tab-${memory.tab}`}
          className="harness-panel"
          tabIndex={-1}
        >
          {memory.tab === 'circuits' ? (
            <CircuitTable
              rows={rows}
              total={plan.conductors.length}
              current={current}
              concerned={concerned}
              findings={found.circuits}
              sort={memory.sort}
              hasBuilds={plan.conductors.some(({ facts }) => facts.options.length > 0)}
              onSort={(column) =>
                remember({ sort: { column, down: memory.sort.column === column && !memory.sort.down } })
              }
              onCurrent={(key) => select(store, circuitSubject(index.byKey.get(key)!.conductor.circuit.id))}
              onEnter={intoPanel}
              onSearch={() => search.current?.focus()}
            />
          ) : null}
          {memory.tab === 'connectors' ? (
            <ConnectorPanel
              index={index}
              findings={found}
              chosen={selected.kind === 'connector' ? selected.id : memory.connector}
              current={trace?.line ?? NO_CIRCUITS}
              onChoose={(connector) => remember({ connector })}
            />
          ) : null}
          {memory.tab === 'segments' ? <SegmentTable index={index} map={pairing.map} findings={found} /> : null}
          {memory.tab === 'nodes' ? <NodeTable index={index} map={pairing.map} findings={found} /> : null}
          {memory.tab === 'splices' ? <SpliceTable index={index} findings={found} /> : null}
          {memory.tab === 'open' ? <OpenList index={index} /> : null}
        </div>
      </section>
      <aside ref={panel} className="harness-side" aria-label="What is selected" tabIndex={0}>
        <SelectedPanel
          index={index}
          pairing={pairing}
          findings={found}
          selection={settledSelection}
          selected={settled}
          trace={settledTrace}
          onConnector={onConnector}
        />
      </aside>
    </div>
  );
}

function DrawingTools({
  drawing,
  movesNodes,
  onMovesNodes,
}: {
  readonly drawing: { readonly current: DrawingHandle | null };
  readonly movesNodes: boolean;
  readonly onMovesNodes: (movesNodes: boolean) => void;
}) {
  return (
    <div className="drawing-tools" role="toolbar" aria-label="Drawing">
      <button
        type="button"
        className="button small"
        aria-pressed={movesNodes}
        title="Drag nodes to other directions; lengths stay true. The same by figures: choose a node."
        onClick={() => onMovesNodes(!movesNodes)}
      >
        Move nodes
      </button>
      <button
        type="button"
        className="button small"
        aria-label="Zoom out"
        onClick={() => drawing.current?.zoomBy(1 / 1.25)}
      >
        −
      </button>
      <button type="button" className="button small" aria-label="Zoom in" onClick={() => drawing.current?.zoomBy(1.25)}>
        +
      </button>
      <button
        type="button"
        className="button small"
        title="The whole harness in the view"
        onClick={() => drawing.current?.fit()}
      >
        Fit
      </button>
    </div>
  );
}
