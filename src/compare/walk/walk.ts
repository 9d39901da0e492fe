import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import { comparePairings, type Comparison } from '../compare.ts';
import { changeSteps, type PlacedStep } from './change-steps.ts';
import { compareConcerns, compareText, concernsOf, harmPlace } from './concern.ts';
import { findingSteps, waiverSteps } from './record-steps.ts';
import { routeSteps } from './route-steps.ts';
import { STEP_KINDS, type WalkStep } from './step.ts';

/** Everything a reviewer is led through, worst first. */
export interface ReviewWalk {
  readonly steps: readonly WalkStep[];
  /** The comparison with the base revision; null when there is none to compare with. */
  readonly comparison: Comparison | null;
}

/**
 * The steps of a review in order of harm: every interlock path element by element, every value of a motion function, everything
 * that differs from the base, every waiver, every open stop and fix. What concerns one function stands together. `findings` are
 * those of a run over the same pairing; `base` is an earlier revision, or a comparison with one. The order, the ids and the digests
 * do not depend on the order of anything in the documents.
 */
export function reviewWalk(pairing: Pairing, findings: readonly Finding[], base?: Pairing | Comparison): ReviewWalk {
  const comparison = base === undefined ? null : 'changes' in base ? base : comparePairings(base, pairing);
  const concerns = concernsOf(pairing);
  const bySubject = new Map<string, Finding[]>();
  for (const finding of findings) {
    const list = bySubject.get(finding.subject);
    if (list) list.push(finding);
    else bySubject.set(finding.subject, [finding]);
  }
  const findingsOf = (subjects: readonly string[]): readonly Finding[] =>
    [...new Set(subjects)].flatMap((subject) => bySubject.get(subject) ?? []);
  const placed: readonly PlacedStep[] = [
    ...routeSteps(concerns, findingsOf).map((step) => ({ step, concern: concerns.ofSubject(step.subjects[0]!) })),
    ...(comparison === null ? [] : changeSteps(comparison, concerns, concernsOf(comparison.before))),
    ...findingSteps(concerns, findings),
    ...waiverSteps(concerns, findings),
  ];
  return {
    steps: lifted(placed)
      .sort(compareSteps)
      .map(({ step }) => step),
    comparison,
  };
}

/** What else concerns the function of a stop finding is looked at with it. */
function lifted(placed: readonly PlacedStep[]): PlacedStep[] {
  const keyOf = ({ concern }: PlacedStep): string | null => concern.functionId ?? concern.route;
  const stops = new Set(placed.flatMap((one) => (one.concern.harm === 'stop' ? (keyOf(one) ?? []) : [])));
  return placed.map((one) => {
    const { concern, step } = one;
    if (harmPlace(concern.harm) <= harmPlace('stop') || !stops.has(keyOf(one) ?? '')) return one;
    return { concern: { ...concern, harm: 'stop' }, step: { ...step, harm: 'stop' } };
  });
}

function compareSteps(a: PlacedStep, b: PlacedStep): number {
  return (
    compareConcerns(a.concern, b.concern) ||
    STEP_KINDS.indexOf(a.step.kind) - STEP_KINDS.indexOf(b.step.kind) ||
    Number(isAround(a.step)) - Number(isAround(b.step)) ||
    compareText(a.step.id, b.step.id)
  );
}

/** What is around a route comes after the route itself. */
function isAround({ kind, subjects }: WalkStep): boolean {
  return kind === 'change' && !subjects[0]!.startsWith('route:');
}
