import {
  HARMS,
  HARM_TITLES,
  HARM_WORDS,
  type Harm,
  type StandingStep,
  type StepKind,
  type StepStatus,
} from '../../../compare/index.ts';

export const VIEWS = [
  ['walk', 'Walk'],
  ['compare', 'Compare'],
  ['text', 'Text'],
  ['builds', 'Builds'],
  ['sign-off', 'Sign-off'],
] as const;
export type ReviewView = (typeof VIEWS)[number][0];

/** What of the walk the list shows. */
export type Shows = 'all' | 'to-do' | 'doubts';

/** What the place remembers while the window lives. */
export interface ReviewMemory {
  readonly view: ReviewView;
  readonly shows: Shows;
  readonly kind: StepKind | '';
  readonly text: string;
  readonly current: string | null;
  /** The change, finding or waiver that is current under Compare. */
  readonly compared: string | null;
  readonly onlyDifferent: boolean;
}

export const FIRST_MEMORY: ReviewMemory = {
  view: 'walk',
  shows: 'all',
  kind: '',
  text: '',
  current: null,
  compared: null,
  onlyDifferent: true,
};

export const KIND_WORDS: Readonly<Record<StepKind, string>> = {
  'interlock-path': 'path',
  'motion-value': 'value',
  change: 'change',
  finding: 'finding',
  waiver: 'waiver',
};

export const STATUS_WORDS: Readonly<Record<StepStatus, string>> = {
  objection: 'objection',
  question: 'question',
  stale: 'stale',
  open: 'open',
  agreed: 'agreed',
};

/** Whether somebody has to look at a step. */
export function isToDo({ status }: StandingStep): boolean {
  return status === 'open' || status === 'stale';
}

/** The steps that pass the filters. */
export function filterSteps(
  steps: readonly StandingStep[],
  { shows, kind, text }: Pick<ReviewMemory, 'shows' | 'kind' | 'text'>,
): readonly StandingStep[] {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  return steps.filter((standing) => {
    const { step, status } = standing;
    if (shows === 'to-do' && !isToDo(standing)) return false;
    if (shows === 'doubts' && status !== 'objection' && status !== 'question') return false;
    if (kind !== '' && step.kind !== kind) return false;
    if (words.length === 0) return true;
    const searched =
      `${step.title} ${step.id} ${step.subjects.join(' ')} ${step.findings.map(({ rule }) => rule).join(' ')}`.toLowerCase();
    return words.every((word) => searched.includes(word));
  });
}

export interface HarmBlock {
  readonly harm: Harm;
  readonly title: string;
  readonly words: string;
  readonly steps: readonly StandingStep[];
  /** How many of them nobody has answered as they are now. */
  readonly toDo: number;
}

/** The steps by harm, worst first; a harm without steps has no block. */
export function harmBlocks(steps: readonly StandingStep[]): readonly HarmBlock[] {
  return HARMS.flatMap((harm) => {
    const own = steps.filter(({ step }) => step.harm === harm);
    return own.length === 0
      ? []
      : [{ harm, title: HARM_TITLES[harm], words: HARM_WORDS[harm], steps: own, toDo: own.filter(isToDo).length }];
  });
}

/** The step to show as current: the one remembered, else the first to do, else the first. */
export function currentStep(steps: readonly StandingStep[], id: string | null): StandingStep | null {
  return steps.find(({ step }) => step.id === id) ?? steps.find(isToDo) ?? steps[0] ?? null;
}

/** The next step after `id` that somebody has to look at, round the end to the beginning; null when there is none. */
export function nextToDo(steps: readonly StandingStep[], id: string | null): StandingStep | null {
  const at = steps.findIndex(({ step }) => step.id === id);
  const order = [...steps.slice(at + 1), ...steps.slice(0, Math.max(at, 0))];
  return order.find(isToDo) ?? null;
}
