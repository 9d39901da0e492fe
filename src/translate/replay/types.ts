import type { Combination } from '../../model/index.ts';
import type { MakeFunction } from './lane-code.ts';
import type { ModulePlan, Refused } from '../plan/types.ts';

/** A frame seen on a bus. Times are whole microseconds on any clock that does not run backwards. */
export interface ReplayFrame {
  readonly timeUs: number;
  /** `side:bus`. */
  readonly bus: string;
  readonly frameId: number;
  readonly extended: boolean;
  readonly data: Uint8Array;
}

/** A level on a wire, in or out. */
export type WireLevel =
  | { readonly kind: 'switched'; readonly active: boolean }
  /** Thousandths of the wire's quantity: mV, mOhm, thousandths of a percent, mHz, µs; a whole number of at most 31 bits. */
  | { readonly kind: 'measured'; readonly thousandths: number }
  /** Out only: the output is not driven. */
  | { readonly kind: 'open' };

export interface SentFrame extends ReplayFrame {
  readonly kind: 'frame';
  /** Id of the interface module. */
  readonly by: string;
  /** `side:Message`. */
  readonly message: string;
  readonly fd: boolean;
}

export interface SentLevel {
  readonly kind: 'wire';
  readonly timeUs: number;
  /** Id of the interface module; null for a conductor from end to end. */
  readonly by: string | null;
  /** `side:wire-id`. */
  readonly wire: string;
  readonly level: WireLevel;
}

export type ReplayOutput = SentFrame | SentLevel;

/** What a route gave when it was worked out. */
export interface RouteSample {
  readonly route: string;
  readonly timeUs: number;
  /** Raw value written; null: nothing, the message is not sent or the wire is open. */
  readonly raw: number | bigint | null;
  readonly state: 'value' | 'not-available' | 'error' | 'lost' | 'not-yet';
}

/** A source as a route sees it: it counts, it has become too old (or not enough good samples have come since), or nothing came yet. */
export type SourceState = 'fresh' | 'lost' | 'not-yet';

export interface ReplayOptions {
  /** The build; the first possible one by default. */
  readonly combination?: Combination;
  /** When the interface modules are powered; the first input by default. */
  readonly startUs?: number;
  /**
   * Called for every frame sent and every level driven, in order of time. The event of a frame and its bytes are used again for the
   * next one: copy what is to be kept.
   */
  readonly output: (event: ReplayOutput) => void;
  /**
   * Called whenever a route is worked out: when its message is about to be sent, or its wire driven. A route for which a backup stands
   * in is told of before the backup, with nothing written. Routes then run one by one, which is slower.
   */
  readonly sample?: (sample: RouteSample) => void;
  /**
   * `(parameters, body) => new Function(...parameters, body)`, where the host allows code to be made (a terminal does, a page with a
   * strict policy does not): most routes then run about twice as fast. The text holds numbers of the map only. Results are the same.
   */
  readonly makeFunction?: MakeFunction;
}

/** A pairing's interface modules running on a log. */
export interface Replay {
  readonly plans: readonly ModulePlan[];
  /** What cannot be run, over all modules. */
  readonly refused: readonly Refused[];
  onFrame(frame: ReplayFrame): void;
  /** A level on a wire; wires nobody reads are overlooked. */
  onWire(ref: string, level: Exclude<WireLevel, { kind: 'open' }>, timeUs: number): void;
  /** Lets time pass: everything due up to and including this moment happens. */
  advanceTo(timeUs: number): void;
  /** Tells whether each source of a route counts as things stand; null for a route that no interface module runs. */
  sourceStates(route: string): ((source: number) => SourceState) | null;
}
