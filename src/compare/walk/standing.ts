import { samePerson } from '../../checks/index.ts';
import type { ReviewAnswer } from '../../model/index.ts';
import type { ReviewWalk } from './walk.ts';
import type { WalkStep } from './step.ts';

/** One person's answer at a step; stale when the facts that it answered have changed since. */
export interface StandingAnswer {
  readonly answer: ReviewAnswer;
  readonly stale: boolean;
}

/** How a step stands: the worst of what is said of it as it is now, `stale` when somebody has to look again, `open` when nobody has. */
export type StepStatus = 'open' | 'stale' | 'objection' | 'question' | 'agreed';
export const STEP_STATUSES: readonly StepStatus[] = ['objection', 'question', 'stale', 'open', 'agreed'];

export interface StandingStep {
  readonly step: WalkStep;
  readonly status: StepStatus;
  /** In the order of the document. */
  readonly answers: readonly StandingAnswer[];
}

export interface WalkStanding {
  readonly steps: readonly StandingStep[];
  readonly counts: Readonly<Record<StepStatus, number>>;
  /** Answers to steps which are not in this walk: what they were about is gone, or another revision was compared with. */
  readonly elsewhere: readonly ReviewAnswer[];
}

/**
 * Joins a walk with the answers of the map. An objection decides over a question, a question over an agreement; a question or
 * objection whose facts have changed keeps its step from being agreed until the same person has looked again.
 */
export function walkStanding(walk: Pick<ReviewWalk, 'steps'>, answers: readonly ReviewAnswer[]): WalkStanding {
  const byStep = new Map<string, ReviewAnswer[]>();
  for (const answer of answers) {
    const list = byStep.get(answer.step);
    if (list) list.push(answer);
    else byStep.set(answer.step, [answer]);
  }
  const known = new Set(walk.steps.map(({ id }) => id));
  const counts: Record<StepStatus, number> = { open: 0, stale: 0, objection: 0, question: 0, agreed: 0 };
  const steps = walk.steps.map((step): StandingStep => {
    const own = (byStep.get(step.id) ?? []).map((answer) => ({ answer, stale: answer.answers !== step.digest }));
    const status = statusOf(own);
    counts[status] += 1;
    return { step, status, answers: own };
  });
  return { steps, counts, elsewhere: answers.filter(({ step }) => !known.has(step)) };
}

function statusOf(answers: readonly StandingAnswer[]): StepStatus {
  if (answers.length === 0) return 'open';
  const current = answers.filter(({ stale }) => !stale);
  for (const verdict of ['objection', 'question'] as const)
    if (current.some(({ answer }) => answer.verdict === verdict)) return verdict;
  const doubts = answers.some(
    ({ answer, stale }) =>
      stale && answer.verdict !== 'agreed' && !current.some((other) => samePerson(other.answer.by, answer.by)),
  );
  return doubts || current.length === 0 ? 'stale' : 'agreed';
}

/** The answers with one more: a person's answer at a step takes the place of the one they gave before. */
export function withAnswer(answers: readonly ReviewAnswer[], given: ReviewAnswer): readonly ReviewAnswer[] {
  const at = answers.findIndex(({ step, by }) => step === given.step && samePerson(by, given.by));
  return at < 0 ? [...answers, given] : answers.map((answer, index) => (index === at ? given : answer));
}

/** What a step is about, read from its id: `route:id`, `transmit:side:Message`, `side:Message.Signal`, … */
export function subjectOfStep(id: string): string {
  const colon = id.indexOf(':');
  const [kind, rest] = [id.slice(0, colon), id.slice(colon + 1)];
  return kind === 'finding' || kind === 'waiver' ? rest.slice(rest.indexOf(' ') + 1) : rest;
}
