import { findFunction, type Route, type Wire } from '../../model/index.ts';
import { electricalFits } from '../electrical/route-fits.ts';
import { placeText, type PlanContext } from './context.ts';
import type { TestDraft } from './test-row.ts';
import type { PlannedConductor } from './planned-conductor.ts';

const TRUTH_SOURCE =
  '49 CFR 571.102 S3.1.3 and 571.114: the starter and the shift lock, in every position of the lever';
const OPEN_SOURCE = '49 CFR 571.124 S5.2: a broken conductor leads to the safe state';

/**
 * The truth table of every interlock function that conductors carry: each state of its source, with what must be seen at its
 * reader; and each of its conductors opened in turn, with the safe state.
 */
export function interlockTests(context: PlanContext): TestDraft[] {
  const byRoute = new Map<string, PlannedConductor[]>();
  for (const conductor of context.conductors) {
    const { criticality, functionIds } = conductor.circuit;
    if (criticality !== 'interlock' && !functionIds.some((id) => PEDAL_TRACKS.has(id))) continue;
    for (const id of conductor.circuit.routeIds) byRoute.set(id, [...(byRoute.get(id) ?? []), conductor]);
  }
  const fits = new Map(electricalFits(context.pairing).map((fit) => [`${fit.routeId} ${fit.from}`, fit]));
  const tested = context.pairing.map.routes.flatMap((route) => {
    const conductors = byRoute.get(route.id) ?? [];
    if (conductors.length === 0) return [];
    const options = context.optionsOf(context.pairing.options.maskOf(route.when));
    const circuits = conductors.map(({ circuit }) => circuit.id);
    const interlock = conductors.some(({ circuit }) => circuit.criticality === 'interlock');
    const rows = (interlock ? route.from : []).flatMap((ref) => {
      const source = context.pairing.find(ref);
      if (source?.kind !== 'wire') return [];
      const level = fits.get(`${route.id} ${ref}`)?.fit.activeLevel ?? null;
      return truthRows(context, route, ref, source.wire, level, circuits, options);
    });
    return [...rows, ...openRows(context, route, conductors, options)];
  });
  return [...tested, ...supplyOpenRows(context)];
}

/** Functions whose conductors are opened one by one although they are no interlock. */
const PEDAL_TRACKS: ReadonlySet<string> = new Set([
  'accelerator-pedal-position-1',
  'accelerator-pedal-position-2',
  'pedal-sensor-supply-returns',
]);

/** Feed and ground of an interface module which an interlock function goes through, each opened in turn. */
function supplyOpenRows(context: PlanContext): TestDraft[] {
  return context.conductors.flatMap(({ circuit }): TestDraft[] => {
    if (circuit.criticality !== 'interlock' || circuit.routeIds.length > 0 || circuit.of === null) return [];
    return [
      {
        kind: 'open-wire',
        points: [placeText(circuit.from), placeText(circuit.to)],
        condition: `${circuit.id} opened at ${placeText(circuit.from)}, everything asked for that goes through ${circuit.of}`,
        expectedValue: null,
        expected: `outputs of ${circuit.of} at their level without firmware; every function through it in its safe state`,
        unit: null,
        lowest: null,
        highest: null,
        instrument: 'in the vehicle, wheels off the ground, starter and motion guarded',
        source: OPEN_SOURCE,
        circuits: [circuit.id],
        options: context.optionsOf(circuit.mask),
      },
    ];
  });
}

function truthRows(
  context: PlanContext,
  route: Route,
  ref: string,
  wire: Wire,
  level: 'high' | 'low' | null,
  circuits: readonly string[],
  options: readonly string[],
): TestDraft[] {
  const functionId = functionOf(context, route);
  const entry = findFunction(functionId ?? undefined);
  const states = statesOf(wire);
  return states.map(({ state, active }) => ({
    kind: 'interlock',
    points: [ref, route.to],
    condition: `${wire.title}: ${state}`,
    expectedValue: null,
    expected:
      active === null
        ? `${route.to} follows: ${state}`
        : `${route.to} ${active ? 'active' : 'at rest'}${level === null ? '' : `, level ${active ? level : level === 'high' ? 'low' : 'high'}`}`,
    unit: null,
    lowest: null,
    highest: null,
    instrument: 'in the vehicle, wheels off the ground, starter and motion guarded',
    source: entry?.sources.find(({ provenance }) => provenance === 'read')?.source ?? TRUTH_SOURCE,
    circuits,
    options,
  }));
}

function statesOf(wire: Wire): { readonly state: string; readonly active: boolean | null }[] {
  const { meaning } = wire;
  if (!meaning)
    return [
      { state: 'active', active: true },
      { state: 'at rest', active: false },
    ];
  if ('active' in meaning)
    return [
      { state: meaning.active, active: true },
      { state: meaning.inactive, active: false },
    ];
  if ('codes' in meaning) return meaning.codes.map(({ state }) => ({ state, active: null }));
  return [];
}

function functionOf({ pairing }: PlanContext, route: Route): string | null {
  if (route.function !== undefined) return route.function;
  const target = pairing.find(route.to);
  return target?.kind === 'wire' ? (target.wire.function ?? null) : null;
}

function openRows(
  context: PlanContext,
  route: Route,
  conductors: readonly PlannedConductor[],
  options: readonly string[],
): TestDraft[] {
  const safe = findFunction(functionOf(context, route) ?? undefined)?.safeState ?? 'the safe state of the function';
  return conductors.map(({ circuit }) => ({
    kind: 'open-wire',
    points: [placeText(circuit.from), placeText(circuit.to)],
    condition: `${circuit.id} opened at ${placeText(circuit.from)}, ${route.id} asked for`,
    expectedValue: null,
    expected: safe,
    unit: null,
    lowest: null,
    highest: null,
    instrument: 'in the vehicle, wheels off the ground, starter and motion guarded',
    source: OPEN_SOURCE,
    circuits: [circuit.id],
    options,
  }));
}
