import type { Shown } from './Highlight.tsx';
import type { PlanIndex } from './plan-index.ts';
import { colourOf } from './circuit-columns.ts';
import type { Selected } from './selected.ts';
import type { Trace, TraceStep } from './trace.ts';

const NOTHING: ReadonlySet<string> = new Set();
const NO_PLACES: ReadonlyMap<string, string> = new Map();

/** What the drawing highlights: a circuit end to end, or what several circuits, a connector or a splice are about. */
export function shownOf(index: PlanIndex, { kind, circuits, id }: Selected, trace: Trace | null): Shown {
  if (trace) return shownTrace(trace);
  const segments = new Set(circuits.flatMap((key) => index.byKey.get(key)!.conductor.way?.segments ?? []));
  const node = kind === 'node' ? id : kind === 'splice' ? (index.splices.get(id!)?.node ?? null) : null;
  const connector = kind === 'connector' ? nodeOfConnector(index, id!) : null;
  return {
    line: NO_PLACES,
    beside: kind === 'segment' || kind === 'node' ? NOTHING : segments,
    segment: kind === 'segment' ? id : null,
    node: node ?? connector,
    places: NO_PLACES,
    focus: focusOf(index, kind === 'segment' ? id : null, node ?? connector),
  };
}

function shownTrace(trace: Trace): Shown {
  const line = new Map<string, string>();
  const places = new Map<string, string>();
  trace.steps.forEach((step, at) => {
    if (step.kind === 'conductor') for (const segment of step.segments) line.set(segment, colourOf(step.shown));
    if (step.kind === 'splice' && step.node !== null && !places.has(step.node)) places.set(step.node, '');
    const node = nodeAt(trace.steps, at);
    if ((step.kind === 'place' || step.kind === 'part') && node !== null) places.set(node, textAt(step));
  });
  return { line, beside: trace.branchSegments, segment: null, node: null, places, focus: [...places.keys()] };
}

/** The node where a place or part lies: where the conductor beside it begins or ends. */
function nodeAt(steps: readonly TraceStep[], at: number): string | null {
  const after = steps[at + 1];
  if (after?.kind === 'conductor') return after.nodes[0] ?? null;
  const before = steps[at - 1];
  return before?.kind === 'conductor' ? (before.nodes.at(-1) ?? null) : null;
}

function textAt(step: TraceStep): string {
  if (step.kind === 'part') return step.part;
  return step.kind === 'place' ? (step.facts.cavity ?? '') : '';
}

function nodeOfConnector(index: PlanIndex, ref: string): string | null {
  for (const key of index.byConnector.get(ref) ?? []) {
    const { circuit, way } = index.byKey.get(key)!.conductor;
    const isFrom = 'connector' in circuit.from && circuit.from.connector === ref;
    const node = isFrom ? way?.nodes[0] : way?.nodes.at(-1);
    if (node !== undefined) return node;
  }
  return null;
}

function focusOf(index: PlanIndex, segment: string | null, node: string | null): readonly string[] {
  if (node !== null) return [node];
  const drawn = segment === null ? undefined : index.plan.drawing.segments.find(({ id }) => id === segment);
  return drawn ? [drawn.from, drawn.to] : [];
}
