import type { CircuitEnd } from '../../../model/index.ts';
import type { ConductorFacts, ShownConductor } from '../../worker/harness-protocol.ts';
import type { PlanIndex } from './plan-index.ts';

type EndName = 'from' | 'to';

/** One thing along the way of a circuit, in the order in which a finger follows it. */
export type TraceStep =
  | {
      readonly kind: 'place';
      readonly end: CircuitEnd;
      readonly facts: ConductorFacts[EndName];
      /** Connector it is in; null at a stud, a bare terminal or where nothing is known. */
      readonly connector: string | null;
    }
  | {
      readonly kind: 'conductor';
      readonly shown: ShownConductor;
      /** Nodes and segments in the direction of the trace; empty when its way is not known. */
      readonly nodes: readonly string[];
      readonly segments: readonly string[];
      readonly isSelected: boolean;
    }
  | { readonly kind: 'splice'; readonly id: string; readonly node: string | null }
  | { readonly kind: 'part'; readonly part: string; readonly enters: string; readonly leaves: string };

/** What else meets the line in a splice. */
export interface TraceBranch {
  readonly splice: string;
  readonly steps: readonly TraceStep[];
}

/** A circuit end to end: through its splices and through the parts in line. */
export interface Trace {
  readonly steps: readonly TraceStep[];
  readonly branches: readonly TraceBranch[];
  /** Keys of the conductors of the line. */
  readonly line: ReadonlySet<string>;
  readonly segments: ReadonlySet<string>;
  readonly nodes: ReadonlySet<string>;
  readonly branchSegments: ReadonlySet<string>;
}

const OTHER: Readonly<Record<EndName, EndName>> = { from: 'to', to: 'from' };

/** Follows a circuit from one connector to the other. Null when the plan has no such circuit. */
export function traceOf(index: PlanIndex, key: string): Trace | null {
  const start = index.byKey.get(key);
  if (!start) return null;
  const seen = new Set([key]);
  const splices: string[] = [];
  const before = follow(index, start, 'from', seen, splices);
  const after = follow(index, start, 'to', seen, splices);
  const steps = [...turned(before), conductorStep(start, 'from', true), ...after];
  const line = keysOf(steps);
  const branches = [...new Set(splices)].flatMap((splice) =>
    (index.bySplice.get(splice) ?? [])
      .filter((other) => !line.has(other))
      .map((other): TraceBranch => {
        const shown = index.byKey.get(other)!;
        const near = endAt(shown, splice);
        return {
          splice,
          steps: [
            conductorStep(shown, near, false),
            ...follow(index, shown, OTHER[near], new Set([...line, other]), []),
          ],
        };
      }),
  );
  const along = (list: readonly TraceStep[], what: 'segments' | 'nodes'): string[] =>
    list.flatMap((step) => (step.kind === 'conductor' ? step[what] : []));
  return {
    steps,
    branches,
    line,
    segments: new Set(along(steps, 'segments')),
    nodes: new Set([...along(steps, 'nodes')]),
    branchSegments: new Set(branches.flatMap((branch) => along(branch.steps, 'segments'))),
  };
}

function keysOf(steps: readonly TraceStep[]): ReadonlySet<string> {
  return new Set(steps.flatMap((step) => (step.kind === 'conductor' ? [step.shown.conductor.circuit.key] : [])));
}

function endAt({ conductor: { circuit } }: ShownConductor, splice: string): EndName {
  return circuit.from.kind === 'splice' && circuit.from.splice === splice ? 'from' : 'to';
}

function conductorStep(shown: ShownConductor, enteredAt: EndName, isSelected: boolean): TraceStep {
  const { way } = shown.conductor;
  const nodes = way?.nodes ?? [];
  const segments = way?.segments ?? [];
  const forward = enteredAt === 'from';
  return {
    kind: 'conductor',
    shown,
    nodes: forward ? nodes : nodes.toReversed(),
    segments: forward ? segments : segments.toReversed(),
    isSelected,
  };
}

/** The steps from an end of a conductor outwards, that end first. */
function follow(
  index: PlanIndex,
  start: ShownConductor,
  startEnd: EndName,
  seen: Set<string>,
  splices: string[],
): TraceStep[] {
  const steps: TraceStep[] = [];
  let shown = start;
  let at = startEnd;
  for (;;) {
    const end = shown.conductor.circuit[at];
    const next = end.kind === 'splice' ? pastSplice(index, shown, end.splice) : pastPart(index, shown, end);
    if (end.kind === 'splice') {
      splices.push(end.splice);
      steps.push({ kind: 'splice', id: end.splice, node: index.splices.get(end.splice)?.node ?? null });
    }
    if (!next || seen.has(next.shown.conductor.circuit.key)) {
      if (end.kind !== 'splice') steps.push(placeStep(end, shown.facts[at]));
      return steps;
    }
    if (end.kind === 'part') {
      const leaves = next.shown.conductor.circuit[next.near];
      steps.push({
        kind: 'part',
        part: end.part,
        enters: end.terminal,
        leaves: leaves.kind === 'part' ? leaves.terminal : '',
      });
    }
    seen.add(next.shown.conductor.circuit.key);
    steps.push(conductorStep(next.shown, next.near, false));
    shown = next.shown;
    at = OTHER[next.near];
  }
}

interface Next {
  readonly shown: ShownConductor;
  /** Its end at which it is entered. */
  readonly near: EndName;
}

/** From a leg of a splice on along its stub; from the stub on only when a single leg leaves it. */
function pastSplice(index: PlanIndex, shown: ShownConductor, splice: string): Next | null {
  const { key, kind } = shown.conductor.circuit;
  const others = (index.bySplice.get(splice) ?? []).filter((other) => other !== key);
  const stub = others.find((other) => index.byKey.get(other)!.conductor.circuit.kind === 'splice-stub');
  const next = kind === 'splice-stub' ? (others.length === 1 ? others[0] : undefined) : (stub ?? others[0]);
  const found = next === undefined ? undefined : index.byKey.get(next);
  return found ? { shown: found, near: endAt(found, splice) } : null;
}

/** From a part on along the next hop of the same run: a diode or the contact of a relay in line. */
function pastPart(index: PlanIndex, shown: ShownConductor, end: CircuitEnd): Next | null {
  if (end.kind !== 'part') return null;
  for (const key of hopsBeside(shown)) {
    const found = index.byAnyKey.get(key);
    if (!found) continue;
    for (const near of ['from', 'to'] as const) {
      const other = found.conductor.circuit[near];
      if (other.kind === 'part' && other.part === end.part) return { shown: found, near };
    }
  }
  return null;
}

/** Keys of the hops before and after it: `route:x/2` lies between `route:x/1` and `route:x/3`. */
function hopsBeside({ conductor: { circuit } }: ShownConductor): readonly string[] {
  return [circuit.key, ...circuit.otherKeys].flatMap((key) => {
    const hop = /^(.*)\/(\d+)$/.exec(key);
    return hop ? [`${hop[1]}/${Number(hop[2]) - 1}`, `${hop[1]}/${Number(hop[2]) + 1}`] : [];
  });
}

function placeStep(end: CircuitEnd, facts: ConductorFacts[EndName]): TraceStep {
  const connector = end.kind === 'cavity' || end.kind === 'part' ? end.connector : null;
  return { kind: 'place', end, facts, connector };
}

/** The steps in the other direction. */
function turned(steps: readonly TraceStep[]): TraceStep[] {
  return steps.toReversed().map((step): TraceStep => {
    if (step.kind === 'conductor')
      return { ...step, nodes: step.nodes.toReversed(), segments: step.segments.toReversed() };
    return step.kind === 'part' ? { ...step, enters: step.leaves, leaves: step.enters } : step;
  });
}
