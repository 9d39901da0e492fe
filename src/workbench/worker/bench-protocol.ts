import type { CrossloomMap, Platform } from '../../model/index.ts';
import type { CaptureReport, InferredBus } from '../../translate/index.ts';
import type { FramePlace } from '../places/bench/recording/frame-log.ts';
import type { RouteAt } from '../places/bench/recording/at-cursor.ts';
import type { Span } from '../places/bench/recording/columns.ts';
import type { LaneHead, LanePoints } from '../places/bench/recording/lane.ts';
import type { StimulusPlan } from '../places/bench/recording/stimulus.ts';

/** The documents a replay runs on, and the build of their options. */
export interface BenchDocuments {
  readonly map: CrossloomMap;
  readonly host: Platform;
  readonly donor: Platform;
  readonly build: number;
}

/** A log to be replayed: a file the page holds, or (null) one whose parts the page fetches when asked. */
export interface LogPart {
  readonly name: string;
  readonly bytes: number;
  readonly file: Blob | null;
}

/** Frames to step through: all, or those that some routes read or write. */
export type StepScope = 'all' | readonly string[];

/** What the page asks of the replaying thread. */
export type BenchRequest =
  | {
      readonly kind: 'replay';
      readonly documents: BenchDocuments;
      readonly logs: readonly LogPart[];
      /** Interface names of the log, as `can0=host:chassis-can`. */
      readonly buses: readonly string[];
      /** The logs are a capture of all buses, to be held against the map. */
      readonly compare: boolean;
    }
  | { readonly kind: 'stimulate'; readonly documents: BenchDocuments; readonly plan: StimulusPlan }
  /** A part of a log that was asked for; empty: its end. */
  | { readonly kind: 'part'; readonly log: number; readonly bytes: Uint8Array<ArrayBuffer> }
  | { readonly kind: 'part-failed'; readonly log: number; readonly message: string }
  /** Ends the replay under way; what it has recorded stays. */
  | { readonly kind: 'stop' }
  | { readonly kind: 'lanes'; readonly token: number; readonly routes: readonly string[]; readonly span: Span }
  | {
      readonly kind: 'moment';
      readonly token: number;
      readonly timeUs: number;
      readonly at: FramePlace | null;
      readonly scope: StepScope;
    }
  | {
      readonly kind: 'step';
      readonly token: number;
      readonly timeUs: number;
      readonly at: FramePlace | null;
      readonly step: 1 | -1;
      readonly scope: StepScope;
    }
  /** The next moment at which one of these routes goes into loss or out of it, or begins or ends to be clipped. */
  | {
      readonly kind: 'turn';
      readonly token: number;
      readonly timeUs: number;
      readonly step: 1 | -1;
      readonly routes: readonly string[];
    };

/** What was replayed. */
export interface BenchSummary {
  readonly startUs: number;
  readonly endUs: number;
  readonly framesIn: number;
  readonly framesOut: number;
  readonly framesUnread: number;
  readonly levelsIn: number;
  readonly elapsedMs: number;
  /** Why it ends before the log does; null: it does not. */
  readonly cutShort: 'stopped' | 'full' | null;
  /** Lines of each log that were left out. */
  readonly logs: readonly LogNotes[];
  /** Interfaces of the logs whose bus was inferred from their frame ids. */
  readonly inferred: readonly InferredBus[];
  /** The logs held against the map as a capture; null: not asked for. */
  readonly capture: CaptureReport | null;
  readonly refused: readonly { readonly what: 'route' | 'transmit'; readonly id: string; readonly why: string }[];
}

export interface LogNotes {
  readonly name: string;
  readonly frames: number;
  readonly levels: number;
  readonly bad: number;
  readonly faults: readonly string[];
  /** Interface names that stand for no bus, with their frames. */
  readonly unmapped: readonly (readonly [name: string, frames: number])[];
}

/** A frame at the cursor. */
export interface FrameAt {
  readonly place: FramePlace;
  readonly timeUs: number;
  readonly ref: string;
  readonly bus: string;
  /** Interface module that sent it; null: it was received. */
  readonly by: string | null;
  readonly frameId: string;
  readonly hex: string;
}

export interface Moment {
  readonly timeUs: number;
  readonly frame: FrameAt | null;
  readonly routes: readonly RouteAt[];
}

export type BenchAnswer =
  | { readonly kind: 'progress'; readonly fraction: number; readonly timeUs: number }
  | { readonly kind: 'wants'; readonly log: number; readonly from: number }
  | { readonly kind: 'recorded'; readonly summary: BenchSummary }
  | { readonly kind: 'failed'; readonly message: string }
  | {
      readonly kind: 'lanes';
      readonly token: number;
      readonly span: Span;
      readonly heads: readonly LaneHead[];
      readonly points: readonly LanePoints[];
    }
  | { readonly kind: 'moment'; readonly token: number; readonly moment: Moment };
