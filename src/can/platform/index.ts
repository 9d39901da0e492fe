export * from './frame-signals.ts';
export * from './from-dbc.ts';
export * from './merge-import.ts';
export * from './to-dbc.ts';
