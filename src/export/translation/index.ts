export { translationSpec } from './translation-spec.ts';
export { interfaceDbcs, type InterfaceDbc, type InterfaceDbcOptions } from './interface-dbc.ts';
