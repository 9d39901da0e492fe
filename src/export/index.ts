/** Documents for hand-over: the neutral document model and the writers that print it. */
export * from './document/index.ts';
export * from './writers/index.ts';
export * from './specs.ts';
export * from './firmware/index.ts';
export * from './translation/index.ts';
export * from './wiring/index.ts';
export * from './comparison/index.ts';
export * from './review/index.ts';
export { buildScope, UnknownBuildError, type SpecIssue } from './record/index.ts';
export { vectorsDocument, type LogName } from './vectors/vectors-document.ts';
