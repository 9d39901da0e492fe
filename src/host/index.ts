export * from './files/atomic-write.ts';
export * from './files/load.ts';
export * from './files/read-file.ts';
export * from './files/unusable-input.ts';
