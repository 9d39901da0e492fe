import type { Finding, NamedValue } from '../../checks/index.ts';
import type { PathElementKind, PathRole, Waiver } from '../../model/index.ts';
import type { Change } from '../change.ts';

/** What a step of the review walk puts in front of the reviewer. */
export const STEP_KINDS = ['interlock-path', 'motion-value', 'change', 'finding', 'waiver'] as const;
export type StepKind = (typeof STEP_KINDS)[number];

/**
 * How bad it is when what the step shows is wrong, worst first: the class of the function concerned; `stop` for a stop finding
 * about a milder function; `other` where no function is concerned.
 */
export const HARMS = ['interlock', 'motion-control', 'stop', 'regulated-display', 'comfort', 'other'] as const;
export type Harm = (typeof HARMS)[number];

/** Against the safe state of the function: `safe` and `against` only where catalogue and documents decide it. */
export type FailureStanding = 'safe' | 'against' | 'undecided';

/** One way in which an element fails, and what the reader then has. */
export interface ElementFailure {
  /** `opens`, `shorted to ground`, `stops`, … */
  readonly how: string;
  /** What the reader then has, as data: a state, a level, a substitute; '' where the documents do not tell. */
  readonly reads: string;
  /** What follows, as a sentence. */
  readonly effect: string;
  readonly standing: FailureStanding;
}

/** One element of the way from the sources to the readers, in the order of the way. */
export interface WalkElement {
  readonly kind: PathElementKind;
  readonly ref: string;
  readonly title: string;
  readonly role: PathRole;
  readonly programmable: boolean;
  /** What it does for the path. */
  readonly why: string;
  /** Cavities, for a connector; '' otherwise. */
  readonly place: string;
  /** The sources it carries, when it does not carry all of the route's. */
  readonly sources: readonly string[];
  readonly failures: readonly ElementFailure[];
}

/** One thing to look at. Nothing is answered before a person has answered it. */
export interface WalkStep {
  /** Stable: it does not depend on the order of anything, nor on the facts. */
  readonly id: string;
  readonly kind: StepKind;
  readonly harm: Harm;
  /** The function concerned; null when there is none. */
  readonly functionId: string | null;
  readonly title: string;
  /** Sentences to read first; the facts are in the rows. */
  readonly says: readonly string[];
  readonly facts: readonly NamedValue[];
  /** Of an interlock path; empty otherwise. */
  readonly elements: readonly WalkElement[];
  readonly changes: readonly Change[];
  /** The findings which the step is about, or which concern the same subjects. */
  readonly findings: readonly Finding[];
  readonly waiver: Waiver | null;
  /** Subjects concerned (`route:id`, `transmit:side:Message`, …); the first is where to go. */
  readonly subjects: readonly string[];
  /** SHA-256 over the facts: what an answer answers. */
  readonly digest: string;
}

/** A step before its facts are digested. */
export type StepDraft = Omit<WalkStep, 'digest'> & {
  /** Facts beyond the rows and elements, as data. */
  readonly more?: unknown;
};
