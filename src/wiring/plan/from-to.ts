import type { CircuitEnd, ElectricalClass } from '../../model/index.ts';
import { CRIMP_PULL } from '../tables/crimp-pull.ts';
import { CUT_TOLERANCE, STRIP_MM } from '../tables/allowances.ts';
import { CAN_TWIST } from '../tables/can-physical.ts';
import { awgAreaMm2 } from '../conductor/awg.ts';
import type { ElectricalFit } from '../electrical/fit-types.ts';
import { electricalFits } from '../electrical/route-fits.ts';
import { nameOf } from './colours.ts';
import { functionTitles, placeText, spliceName, type PlanContext } from './context.ts';
import { labelText } from './labels.ts';
import { fittingAt } from './fittings.ts';
import type { PlannedConductor } from './planned-conductor.ts';

/** One end of a from–to row. */
export interface FromToEnd {
  readonly kind: CircuitEnd['kind'];
  readonly connector: string | null;
  readonly cavity: string | null;
  /** Connector and cavity, stud, part terminal or splice in one text. */
  readonly place: string;
  readonly joint: 'terminal' | 'tap' | 'ring' | 'splice' | 'unknown';
  readonly terminal: string | null;
  readonly seal: string | null;
  readonly view: 'wire-side' | 'mating-side' | null;
  readonly electricalClass: ElectricalClass | null;
  readonly stripMm: number;
  readonly label: string;
}

/** One conductor as the harness builder reads it. Every unit stands in the name. */
export interface FromToRow {
  readonly circuit: string;
  readonly key: string;
  readonly kind: string;
  readonly functionIds: readonly string[];
  readonly functions: readonly string[];
  /** Names of what it carries on both platforms. */
  readonly signals: readonly string[];
  readonly routeIds: readonly string[];
  readonly criticality: string | null;
  readonly role: 'primary' | 'backup' | null;
  readonly from: FromToEnd;
  readonly to: FromToEnd;
  readonly insulation: string;
  readonly insulationMaxC: number;
  readonly size: string;
  readonly sizeValue: string;
  readonly sizeUnit: 'mm²' | 'AWG';
  readonly sizeBy: string;
  readonly sizeReason: string;
  readonly areaMm2: number;
  readonly colour: string;
  readonly colourBase: string;
  readonly colourTracer: string | null;
  readonly colourBy: string;
  readonly cutLengthMm: number | null;
  readonly toleranceMm: number | null;
  readonly branch: readonly string[];
  readonly coverings: readonly string[];
  readonly twistGroup: string | null;
  readonly twistPitchMm: number | null;
  readonly shielded: boolean;
  readonly splice: string | null;
  readonly fuse: string | null;
  readonly fuseA: number | null;
  readonly loadA: number;
  readonly loadBy: string;
  readonly inrushA: number | null;
  readonly dropV: number | null;
  readonly loopDropV: number | null;
  readonly dropLimitV: number | null;
  readonly ampacityA: number;
  readonly conductorC: number;
  readonly zoneMaxC: number;
  readonly zoneBy: string;
  readonly conditioning: readonly string[];
  readonly options: readonly string[];
  readonly pullForceN: number | null;
  readonly documents: readonly string[];
  readonly note: string | null;
  readonly missing: readonly string[];
}

/** The from–to list: one row a conductor, in the order of the circuits. */
export function fromToList(context: PlanContext): readonly FromToRow[] {
  const fits = conditioningByRoute(context);
  return context.conductors.map((conductor) => rowOf(context, conductor, fits));
}

function conditioningByRoute({ pairing }: PlanContext): ReadonlyMap<string, readonly ElectricalFit[]> {
  const byRoute = new Map<string, ElectricalFit[]>();
  for (const { routeId, fit } of electricalFits(pairing)) {
    const known = byRoute.get(routeId);
    if (known) known.push(fit);
    else byRoute.set(routeId, [fit]);
  }
  return byRoute;
}

function rowOf(
  context: PlanContext,
  conductor: PlannedConductor,
  fits: ReadonlyMap<string, readonly ElectricalFit[]>,
): FromToRow {
  const { circuit, size } = conductor;
  const routes = circuit.routeIds.flatMap((id) => context.pairing.routes.get(id) ?? []);
  const splices = [circuit.from, circuit.to].flatMap((end) => (end.kind === 'splice' ? [spliceName(end.splice)] : []));
  const segments = (conductor.way?.segments ?? []).map((id) => context.graph.segmentById.get(id)!.segment);
  return {
    circuit: circuit.id,
    key: circuit.key,
    kind: circuit.kind,
    functionIds: circuit.functionIds,
    functions: functionTitles(circuit.functionIds),
    signals: signalsOf(context, conductor),
    routeIds: circuit.routeIds,
    criticality: circuit.criticality,
    role: routes.length === 0 ? null : routes.some(({ backupOf }) => backupOf !== undefined) ? 'backup' : 'primary',
    from: endOf(context, conductor, circuit.from),
    to: endOf(context, conductor, circuit.to),
    insulation: conductor.insulation,
    insulationMaxC: conductor.insulationC,
    size: size.text,
    sizeValue: size.figure,
    sizeUnit: size.family === 'awg' ? 'AWG' : 'mm²',
    sizeBy: conductor.sizeBy,
    sizeReason: conductor.minimum.reason,
    areaMm2: size.areaMm2,
    colour: nameOf(conductor.colourBase, conductor.colourTracer),
    colourBase: conductor.colourBase,
    colourTracer: conductor.colourTracer,
    colourBy: conductor.colourBy,
    cutLengthMm: conductor.cutLengthMm,
    toleranceMm: conductor.cutLengthMm === null ? null : toleranceMm(conductor.cutLengthMm),
    branch: conductor.way?.nodes ?? [],
    coverings: [...new Set(segments.flatMap(({ covering }) => covering ?? []))],
    twistGroup: circuit.twistGroup,
    twistPitchMm: circuit.twistGroup === null ? null : CAN_TWIST.pitchMm,
    shielded: circuit.conductor.shielded,
    splice: splices[0] ?? null,
    fuse: circuit.fuse?.id ?? null,
    fuseA: circuit.fuse?.fuseA ?? null,
    loadA: conductor.currentA,
    loadBy: conductor.currentBy,
    inrushA: circuit.inrushA,
    dropV: conductor.dropV,
    loopDropV: conductor.loopDropV,
    dropLimitV: conductor.limitV,
    ampacityA: conductor.ampacityA,
    conductorC: conductor.temperatureC,
    zoneMaxC: conductor.ambientC,
    zoneBy: conductor.ambientBy,
    conditioning: [
      ...new Set(
        circuit.routeIds.flatMap((id) => fits.get(id) ?? []).flatMap((fit) => fit.conditioning.map(({ what }) => what)),
      ),
    ],
    options: context.optionsOf(circuit.mask),
    pullForceN: pullForceN(size.areaMm2),
    documents: circuit.documents,
    note: circuit.note,
    missing: conductor.missing,
  };
}

/** What the conductor carries, by the names of both platforms. */
function signalsOf({ pairing }: PlanContext, { circuit }: PlannedConductor): string[] {
  const refs = circuit.routeIds.flatMap((id) => {
    const route = pairing.routes.get(id);
    return route ? [...route.from, route.to] : [];
  });
  const wires = [...new Set(refs)].flatMap((ref) => {
    const found = pairing.find(ref);
    return found?.kind === 'wire' ? [`${ref} ${found.wire.title}`] : [];
  });
  if (wires.length > 0) return wires;
  if (circuit.of !== null) return [`${circuit.kind} of ${circuit.of}`];
  return [...new Set(refs)];
}

function endOf(context: PlanContext, conductor: PlannedConductor, end: CircuitEnd): FromToEnd {
  const { circuit, size } = conductor;
  const fitting = fittingAt(context, end, size);
  const isFrom = end === circuit.from;
  return {
    kind: end.kind,
    connector: end.kind === 'cavity' ? end.connector : end.kind === 'part' ? (end.connector ?? end.part) : null,
    cavity: end.kind === 'cavity' ? end.cavity : end.kind === 'part' ? (end.cavity ?? end.terminal) : null,
    place: placeText(end),
    joint: fitting.joint,
    terminal: fitting.terminal,
    seal: fitting.seal,
    view: fitting.view,
    electricalClass: (isFrom ? circuit.fromElectrical : circuit.toElectrical)?.class ?? null,
    stripMm: STRIP_MM.find(({ upToMm2 }) => size.areaMm2 <= upToMm2)!.stripMm,
    label: labelText(circuit, end),
  };
}

/** Tolerance on a cut length in mm. */
export function toleranceMm(cutLength: number): number {
  return Math.max(CUT_TOLERANCE.leastMm, Math.ceil(cutLength * CUT_TOLERANCE.share));
}

/** Least crimp pull force in newtons for the largest gauge of the table that the conductor is not thinner than; null below it. */
export function pullForceN(areaMm2: number): number | null {
  return CRIMP_PULL.rows.find(({ awg }) => awgAreaMm2(awg) <= areaMm2 * 1.04)?.newton ?? null;
}
