import type { RouteAnalysis } from '../analysis/route-analysis.ts';
import { type BandMemory, type RouteEvaluation, evaluateRoute } from '../evaluate/evaluate.ts';
import type { SourceInput } from '../evaluate/source-end.ts';
import { type Stimulus, stimuliOf } from './stimuli.ts';

/** One worked case of a route: one source is given something worth seeing, the others stand still. */
export interface RouteCase {
  /** Which source is varied. */
  readonly source: number;
  readonly stimulus: Stimulus;
  /** What the sources show while nothing is tried. */
  readonly rest: readonly (SourceInput | null)[];
  /** What every source shows; null: it is lost. */
  readonly inputs: readonly (SourceInput | null)[];
  /** What they show first, where that matters. */
  readonly before: readonly (SourceInput | null)[] | null;
  /** The exact result, once everything is steady. */
  readonly evaluation: RouteEvaluation;
}

/** Most cases of a route: beyond, its tables say the rest. */
export const MOST_CASES = 40;

/**
 * The worked cases of a route, exact: every stimulus of every source in turn. Where there are several sources, the others stand at
 * values for which the varied one matters most. The same source named twice is varied as one. Empty for whole messages.
 */
export function routeCases(analysis: RouteAnalysis): readonly RouteCase[] {
  const { sources, route } = analysis;
  if (sources.length === 0 || sources.some((source) => source === null || source.kind === 'frame')) return [];
  if (sources.some((source) => source?.kind === 'text') && (sources.length > 1 || analysis.target?.kind !== 'text'))
    return [];
  const cases: RouteCase[] = [];
  for (const [source, ref] of route.from.entries()) {
    if (route.from.indexOf(ref) !== source) continue;
    const list = stimuliOf(analysis, source);
    const rest = restingFor(analysis, source, list);
    for (const stimulus of list) {
      if (cases.length >= MOST_CASES) return cases;
      const showing = (input: SourceInput | null): readonly (SourceInput | null)[] =>
        rest.map((resting, at) => (route.from[at] === ref ? input : resting));
      const inputs = showing(stimulus.input);
      const before = stimulus.before === undefined ? null : showing(stimulus.before);
      const memory: BandMemory = new Map();
      if (before !== null) evaluateRoute(analysis, before, memory);
      cases.push({ source, stimulus, rest, inputs, before, evaluation: evaluateRoute(analysis, inputs, memory) });
    }
  }
  return cases;
}

/** What a source shows while another one is varied, unless that hides the other: the middle of a range, the third state. */
export function restingOf(stimuli: readonly Stimulus[]): SourceInput | null {
  return stimuli[2]?.input ?? stimuli.find(({ input }) => input !== null)?.input ?? null;
}

/** For every source what it shows while `varied` is varied: one after another set so that the varied one has the most effects. */
export function restingFor(
  analysis: RouteAnalysis,
  varied: number,
  stimuli: readonly Stimulus[],
): readonly (SourceInput | null)[] {
  const { from } = analysis.route;
  const lists = from.map((_, index) => stimuliOf(analysis, index));
  let rest = lists.map(restingOf);
  const effects = (resting: readonly (SourceInput | null)[]): number => {
    const seen = new Set<string>();
    for (const { input } of stimuli) {
      const { target } = evaluateRoute(
        analysis,
        resting.map((other, at) => (from[at] === from[varied] ? input : other)),
      );
      seen.add(
        `${target.raw ?? ''} ${target.level?.num ?? ''} ${target.value.kind === 'state' ? target.value.label : target.value.kind}`,
      );
    }
    return seen.size;
  };
  let most = from.length > 1 ? effects(rest) : 0;
  for (const [index, list] of lists.entries()) {
    if (from[index] === from[varied]) continue;
    for (const { input } of list) {
      if (input === null) continue;
      const tried = rest.map((other, at) => (from[at] === from[index] ? input : other));
      const count = effects(tried);
      if (count <= most) continue;
      most = count;
      rest = tried;
    }
  }
  return rest;
}
