import type { CircuitEnd } from '../../../model/index.ts';
import type { ConnectorPage, SpliceRow } from '../../../wiring/index.ts';
import type { PlannedHarness } from '../../actions/planning.ts';
import type { ShownConductor } from '../../worker/harness-protocol.ts';

/** The plan by what one looks for in it. Circuits are named by their key; all lists are in the order of the plan. */
export interface PlanIndex {
  readonly plan: PlannedHarness;
  readonly byKey: ReadonlyMap<string, ShownConductor>;
  /** By the number printed on the wire. */
  readonly byId: ReadonlyMap<string, ShownConductor>;
  /** By every key it answers to: its own and those of conductors that turned out to be the same one. */
  readonly byAnyKey: ReadonlyMap<string, ShownConductor>;
  readonly byRoute: ReadonlyMap<string, readonly string[]>;
  /** By `connector/cavity`. */
  readonly byCavity: ReadonlyMap<string, readonly string[]>;
  readonly byConnector: ReadonlyMap<string, readonly string[]>;
  readonly byPart: ReadonlyMap<string, readonly string[]>;
  readonly byGround: ReadonlyMap<string, readonly string[]>;
  readonly bySplice: ReadonlyMap<string, readonly string[]>;
  readonly bySegment: ReadonlyMap<string, readonly string[]>;
  /** By a node on the way. */
  readonly byNode: ReadonlyMap<string, readonly string[]>;
  /** By the fuse in front, `side:feed` or the circuit of an in-line fuse. */
  readonly byFuse: ReadonlyMap<string, readonly string[]>;
  readonly byTwist: ReadonlyMap<string, readonly string[]>;
  readonly pages: ReadonlyMap<string, ConnectorPage>;
  readonly splices: ReadonlyMap<string, SpliceRow>;
}

const known = new WeakMap<PlannedHarness, PlanIndex>();

/** The index of a plan, made once. */
export function indexOfPlan(plan: PlannedHarness): PlanIndex {
  const made = known.get(plan) ?? makeIndex(plan);
  known.set(plan, made);
  return made;
}

type Lists = Map<string, string[]>;

function enter(lists: Lists, name: string, key: string): void {
  const list = lists.get(name);
  if (!list) lists.set(name, [key]);
  else if (list.at(-1) !== key) list.push(key);
}

function makeIndex(plan: PlannedHarness): PlanIndex {
  const lists = {
    byRoute: new Map() as Lists,
    byCavity: new Map() as Lists,
    byConnector: new Map() as Lists,
    byPart: new Map() as Lists,
    byGround: new Map() as Lists,
    bySplice: new Map() as Lists,
    bySegment: new Map() as Lists,
    byNode: new Map() as Lists,
    byFuse: new Map() as Lists,
    byTwist: new Map() as Lists,
  };
  const byKey = new Map<string, ShownConductor>();
  const byId = new Map<string, ShownConductor>();
  const byAnyKey = new Map<string, ShownConductor>();
  const enterEnd = (end: CircuitEnd, key: string): void => {
    if (end.kind === 'splice') enter(lists.bySplice, end.splice, key);
    if (end.kind === 'stud') enter(lists.byGround, end.ground, key);
    if (end.kind === 'part') enter(lists.byPart, end.part, key);
    if ((end.kind === 'cavity' || end.kind === 'part') && end.connector !== null && end.cavity !== null) {
      enter(lists.byConnector, end.connector, key);
      enter(lists.byCavity, `${end.connector}/${end.cavity}`, key);
    }
  };
  for (const shown of plan.conductors) {
    const { circuit, way } = shown.conductor;
    const { key } = circuit;
    byKey.set(key, shown);
    if (!byId.has(circuit.id)) byId.set(circuit.id, shown);
    for (const one of [key, ...circuit.otherKeys]) if (!byAnyKey.has(one)) byAnyKey.set(one, shown);
    for (const route of circuit.routeIds) enter(lists.byRoute, route, key);
    enterEnd(circuit.from, key);
    enterEnd(circuit.to, key);
    for (const segment of way?.segments ?? []) enter(lists.bySegment, segment, key);
    for (const node of way?.nodes ?? []) enter(lists.byNode, node, key);
    if (circuit.fuse !== null) enter(lists.byFuse, circuit.fuse.id, key);
    if (circuit.twistGroup !== null) enter(lists.byTwist, circuit.twistGroup, key);
  }
  return {
    plan,
    byKey,
    byId,
    byAnyKey,
    ...lists,
    pages: new Map(plan.connectors.map((page) => [page.ref, page])),
    splices: new Map(plan.splices.map((row) => [row.id, row])),
  };
}
