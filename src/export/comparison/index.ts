/** Documents about differences: two revisions of a pairing, the builds of one map. */
export { comparisonDocument } from './comparison-document.ts';
export { buildComparisonDocument, buildMatrixDocument } from './builds-document.ts';
