/**
 * Reader, writer and codec for DBC files (CAN message databases). Depends on nothing outside this folder and nothing but ES2023.
 */
export { readDbc } from './read/read-dbc.ts';
export type { DbcPlace, ReadDbcOptions, ReadDbcResult } from './read/read-dbc.ts';
export { writeDbc } from './write/writer.ts';
export type { WriteDbcOptions } from './write/writer.ts';
export { decodeDbcBytes, encodeDbcText } from './encodings.ts';
export type { DbcEncoding, DecodedText, EncodedText } from './encodings.ts';
export { createDatabase, createMessage, createNode, createSignal } from './create.ts';
export { dbcNumber, exactDecimal } from './numbers.ts';
export type { ExactDecimal } from './numbers.ts';
export { DBC_FAULT_KINDS } from './faults.ts';
export type { DbcFault, DbcFaultCode, DbcFaultSeverity } from './faults.ts';
export { decodeMessage, stateText } from './codec/decode.ts';
export type { DbcDecodedMessage, DbcDecodedSignal } from './codec/decode.ts';
export { encodeMessage } from './codec/encode.ts';
export type { DbcEncodedMessage, DbcEncodingFault, DbcValue } from './codec/encode.ts';
export { bitNumber, bytesNeeded, readField, writeField } from './codec/layout.ts';
export type { BitField, RawHalves } from './codec/layout.ts';
export { isSelectedBy, multiplexingOf } from './codec/multiplexing.ts';
export type { MultiplexProblem, SignalMultiplexing } from './codec/multiplexing.ts';
export { nearestRaw, physicalOf, rawLimits } from './codec/scaling.ts';
export type { DbcPhysical, DbcRaw, ScalingProblem } from './codec/scaling.ts';
export {
  attributeDefinition,
  busName,
  cycleTimeMs,
  isFdMessage,
  rangeOf,
  resolveAttribute,
  sendersOf,
  sendType,
  startValue,
  suspectParameterNumber,
} from './resolved.ts';
export type { ResolvedAttribute, StartValue } from './resolved.ts';
export type * from './model.ts';
