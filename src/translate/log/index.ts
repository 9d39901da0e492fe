/** Logs of frames and wire levels: reading piece by piece, merging by time, writing. */
export { BusNamesError, type BusNames, busNames } from './bus-names.ts';
export {
  type LogEvent,
  type LogFault,
  type LoggedFrame,
  type LoggedLevel,
  type LogReader,
  type LogReport,
  MOST_FAULTS,
} from './event.ts';
export { frameLogReader } from './frame-log.ts';
export { type InferredBus, inferBuses } from './infer-buses.ts';
export { logReader } from './log-reader.ts';
export { LogClockError, type LogSource, mergeLogs } from './merge.ts';
export { MOST_GAP_US, REORDER_EVENTS, REORDER_US } from './order.ts';
export { printable } from './printable.ts';
export { type LevelWords, levelText, levelWords, type ReadLevel } from './wire-level.ts';
export { WIRE_LOG_COLUMNS, type WireLogOptions, wireLogReader } from './wire-log.ts';
export { frameLogWriter, WIRE_LOG_HEADER, wireLogWriter } from './write.ts';
