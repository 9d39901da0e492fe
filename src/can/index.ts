/** CAN: bit fields, raw and physical values, frames on the wire, protection, response times, log formats. */
export {
  type BitField,
  type ByteOrder,
  type FieldPart,
  fieldFault,
  fitsIn,
  MAX_FIELD_BITS,
  MAX_PAYLOAD_BYTES,
  neededBytes,
  partsOf,
} from './bits/field.ts';
export {
  fieldFromLeastSignificantBit,
  fromSequential,
  leastSignificantBit,
  mostSignificantBit,
  toSequential,
} from './bits/numbering.ts';
export { occupiedBits, overlap, type Overlap, overlappingPairs, unusedBits } from './bits/occupied.ts';
export { extractRaw } from './bits/extract.ts';
export { insertRaw } from './bits/insert.ts';
export {
  type FloatKind,
  type IntegerKind,
  isFloatKind,
  type NumberKind,
  numberKindFault,
  toSigned,
} from './bits/number-kind.ts';
export { type CompiledField, compileField } from './bits/compile.ts';
export { rationalOfDouble } from './value/double.ts';
export { MAX_FLOAT32, physicalRange, type RawRange, rawRange } from './value/range.ts';
export { physicalOf } from './value/physical.ts';
export { type Clipped, floatRawOf, rawOf, type RawResult } from './value/raw.ts';
export {
  dlcOf,
  FD_LENGTHS,
  type FrameFormat,
  frameLengthFor,
  type IdFormat,
  lengthOfDlc,
  MAX_FRAME_ID,
} from './frame/dlc.ts';
export { type FrameBits, type FrameShape, plainFrameBits, worstCaseFrameBits } from './frame/length.ts';
export { type ExactFrameBits, exactFrameBits, type FrameContent } from './frame/exact.ts';
export { CRC15, CRC17, CRC21, type FrameCrc, frameCrcOf } from './frame/crc.ts';
export { type BitRates, bitTimeNs, frameTimeNs } from './frame/time.ts';
export { type ArbitrationField, arbitrationRank, compareArbitration } from './frame/arbitration.ts';
export { type CrcCode, crcOf } from './protection/crc-code.ts';
export {
  CHECKSUM_ALGORITHMS,
  type ChecksumAlgorithm,
  checksumOf,
  checksumWidth,
  type CrcAlgorithm,
  crcCodeOf,
  type SumAlgorithm,
} from './protection/algorithms.ts';
export {
  applyChecksum,
  computeChecksum,
  type DataIdBytes,
  protectionFaults,
  type ProtectionSpec,
  verifyChecksum,
} from './protection/checksum.ts';
export {
  counterFault,
  type CounterSpec,
  type CounterVerdict,
  firstCount,
  judgeCount,
  nextCount,
} from './protection/counter.ts';
export {
  type AnalysisOptions,
  type ResponseTime,
  responseBounds,
  responseTimes,
  type ScheduledMessage,
} from './response-time/analyse.ts';
export {
  analyseBus,
  type BusLoad,
  busLoad,
  type BusMessage,
  type BusTiming,
  type MessageTiming,
} from './response-time/bus.ts';
export { type J1939Id, readJ1939Id, writeJ1939Id } from './j1939/id.ts';
export { type J1939Range, j1939RangeOf } from './j1939/indicator.ts';
export type { DecodedSignal, FrameSignal, SignalFault, SignalValue } from './message/signal.ts';
export { type CompiledMessage, compileMessage } from './message/compile.ts';
export type { EncodedMessage, EncodedSignal } from './message/encode.ts';
export { type Lines, linesOf } from './formats/lines.ts';
export * from './formats/candump/index.ts';
export * from './platform/index.ts';
export { readDbc, writeDbc, type DbcDatabase, type DbcFault, type ReadDbcResult } from './formats/dbc/index.ts';
