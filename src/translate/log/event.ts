import type { ReplayFrame, WireLevel } from '../replay/types.ts';

/** A frame of a log, on the bus its interface stands for. */
export interface LoggedFrame extends ReplayFrame {
  readonly kind: 'frame';
  readonly fd: boolean;
  /** Line of its file, from 1. */
  readonly line: number;
}

/** A level of a wire in a log. */
export interface LoggedLevel {
  readonly kind: 'wire';
  readonly timeUs: number;
  /** `side:wire-id`. */
  readonly wire: string;
  readonly level: WireLevel;
  readonly line: number;
}

export type LogEvent = LoggedFrame | LoggedLevel;

/** A line that was left out, and why. Lines and columns count from 1. */
export interface LogFault {
  readonly line: number;
  readonly column: number;
  readonly problem: string;
}

/** Faults kept with their words; further ones are only counted. */
export const MOST_FAULTS = 100;

/** Interface names counted apart while they stand for no bus; the frames of further ones are counted together. */
export const MOST_UNMAPPED = 32;

/** What was in a log so far. */
export interface LogReport {
  readonly lines: number;
  /** Frames and levels read, whether given already or still waiting for their turn. */
  readonly frames: number;
  readonly levels: number;
  /** Remote frames: they carry no data, and no route reads them. */
  readonly remote: number;
  /** Reports of the CAN controller, which are no frames. */
  readonly errors: number;
  /** Lines left out, of which the first `MOST_FAULTS` are in `faults`. */
  readonly bad: number;
  readonly faults: readonly LogFault[];
  /** Frames of interfaces that stand for no bus, by interface name. */
  readonly unmapped: ReadonlyMap<string, number>;
  /** Time of the first and the last event; null while there is none. */
  readonly firstUs: number | null;
  readonly lastUs: number | null;
}

/** Reads one log piece by piece, in bounded memory. */
export interface LogReader {
  /** The next piece of the text, cut anywhere; gives the events that are certain to come next, in order of time. */
  push(chunk: string | Uint8Array): readonly LogEvent[];
  /** The events still waiting. The reader must not be used afterwards. */
  end(): readonly LogEvent[];
  /** A live view: it changes as more is read. */
  readonly report: LogReport;
}
