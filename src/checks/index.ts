export type {
  Draft,
  Example,
  Finding,
  Mend,
  NamedValue,
  Rule,
  RuleSource,
  Scope,
  Severity,
  Subjects,
  Waived,
} from './rule.ts';
export { SEVERITIES } from './rule.ts';
export { check, recheck, type CheckOptions, type Run } from './run.ts';
export { compareFindings, countFindings, findingDigest, samePerson, type FindingCounts } from './finding.ts';
export { standingOfWaivers, type WaiverStanding } from './waive.ts';
export { createContext, newMemory, type CheckContext, type EffectiveClass } from './context.ts';
export { RULES, findRule } from './rules/index.ts';
export { deliveredAge, keptInSteps, type DeliveredAge } from './age.ts';
