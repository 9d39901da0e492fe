export { reviewWalk, type ReviewWalk } from './walk.ts';
export {
  STEP_STATUSES,
  subjectOfStep,
  walkStanding,
  withAnswer,
  type StandingAnswer,
  type StandingStep,
  type StepStatus,
  type WalkStanding,
} from './standing.ts';
export {
  HARMS,
  STEP_KINDS,
  type ElementFailure,
  type FailureStanding,
  type Harm,
  type StepKind,
  type WalkElement,
  type WalkStep,
} from './step.ts';
export { HARM_TITLES, HARM_WORDS } from './concern.ts';
