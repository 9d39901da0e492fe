export { mergeDocuments, type Conflict, type Merged } from './merge.ts';
export { entriesByKey, keyOfEntry, saysTheSame } from './identity.ts';
export type { Change, ChangeKind } from './change.ts';
export { comparePairings, type Comparison } from './compare.ts';
export { differingFields, type FieldDifference } from './differences.ts';
export { diffDocuments } from './diff.ts';
export { platformChanges } from './platform-changes.ts';
export { endWords } from './circuit-changes.ts';
export {
  buildMatrix,
  buildName,
  compareBuilds,
  type BuildComparison,
  type BuildDifference,
  type BuildRow,
} from './builds.ts';
export * from './walk/index.ts';
