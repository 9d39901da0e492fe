import type { AddedHarness, Circuit, CircuitEnd, Connector, Pairing } from '../../model/index.ts';
import { ampacity, carriesCurrent, conductorTemperatureC } from '../conductor/ampacity.ts';
import { drop } from '../conductor/drop.ts';
import { minimumSize, unmetBy, type SizeChoice, type SizeReason } from '../conductor/minimum-size.ts';
import { conductorSize, harnessSizes, type ConductorSize } from '../conductor/size.ts';
import { twistFactor } from '../harness/bundle.ts';
import { harnessGraph, type HarnessGraph, type Way } from '../harness/graph.ts';
import { wayOf } from '../harness/route-way.ts';
import { placeSplices, type SplicePlace } from '../harness/splice-place.ts';
import { SERVICE } from '../tables/allowances.ts';
import { CAN_TWIST } from '../tables/can-physical.ts';
import { acceptsAt, connectorFinder } from './connector-lookup.ts';
import { assignColours, type ColourChoice } from './colours.ts';
import { currentOf, dutyOf, insulationFor } from './demand.ts';
import { loopsOf } from './loops.ts';
import type { PlannedConductor } from './planned-conductor.ts';
import type { PlanSettings } from './settings.ts';
import { limitOf, sizeDemand } from './size-demand.ts';

export interface PlannedConductors {
  readonly conductors: readonly PlannedConductor[];
  readonly graph: HarnessGraph;
  readonly places: ReadonlyMap<string, SplicePlace>;
}

/** What is known of a conductor before the others are looked at. */
interface Draft {
  readonly circuit: Circuit;
  readonly way: Way | null;
  readonly lengthM: number | null;
  readonly lengthBy: 'segments' | 'measured' | null;
  readonly lacking: readonly string[];
  readonly ambientC: number;
  readonly ambientBy: 'segments' | 'assumed';
  readonly insulation: { readonly name: string; readonly maxC: number };
  readonly currentA: number;
  readonly currentBy: PlannedConductor['currentBy'];
  readonly given: ConductorSize | null;
  /** A size text which stands for no conductor. */
  readonly unreadable: string | null;
}

/** Plans every conductor: way, length, current, size with its reason, drop, temperature, colour. Near-linear. */
export function planConductors(pairing: Pairing, harness: AddedHarness, settings: PlanSettings): PlannedConductors {
  const graph = harnessGraph(pairing.map.harness);
  const { circuits } = harness;
  const byKey = new Map(circuits.map((circuit) => [circuit.key, circuit]));
  const areaOf = (circuit: Circuit): number | null =>
    circuit.conductor.size === null ? null : (conductorSize(circuit.conductor.size)?.areaMm2 ?? null);
  const places = placeSplices(graph, harness.splices, byKey, areaOf);
  const drafts = circuits.map((circuit) => draftOf(graph, places, circuit, settings));
  const draftByKey = new Map(drafts.map((draft) => [draft.circuit.key, draft]));
  const carrying = carryingOnSegments(drafts, settings);
  const loops = loopsOf(circuits);
  const find = connectorFinder(pairing);
  const sized = new Map(
    drafts.map((draft) => [
      draft.circuit.key,
      sizeOf(draft, loops.get(draft.circuit.key)!, draftByKey, carrying, find, settings),
    ]),
  );
  const colours = assignColours(circuits);
  const conductors = drafts.map((draft) =>
    finish(draft, loops.get(draft.circuit.key)!, draftByKey, sized, colours.get(draft.circuit.key)!, pairing, settings),
  );
  return { conductors: equalTwists(conductors), graph, places };
}

function draftOf(
  graph: HarnessGraph,
  places: ReadonlyMap<string, SplicePlace>,
  circuit: Circuit,
  settings: PlanSettings,
): Draft {
  const found = wayOf(graph, places, circuit);
  const way = 'nodes' in found ? found : null;
  const measured = circuit.conductor.lengthM;
  const zones = (way?.segments ?? []).flatMap((id) => graph.segmentById.get(id)!.segment.maxC ?? []);
  const ambientC = zones.length === 0 ? settings.ambientC : Math.max(...zones);
  const current = currentOf(circuit);
  const { size } = circuit.conductor;
  const given = size === null ? null : conductorSize(size);
  return {
    circuit,
    way,
    lengthM: measured ?? way?.lengthM ?? null,
    lengthBy: measured !== null ? 'measured' : way ? 'segments' : null,
    lacking: way || measured !== null ? [] : 'lacking' in found ? found.lacking : [],
    ambientC,
    ambientBy: zones.length === 0 ? 'assumed' : 'segments',
    insulation: insulationFor(circuit, ambientC),
    currentA: current.ampere,
    currentBy: current.by,
    given,
    unreadable: size !== null && given === null ? size : null,
  };
}

/** Size taken before sizes are chosen, to see who carries current: as given, else the thinnest for signals. */
function provisional(draft: Draft): ConductorSize {
  return draft.given ?? conductorSize('0.5mm2')!;
}

function carryingOnSegments(drafts: readonly Draft[], settings: PlanSettings): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const draft of drafts) {
    if (settings.mask !== null && (draft.circuit.mask & settings.mask) === 0n) continue;
    if (!draft.way || !carriesCurrent(provisional(draft), draft.currentA, draft.insulation.maxC)) continue;
    for (const id of new Set(draft.way.segments)) counts.set(id, (counts.get(id) ?? 0) + 1);
  }
  return counts;
}

interface Sized {
  readonly choice: SizeChoice;
  readonly size: ConductorSize;
  readonly sizeBy: PlannedConductor['sizeBy'];
  readonly faults: readonly SizeReason[];
  readonly carrying: number;
  readonly limitV: number | null;
}

function sizeOf(
  draft: Draft,
  loop: readonly string[],
  drafts: ReadonlyMap<string, Draft>,
  carryingOn: ReadonlyMap<string, number>,
  find: (ref: string) => Connector | null,
  settings: PlanSettings,
): Sized {
  const { circuit } = draft;
  const carrying = Math.max(1, ...(draft.way?.segments ?? []).map((id) => carryingOn.get(id) ?? 0));
  const demand = sizeDemand(circuit, {
    currentA: draft.currentA,
    loopLengthsM: loop.map((key) => drafts.get(key)?.lengthM ?? 0),
    ambientC: draft.ambientC,
    insulationC: draft.insulation.maxC,
    carrying,
    ranges: [circuit.from, circuit.to].flatMap((end) => rangeOf(find, end)),
    supplyV: settings.supplyV,
  });
  const choice = minimumSize(harnessSizes(settings.family), demand);
  const fallback = conductorSize(settings.family === 'awg' ? '20AWG' : '0.5mm2')!;
  const size = draft.given ?? choice.size ?? fallback;
  const sizeBy = draft.given ? (circuit.conductor.sizeFrom ?? 'circuit') : choice.size ? 'computed' : 'assumed';
  return { choice, size, sizeBy, faults: unmetBy(size, demand), carrying, limitV: limitOf(circuit, settings.supplyV) };
}

/** Sizes that the terminal of a place accepts, where the connector states them. */
export function rangeOf(
  find: (ref: string) => Connector | null,
  end: CircuitEnd,
): { readonly minMm2: number; readonly maxMm2: number }[] {
  if (end.kind !== 'cavity' && end.kind !== 'part') return [];
  if (end.connector === null || end.cavity === null) return [];
  const range = acceptsAt(find(end.connector), end.cavity);
  return range && (end.kind === 'part' || end.joint === 'terminal') ? [range] : [];
}

function finish(
  draft: Draft,
  loop: readonly string[],
  drafts: ReadonlyMap<string, Draft>,
  sized: ReadonlyMap<string, Sized>,
  colour: ColourChoice,
  pairing: Pairing,
  settings: PlanSettings,
): PlannedConductor {
  const { circuit } = draft;
  const { choice, size, sizeBy, faults, carrying, limitV } = sized.get(circuit.key)!;
  const around = { ambientC: draft.ambientC, insulationC: draft.insulation.maxC, carrying };
  const serviceM = circuit.serviceM ?? pairing.map.harness?.serviceM ?? settings.serviceM;
  const twist = circuit.twistGroup === null ? 1 : twistFactor(size.outsideMm, CAN_TWIST.pitchMm);
  const dropOf = (key: string): number | null => {
    const other = drafts.get(key);
    if (!other || other.lengthM === null) return null;
    const { ohmPerM20C } = sized.get(key)!.size;
    const leg = { ohmPerM20C, lengthM: other.lengthM, temperatureC: other.ambientC };
    return drop(other.currentA, [leg], []).dropV;
  };
  const drops = loop.map(dropOf);
  const loopDropV = drops.some((one) => one === null) ? null : drops.reduce<number>((sum, one) => sum + one!, 0);
  const missing = [
    ...circuit.missing,
    ...draft.lacking,
    ...(draft.unreadable === null ? [] : [`a size: "${draft.unreadable}" stands for no conductor`]),
    ...(choice.size === null ? [`a size: none of the series meets its ${choice.reason}`] : []),
  ];
  return {
    circuit,
    way: draft.way,
    lengthM: draft.lengthM,
    lengthBy: draft.lengthBy,
    serviceM,
    twistFactor: twist,
    cutLengthMm: draft.lengthM === null ? null : cutLengthMm(draft.lengthM * twist + serviceM),
    size,
    sizeBy,
    minimum: choice,
    sizeFaults: faults,
    colourBase: colour.base,
    colourTracer: colour.tracer,
    colourBy: colour.by,
    insulation: draft.insulation.name,
    insulationC: draft.insulation.maxC,
    ambientC: draft.ambientC,
    ambientBy: draft.ambientBy,
    currentA: draft.currentA,
    currentBy: draft.currentBy,
    carrying,
    ampacityA: ampacity(size, around).ampere,
    temperatureC: conductorTemperatureC(size, draft.currentA, around),
    duty: dutyOf(circuit),
    dropV: drops[0] ?? null,
    loopDropV,
    limitV,
    loop: loop.slice(1).flatMap((key) => drafts.get(key)?.circuit.id ?? []),
    missing: [...new Set(missing)],
  };
}

/** Cut length in whole steps of the shop, never short. */
export function cutLengthMm(lengthM: number): number {
  // A thousandth of a millimetre of rounding must not add a step.
  return Math.ceil((lengthM * 1000 - 1e-3) / SERVICE.roundUpToMm) * SERVICE.roundUpToMm;
}

/** Conductors twisted together are cut to one length, that of the longest. */
function equalTwists(conductors: readonly PlannedConductor[]): readonly PlannedConductor[] {
  const longest = new Map<string, number>();
  for (const { circuit, cutLengthMm: length } of conductors) {
    if (circuit.twistGroup === null || length === null) continue;
    longest.set(circuit.twistGroup, Math.max(longest.get(circuit.twistGroup) ?? 0, length));
  }
  return conductors.map((conductor) => {
    const group = conductor.circuit.twistGroup;
    const length = group === null ? undefined : longest.get(group);
    return length === undefined || conductor.cutLengthMm === null ? conductor : { ...conductor, cutLengthMm: length };
  });
}
