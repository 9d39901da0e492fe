import type { Combination } from '../../model/index.ts';
import type { WireLevel } from '../replay/types.ts';

/**
 * What was wrong. `wrong`: a value that the map does not give. `late`: one it gave longer ago than the worst-case age allows, or a frame
 * after its time. `missing`: what should have come and did not. `extra`: a frame that nobody sends by the map, or one too many.
 * `counter`, `checksum`: of a frame that an interface module sends.
 */
export type MismatchKind = 'wrong' | 'late' | 'missing' | 'extra' | 'counter' | 'checksum';

export interface Mismatch {
  readonly kind: MismatchKind;
  /** When it was seen; for something missing, when it was due. Microseconds on the clock of the log. */
  readonly timeUs: number;
  /** The route concerned; null for a frame as a whole. */
  readonly route: string | null;
  /** `side:Message`, `side:wire`, or bus and frame id where no message is known. */
  readonly subject: string;
  /** What the map says should have been there, in words. */
  readonly expected: string;
  /** What was there. */
  readonly found: string;
  /** How many of the same kind in one stretch this stands for. */
  readonly count: number;
}

/** How a route came out. */
export interface RouteTally {
  readonly route: string;
  readonly by: string | null;
  readonly to: string;
  /** Values of it that were held against the map. */
  readonly judged: number;
  readonly wrong: number;
  readonly late: number;
  /** Changes that should have been seen and were not. */
  readonly missing: number;
  /** Values that could not be judged, by reason. */
  readonly notJudged: ReadonlyMap<string, number>;
}

/** How a message that an interface module sends came out. */
export interface MessageTally {
  readonly message: string;
  readonly by: string;
  readonly bus: string;
  readonly frames: number;
  readonly late: number;
  readonly missing: number;
  readonly extra: number;
  readonly counter: number;
  readonly checksum: number;
}

export interface CaptureReport {
  readonly combination: Combination;
  /** First and last moment of the log; null while it is empty. */
  readonly fromUs: number | null;
  readonly untilUs: number | null;
  readonly frames: { readonly sources: number; readonly sent: number; readonly other: number };
  readonly routes: readonly RouteTally[];
  readonly messages: readonly MessageTally[];
  /** The first of each kind, in order of time; `totals` has all. */
  readonly mismatches: readonly Mismatch[];
  readonly totals: Readonly<Record<MismatchKind, number>>;
  /** Messages and wires that the map sends and of which the log holds nothing, though it should by its length. */
  readonly unheard: readonly string[];
  /** Source messages and wires of which the log holds nothing: their routes could not be judged. */
  readonly unseenSources: readonly string[];
  /** What cannot be run, with the reason. */
  readonly refused: readonly { readonly id: string; readonly why: string }[];
}

export interface CaptureOptions {
  /** The build; the first possible one by default. */
  readonly combination?: Combination;
  /** What the buses may add to the way of a frame, in µs; 5,000 by default. */
  readonly busUs?: number;
  /** Raw steps by which a converted number may be off beyond its exact rounding; 0 by default. */
  readonly steps?: number;
  /** Part of a measured level by which a recorder may be off; 0.01 by default. */
  readonly levelPart?: number;
  /** Mismatches of each kind that are listed; 100 by default. */
  readonly mostListed?: number;
}

/** A recording of all buses and wires, held against the map as it is read. Memory is bounded whatever its length. */
export interface Capture {
  /** Frames in order of time. */
  onFrame(frame: { timeUs: number; bus: string; frameId: number; extended: boolean; data: Uint8Array }): void;
  onWire(wire: string, level: WireLevel, timeUs: number): void;
  /** The state of things; `ended`: nothing more comes, so what is due by now is missing. */
  report(ended?: boolean): CaptureReport;
}
