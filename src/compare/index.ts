export { mergeDocuments, type Conflict, type Merged } from './merge.ts';
export { entriesByKey, keyOfEntry, saysTheSame } from './identity.ts';
export type { Change, ChangeKind } from './change.ts';
export { comparePairings, type Comparison } from './compare.ts';
export { differingFields, type FieldDifference } from './differences.ts';
export * from './walk/index.ts';
