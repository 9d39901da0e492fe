export { translationSpec } from './translation-spec.ts';
export { interfaceDbcs, type InterfaceDbc } from './interface-dbc.ts';
