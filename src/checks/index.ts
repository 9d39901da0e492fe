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
export { createContext, type CheckContext, type EffectiveClass } from './context.ts';
export { newMemory, type PlatformMemory } from './memory.ts';
export { isRegulation, lawAndPractice } from './law.ts';
export { lossForTarget } from './loss-for-target.ts';
export { REDUNDANT_PAIRS, otherHalf } from './pairs.ts';
export { deliveredAge, type DeliveredAge } from './age.ts';
export { segmentOf } from './bus-segments.ts';
export type { BusCase, BusFrame, BusSegment } from './bus-types.ts';
export { RULES, findRule } from './rules/index.ts';
export { COVERAGE, type Coverage } from './coverage.ts';
export { explainRule, mistakesOf, ruleIndexPage, rulePages, type GeneratedFile } from './explain.ts';
export { faultyDocuments } from './faulty.ts';
