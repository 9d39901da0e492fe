import { type BandMemory, type RouteEvaluation, evaluateRoute } from '../evaluate/evaluate.ts';
import type { PlannedRoute } from '../plan/types.ts';
import type { Inputs } from './source-message.ts';
import { type Given, type Written, givenBy, lossWritten } from './written.ts';

/** A route of the message or wire under test, followed from one steady state to the next. */
export interface RouteState {
  readonly planned: PlannedRoute;
  readonly given: Given;
  readonly evaluation: RouteEvaluation | null;
  /** What it wrote when it last had a value. */
  readonly held: Written | null;
  readonly memory: BandMemory;
}

export function startState(planned: PlannedRoute): RouteState {
  return { planned, given: { kind: 'none', why: 'lost' }, evaluation: null, held: null, memory: new Map() };
}

/** The next steady state: every source shows its input; those that `lost` names are lost to the routes that have a stale limit. */
export function nextState(
  { planned, held, memory }: RouteState,
  inputs: Inputs,
  lost: (ref: string, planned: PlannedRoute) => boolean,
): RouteState {
  const { analysis } = planned.compiled;
  const [source] = analysis.sources;
  if (source?.kind === 'text') {
    const input = inputs.get(planned.route.from[0]!);
    const given: Given =
      input?.kind !== 'raw' || lost(planned.route.from[0]!, planned)
        ? { kind: 'none', why: 'lost' }
        : { kind: 'value', written: { kind: 'raw', lo: BigInt(input.raw), hi: BigInt(input.raw), value: null } };
    return { planned, given, evaluation: null, held: given.kind === 'value' ? given.written : held, memory };
  }
  const evaluation = evaluateRoute(
    analysis,
    planned.route.from.map((ref) => (lost(ref, planned) ? null : (inputs.get(ref) ?? null))),
    memory,
  );
  const given = givenBy(planned, evaluation);
  return { planned, given, evaluation, held: given.kind === 'value' ? given.written : held, memory };
}

/**
 * What stands in a field written by these routes, a route before its backups: the first that has a value, else what the first one does
 * without. Null: a hold with nothing to hold yet, which depends on what was before.
 */
export function fieldWritten(
  states: readonly RouteState[],
  holdOver: (planned: PlannedRoute) => boolean,
): Written | null {
  const first = states[0];
  if (first === undefined) return null;
  const chosen = states.find(({ given }) => given.kind === 'value') ?? first;
  if (chosen.given.kind === 'value') return chosen.given.written;
  const { loss } = first.planned.compiled;
  const special =
    chosen.given.why === 'not-available' ? loss.notAvailable : chosen.given.why === 'error' ? loss.error : null;
  if (special !== null) return { kind: 'raw', lo: special, hi: special, value: null };
  return lossWritten(first.planned, loss.onLoss, first.held, holdOver(first.planned));
}
