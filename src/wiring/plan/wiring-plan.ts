import { deriveHarness, type Pairing } from '../../model/index.ts';
import { feedLoads, fuseCoordination, type FeedLoad, type FuseCoordination } from '../supply/feed-tree.ts';
import { planConductors } from './conductors.ts';
import { connectorPages, type ConnectorPage } from './connector-pages.ts';
import { connectorFinder } from './connector-lookup.ts';
import type { PlanContext } from './context.ts';
import { segmentTable, type SegmentRow } from './segment-table.ts';
import { DEFAULT_SETTINGS, type PlanSettings } from './settings.ts';
import { spliceList, type SpliceRow } from './splice-list.ts';

/** The added harness as far as it can be judged: its conductors, and the tables over them, each made when first asked for. */
export interface WiringPlan extends PlanContext {
  readonly connectors: () => readonly ConnectorPage[];
  readonly splices: () => readonly SpliceRow[];
  readonly segments: () => readonly SegmentRow[];
  readonly feeds: () => readonly FeedLoad[];
  readonly coordination: () => readonly FuseCoordination[];
}

function once<T>(make: () => T): () => T {
  let made: { readonly is: T } | null = null;
  return () => (made ??= { is: make() }).is;
}

/** Plans the conductors of a pairing, for all option combinations or those of `settings.mask`. Pure and near-linear. */
export function planWiring(pairing: Pairing, settings: Partial<PlanSettings> = {}): WiringPlan {
  const all: PlanSettings = { ...DEFAULT_SETTINGS, ...settings };
  const mask = all.mask === null ? pairing.options.all : all.mask & pairing.options.all;
  const harness = deriveHarness(pairing, mask);
  const { conductors, graph, places } = planConductors(pairing, harness, all);
  const context: PlanContext = {
    pairing,
    harness,
    conductors,
    byKey: new Map(conductors.map((conductor) => [conductor.circuit.key, conductor])),
    graph,
    places,
    settings: all,
    find: connectorFinder(pairing),
    optionsOf: (one) => ((one & mask) === mask ? [] : pairing.options.describe(one & mask)),
  };
  const feeds = once(() => feedLoads(pairing, harness.circuits));
  return {
    ...context,
    connectors: once(() => connectorPages(context)),
    splices: once(() => spliceList(context)),
    segments: once(() => segmentTable(context)),
    feeds,
    coordination: once(() => fuseCoordination(feeds())),
  };
}
