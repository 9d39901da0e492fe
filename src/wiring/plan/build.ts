import type { Pairing } from '../../model/index.ts';
import { busesPhysical, type BusPhysical } from '../bus/bus-physical.ts';
import { drawHarness } from '../drawing/draw.ts';
import type { DrawnHarness } from '../drawing/drawn.ts';
import type { FeedLoad, FuseCoordination } from '../supply/feed-tree.ts';
import { billOfMaterials, type BomRow } from './bom.ts';
import type { ConnectorPage } from './connector-pages.ts';
import { cutList, type CutRow } from './cut-list.ts';
import { fromToList, type FromToRow } from './from-to.ts';
import { labelList, type LabelRow } from './labels.ts';
import type { PlannedConductor } from './planned-conductor.ts';
import type { SegmentRow } from './segment-table.ts';
import type { PlanSettings } from './settings.ts';
import type { SpliceRow } from './splice-list.ts';
import { fuseTable, groundTable, type FuseRow, type GroundRow } from './supply-tables.ts';
import type { TestRow } from './test-row.ts';
import { testSheet } from './test-sheet.ts';
import { twistTable, type TwistRow } from './twist-table.ts';
import { planWiring } from './wiring-plan.ts';

/** Something that stands in the way of building, or of building it right. */
export interface HarnessProblem {
  readonly kind: string;
  readonly subject: string;
  readonly message: string;
}

/** Sums over the pack. */
export interface HarnessTotals {
  readonly conductors: number;
  /** Conductors whose length is not known and which the sums lack. */
  readonly withoutLength: number;
  readonly wireM: number;
  readonly weightG: number;
  readonly connectors: number;
  readonly splices: number;
}

/** The added harness, computed: every sheet as plain rows with the units in their names. */
export interface HarnessPlan {
  readonly settings: PlanSettings;
  /** Builds which the pack is for, in words; empty when it is for all. */
  readonly options: readonly string[];
  readonly conductors: readonly PlannedConductor[];
  readonly fromTo: readonly FromToRow[];
  readonly cut: readonly CutRow[];
  readonly connectors: readonly ConnectorPage[];
  readonly splices: readonly SpliceRow[];
  readonly fuses: readonly FuseRow[];
  readonly feeds: readonly FeedLoad[];
  readonly coordination: readonly FuseCoordination[];
  readonly grounds: readonly GroundRow[];
  readonly buses: readonly BusPhysical[];
  readonly segments: readonly SegmentRow[];
  readonly twists: readonly TwistRow[];
  readonly bom: readonly BomRow[];
  readonly labels: readonly LabelRow[];
  readonly tests: readonly TestRow[];
  readonly drawing: DrawnHarness;
  readonly problems: readonly HarnessProblem[];
  /** What must be found out, circuit by circuit. */
  readonly open: readonly { readonly circuit: string; readonly key: string; readonly missing: readonly string[] }[];
  readonly totals: HarnessTotals;
}

/**
 * Plans the added harness of a pairing: circuits, ways, lengths, sizes, drops, splices, tables, materials, tests and drawing.
 * For all option combinations, or for those of `settings.mask`. Pure and near-linear; nothing is guessed in silence: what is
 * not known is in `open`, what contradicts itself in `problems`.
 */
export function buildHarness(pairing: Pairing, settings: Partial<PlanSettings> = {}): HarnessPlan {
  const context = planWiring(pairing, settings);
  const { harness, conductors, graph, settings: all } = context;
  const mask = all.mask === null ? pairing.options.all : all.mask & pairing.options.all;
  const pairLengthM = (port: string): number | null => context.byKey.get(`bus:${port}/high`)?.lengthM ?? null;
  const [feeds, connectors, splices, segments] = [
    context.feeds(),
    context.connectors(),
    context.splices(),
    context.segments(),
  ];
  const buses = busesPhysical(pairing, { pairLengthM, mask });
  const fromTo = fromToList(context);
  const problems = [...harness.problems, ...graph.problems];
  return {
    settings: all,
    options: pairing.options.describe(mask),
    conductors,
    fromTo,
    cut: cutList(fromTo),
    connectors,
    splices,
    fuses: fuseTable(context, feeds),
    feeds,
    coordination: context.coordination(),
    grounds: groundTable(context),
    buses,
    segments,
    twists: twistTable(context),
    bom: billOfMaterials(context, { fromTo, pages: connectors, splices, segments }),
    labels: labelList(context),
    tests: testSheet(context, connectors, buses),
    drawing: drawHarness(context, segments),
    problems,
    open: conductors.flatMap(({ circuit, missing }) =>
      missing.length === 0 ? [] : [{ circuit: circuit.id, key: circuit.key, missing }],
    ),
    totals: totalsOf(conductors, connectors, splices),
  };
}

function totalsOf(
  conductors: readonly PlannedConductor[],
  connectors: readonly ConnectorPage[],
  splices: readonly SpliceRow[],
): HarnessTotals {
  return {
    conductors: conductors.length,
    withoutLength: conductors.filter(({ cutLengthMm }) => cutLengthMm === null).length,
    wireM: conductors.reduce((sum, { cutLengthMm }) => sum + (cutLengthMm ?? 0), 0) / 1000,
    weightG: conductors.reduce((sum, { cutLengthMm, size }) => sum + ((cutLengthMm ?? 0) / 1000) * size.gramPerM, 0),
    connectors: connectors.length,
    splices: splices.length,
  };
}
