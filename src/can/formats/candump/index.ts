/** Logs in candump's format: reading piece by piece, and writing. */
export {
  type CandumpData,
  type CandumpError,
  type CandumpFault,
  type CandumpFrame,
  type CandumpRemote,
  ERROR_ID_BIT,
  FD_FLAGS,
} from './frame.ts';
export { parseCandumpLine } from './parse.ts';
export {
  type CandumpRead,
  type CandumpReader,
  candumpReader,
  MAX_LINE_CHARACTERS,
  tooLong as candumpLineTooLong,
} from './reader.ts';
export { type CandumpLayout, formatCandumpFrame } from './write.ts';
