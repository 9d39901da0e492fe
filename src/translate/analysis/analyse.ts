import type { Pairing, Route, Step } from '../../model/index.ts';
import { domainOfEndpoint } from '../domain/endpoint-domain.ts';
import type { ValueDomain } from '../domain/value-domain.ts';
import { deliver } from './deliver.ts';
import type { Effect } from './effect.ts';
import type { StageFault, UnitFault } from './faults.ts';
import type { Report } from './report.ts';
import { note } from './report.ts';
import type { RouteAnalysis, Stage } from './route-analysis.ts';
import { combine, noSource } from './step-combine.ts';
import { cutsOf, runStep } from './run-step.ts';
import { type Track, trackOfSource } from './track.ts';

/**
 * What a route does to every value its sources can have: units, intervals, resolution, states and special raw values carried
 * exactly through its steps and into its target. Pure; nothing is thrown for a faulty map, every fault is in the result.
 *
 * Steps before the combining one apply to every source, or to the one that `of` names; the combining step makes one value of
 * all; later steps apply to that. Without steps a route copies, which takes equal units, or states of equal names.
 */
export function analyseRoute(pairing: Pairing, route: Route): RouteAnalysis {
  const report: Report = { faults: [], unitFaults: [] };
  const sources = route.from.map((ref) => domainOfRef(pairing, ref, report));
  const target = domainOfRef(pairing, route.to, report);
  if (sources.length === 0) {
    note(report, { kind: 'no-sources', at: null, message: 'the route has no source: name at least one in "from"' });
  }
  let tracks: readonly Track[] = sources.map(trackOfSource);
  const stages: Stage[] = [];
  const idle: number[] = [];
  const steps = route.steps ?? [];
  let combined = false;
  steps.forEach((step, index) => {
    const firstFault = report.faults.length;
    const input = tracks.map(({ domain }) => domain);
    const run = runOn(step, index, tracks, target, combined, report);
    combined ||= run.combined;
    if (run.idle) idle.push(index);
    const [cutLow, cutHigh] = cutsOf(step, run.effects, input);
    tracks = run.tracks;
    stages.push({
      index,
      step,
      input,
      output: tracks.map(({ domain }) => domain),
      effects: run.effects,
      cutLow,
      cutHigh,
      faults: report.faults.slice(firstFault),
    });
  });
  if (tracks.length > 1) {
    note(report, {
      kind: 'not-combined',
      at: null,
      count: tracks.length,
      message: `${tracks.length} sources reach the target and no step combines them; add a combining step such as first-valid`,
    });
  }
  const last = tracks.length === 1 ? tracks[0]! : null;
  const delivery = deliver({ pairing, route, sources, stages, last, target, report });
  return {
    pairing,
    route,
    sources,
    stages,
    target,
    unitFaults: inOrder(report.unitFaults),
    faults: inOrder(report.faults),
    stepsThatNeverAct: idle,
    ...delivery,
  };
}

function domainOfRef(pairing: Pairing, ref: string, report: Report): ValueDomain | null {
  const endpoint = pairing.find(ref);
  if (endpoint !== null) return domainOfEndpoint(endpoint);
  note(report, {
    kind: 'reference-unknown',
    at: null,
    ref,
    message: `"${ref}" names no signal, wire or message of the platforms; correct the reference`,
  });
  return null;
}

/** Stable order: by place, the delivery last. */
function inOrder<F extends StageFault | UnitFault>(faults: readonly F[]): readonly F[] {
  return faults.length < 2 ? faults : faults.toSorted((a, b) => (a.at ?? Infinity) - (b.at ?? Infinity) || 0);
}

interface Run {
  readonly tracks: readonly Track[];
  readonly effects: readonly (Effect | null)[];
  readonly combined: boolean;
  readonly idle: boolean;
}

function runOn(
  step: Step,
  at: number,
  tracks: readonly Track[],
  target: ValueDomain | null,
  combined: boolean,
  report: Report,
): Run {
  switch (step.do) {
    case 'all-of':
    case 'any-of':
    case 'highest':
    case 'lowest':
    case 'sum':
    case 'difference':
    case 'first-valid':
    case 'choose-by': {
      if (tracks.length === 0) return { tracks, effects: [], combined, idle: false };
      if (combined) {
        note(report, {
          kind: 'already-combined',
          at,
          message: `${step.do} finds one value only: an earlier step has combined the sources; remove one of the two`,
        });
      }
      const result = combine(step, at, tracks, target, report);
      return { tracks: [result.track], effects: [result.effect], combined: true, idle: result.idle };
    }
    default: {
      if (step.of !== undefined && (combined || tracks[step.of] === undefined)) {
        note(report, {
          kind: 'source-index',
          at,
          index: step.of,
          message: combined
            ? `"of" has no meaning after the combining step: one value is left; remove it`
            : noSource(step.of, tracks.length),
        });
        return { tracks, effects: tracks.map(() => null), combined, idle: false };
      }
      let idle = tracks.length > 0;
      const runs = tracks.map((track, source) => {
        if (step.of !== undefined && step.of !== source) return { track, effect: null };
        const run = runStep(step, at, track, target, report);
        idle &&= run.idle;
        return run;
      });
      return {
        tracks: runs.map(({ track }) => track),
        effects: runs.map(({ effect }) => effect),
        combined,
        idle,
      };
    }
  }
}
