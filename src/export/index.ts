/** Documents for hand-over: the neutral document model and the writers that print it. */
export * from './document/index.ts';
export * from './writers/index.ts';
export * from './translation/interface-dbc.ts';
