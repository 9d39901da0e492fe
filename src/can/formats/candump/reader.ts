import type { CandumpFault, CandumpFrame } from './frame.ts';
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
  const decoder = new TextDecoder('utf-8');
  let rest = '';
  let skipping = false;
  let lines = 0;

  const take = (line: string, into: Gathered): void => {
    lines += 1;
    if (skipping) {
      skipping = false;
      return;
    }
    if (line.length > MAX_LINE_CHARACTERS) {
      into.faults.push(tooLong(lines));
      return;
    }
    const read = parseCandumpLine(line, lines);
    if (read === null) return;
    if (read.kind === 'fault') into.faults.push(read);
    else into.frames.push(read);
  };

  return {
    get lines() {
      return lines;
    },
    push(chunk) {
      const read: Gathered = { frames: [], faults: [] };
      const text = rest + (typeof chunk === 'string' ? chunk : decoder.decode(chunk, { stream: true }));
      let from = 0;
      for (let to = text.indexOf('\n'); to >= 0; to = text.indexOf('\n', from)) {
        take(text.slice(from, to), read);
        from = to + 1;
      }
      rest = text.slice(from);
      if (rest.length > MAX_LINE_CHARACTERS) {
        if (!skipping) read.faults.push(tooLong(lines + 1));
        skipping = true;
        rest = '';
      }
      return read;
    },
    end() {
      const read: Gathered = { frames: [], faults: [] };
      rest += decoder.decode();
      if (rest !== '') take(rest, read);
      rest = '';
      return read;
    },
  };
}

function tooLong(line: number): CandumpFault {
  return {
    kind: 'fault',
    line,
    column: MAX_LINE_CHARACTERS + 1,
    problem: `the line is longer than ${MAX_LINE_CHARACTERS} characters and was skipped: no frame needs so many`,
  };
}
