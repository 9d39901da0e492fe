export { mergeDocuments, type Conflict, type Merged } from './merge.ts';
export { entriesByKey, keyOfEntry, saysTheSame } from './identity.ts';
export { comparePairings, type Change, type ChangeKind, type Comparison } from './compare.ts';
export { differingFields, type FieldDifference } from './differences.ts';
