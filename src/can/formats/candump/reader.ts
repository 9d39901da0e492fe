import type { CandumpFault, CandumpFrame } from './frame.ts';
import { linesOf } from '../lines.ts';
import { parseCandumpLine } from './parse.ts';

/** Longest line read; the longest a 64-byte frame needs is about 280 characters. */
export const MAX_LINE_CHARACTERS = 1024;

/** What came out of one piece of a log, each list in the order of the lines. */
export interface CandumpRead {
  readonly frames: readonly CandumpFrame[];
  readonly faults: readonly CandumpFault[];
}

interface Gathered {
  readonly frames: CandumpFrame[];
  readonly faults: CandumpFault[];
}

/** Reads a log piece by piece in bounded memory: what it holds between two calls is at most one unfinished line. */
export interface CandumpReader {
  /** The next piece of the log; lines may be cut anywhere, also inside a character. */
  push(chunk: string | Uint8Array): CandumpRead;
  /** The last line, when the log does not end with a line break. The reader must not be used afterwards. */
  end(): CandumpRead;
  /** Lines finished so far. */
  readonly lines: number;
}

/** A reader for one log. Line ends are LF or CRLF; a line that is too long is one fault and is skipped to its end. */
export function candumpReader(): CandumpReader {
  let read: Gathered = { frames: [], faults: [] };
  const lines = linesOf(
    MAX_LINE_CHARACTERS,
    (text, number) => {
      const line = parseCandumpLine(text, number);
      if (line === null) return;
      if (line.kind === 'fault') read.faults.push(line);
      else read.frames.push(line);
    },
    (number) => read.faults.push(tooLong(number)),
  );
  const given = (): CandumpRead => {
    const now = read;
    read = { frames: [], faults: [] };
    return now;
  };
  return {
    get lines() {
      return lines.count;
    },
    push(chunk) {
      lines.push(chunk);
      return given();
    },
    end() {
      lines.end();
      return given();
    },
  };
}

/** The fault of a line that was skipped for its length. */
export function tooLong(line: number): CandumpFault {
  return {
    kind: 'fault',
    line,
    column: MAX_LINE_CHARACTERS + 1,
    problem: `the line is longer than ${MAX_LINE_CHARACTERS} characters and was skipped: no frame needs so many`,
  };
}
