import type { BitRates, BusMessage } from '../can/index.ts';
import type { BusJoin, MessageEntry, Pairing, Transmit } from '../model/index.ts';

/** A frame as a bus carries it: sent by a module of the vehicle (`transmit` null) or by an interface module. */
export interface BusFrame {
  /** `side:Message`. */
  readonly ref: string;
  /** `side:bus`. */
  readonly bus: string;
  readonly entry: MessageEntry;
  readonly transmit: Transmit | null;
  readonly message: BusMessage;
  /** Longest time it keeps the bus, in nanoseconds. */
  readonly timeNs: number;
  /** Order of priority: less wins. */
  readonly rank: number;
  /** Option combinations it is sent in. */
  readonly mask: bigint;
}

/** What can be said about the frames of one bus. */
export interface FramesOfBus {
  readonly frames: readonly BusFrame[];
  /** Regular frames nobody gives a cycle for, and frames nobody names the sender of: `cycle of host:Speed`. */
  readonly lacks: readonly string[];
}

/** One piece of bus in the combinations of `mask`, within which nothing about it changes. */
export interface BusCase {
  /** Its buses, `side:bus`. */
  readonly refs: readonly string[];
  readonly mask: bigint;
  /** What is sent on it, highest priority first. */
  readonly frames: readonly BusFrame[];
  readonly rates: BitRates;
}

/** All that is one piece of bus in some combination: its cases, and everything on it taken together. */
export interface BusSegment {
  readonly refs: readonly string[];
  /** As if all combinations were one: never less load, never a shorter response. */
  readonly together: BusCase;
  /** Case by case; one only where nothing depends on the options. */
  readonly cases: () => readonly BusCase[];
  readonly lacks: readonly string[];
}

/** What the rules keep about the buses from one run to the next. */
export interface BusMemory {
  readonly of: Pairing;
  readonly joins: readonly BusJoin[];
  readonly transmits: ReadonlyMap<string, readonly Transmit[]>;
  readonly segments: Map<string, BusSegment>;
  /** The same object as long as nothing of the physical layer changed: what is worked out about it is kept by it. */
  readonly copper: object;
}
