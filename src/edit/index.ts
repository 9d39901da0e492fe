export * from './history.ts';
export { propose, unmetMask, type NeedProposals, type Proposal } from './propose/propose.ts';
export { draftRoute, stepsBetween, type Draft } from './propose/draft.ts';
export { acceptBest, type Acceptance, type Accepted } from './propose/accept.ts';
export type { RankedOffer, Reason } from './propose/rank.ts';
export { mapStates } from './propose/state-map.ts';
