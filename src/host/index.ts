export * from './files/atomic-write.ts';
export * from './files/load.ts';
export * from './files/read-file.ts';
export * from './files/unusable-input.ts';
export * from './files/confine.ts';
export * from './interface/contract.ts';
export * from './loopback/server.ts';
export * from './service/host-service.ts';
