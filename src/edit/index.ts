export * from './history.ts';
