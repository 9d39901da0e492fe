/** What every hand-over document carries: stamp, mark, cautions, builds, sign-off, findings, open items. */
export { type SpecIssue, stampOf, markOf, buildParts, fileIdOf } from './issue.ts';
export { type BuildScope, UnknownBuildError, buildScope } from './builds.ts';
export { type CautionPlace, type StandingCaution, CAUTIONS, cautionsAt, cautionText } from './cautions.ts';
export { type OpenItem, type OpenItems, TO_BE_DECIDED, openItems, placesText } from './open-items.ts';
export { openFindings, findingBlocks } from './findings.ts';
export { type Assumption, assumptionsOf, openSection } from './open-section.ts';
export { pairingFacts, recordSection, buildBlocks, cautionTable } from './front.ts';
export { type SubjectRows, gathered } from './gathered.ts';
export * from './words.ts';
