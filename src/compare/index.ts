export { mergeDocuments, type Conflict, type Merged } from './merge.ts';
export { entriesByKey, keyOfEntry, saysTheSame } from './identity.ts';
