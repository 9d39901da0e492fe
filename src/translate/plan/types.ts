import type { Bits, Combination, InterfaceModule, Route } from '../../model/index.ts';
import type { BitField, ChecksumAlgorithm, CounterSpec } from '../../can/index.ts';
import type { CompiledRoute } from '../program/compile-route.ts';

/**
 * All that one interface module does for one build, as data: what it receives, computes and sends. The replay engine runs it and
 * the C source is written from it. Positions in its lists are used as numbers of things.
 */
export interface ModulePlan {
  readonly module: InterfaceModule;
  readonly combination: Combination;
  readonly periodUs: number;
  readonly latencyUs: number;
  /** From power-up to the first tick; frames before it are not received. */
  readonly startUs: number;
  readonly received: readonly ReceivedMessage[];
  /** Sources as they are kept: one for each way in which some route listens to a message. */
  readonly groups: readonly SourceGroup[];
  readonly wiresIn: readonly WireInput[];
  readonly routes: readonly PlannedRoute[];
  readonly transmits: readonly PlannedTransmit[];
  readonly wiresOut: readonly WireOutput[];
  /** Routes of this module that cannot be run, and transmits that cannot be sent, each with the reason. */
  readonly refused: readonly Refused[];
}

export interface Refused {
  readonly what: 'route' | 'transmit';
  readonly id: string;
  readonly why: string;
}

export interface ReceivedMessage {
  /** `side:Message`. */
  readonly ref: string;
  /** `side:bus`. */
  readonly bus: string;
  readonly frameId: number;
  readonly extended: boolean;
  /** Groups that look at it. */
  readonly groups: readonly number[];
  /** Transmits that pass it on as it is. */
  readonly forwards: readonly number[];
  /** Transmits with `send: forwarded` that one of its signals is routed into. */
  readonly triggers: readonly number[];
}

/** A message as some routes listen to it: page of a multiplexed message, staleness, recovery, verification. */
export interface SourceGroup {
  readonly message: number;
  /** Bytes a frame must have; a shorter one is no sample. */
  readonly needsBytes: number;
  /** The frame counts only when every selector field holds one of the values. */
  readonly selectors: readonly {
    readonly bits: Bits;
    readonly signed: boolean;
    readonly on: readonly (readonly [bigint, bigint])[];
  }[];
  /** Older than this it is lost; null: never. */
  readonly staleUs: number | null;
  /** Good samples in a row after which a lost source counts again. */
  readonly recoverAfter: number;
  readonly verify: VerifyPlan | null;
}

/** How a frame is told from a corrupted or frozen one. */
export interface VerifyPlan {
  readonly counter: { readonly bits: Bits; readonly spec: CounterSpec } | null;
  readonly checksum: ChecksumPlan | null;
}

/** A checksum as bytes in order: of the payload (with the bits that count), and fixed ones. */
export interface ChecksumPlan {
  readonly algorithm: ChecksumAlgorithm;
  readonly field: BitField;
  readonly input: readonly ({ readonly byte: number; readonly mask: number } | { readonly fixed: number })[];
}

export interface WireInput {
  readonly ref: string;
  readonly kind: 'switched' | 'measured';
}

export interface WireOutput {
  readonly ref: string;
  readonly kind: 'switched' | 'measured';
  /** Routes that drive it, the first that has a value wins: a route before its backups. */
  readonly routes: readonly number[];
}

export interface PlannedRoute {
  readonly route: Route;
  readonly compiled: CompiledRoute;
  readonly sources: readonly (
    { readonly kind: 'group'; readonly group: number } | { readonly kind: 'wire'; readonly wire: number }
  )[];
  /** The program has memory: it runs at every tick. */
  readonly everyTick: boolean;
}

export interface PlannedTransmit {
  readonly ref: string;
  /** `side:bus` of the port. */
  readonly bus: string;
  readonly frameId: number;
  readonly extended: boolean;
  readonly fd: boolean;
  readonly lengthBytes: number;
  readonly cadence: Cadence;
  /** The message whose frames are passed on as they are; then there are no pages. */
  readonly copyOf: number | null;
  /** One for each page of a multiplexed message, sent in turn; a single one otherwise. */
  readonly pages: readonly Page[];
  readonly counter: { readonly bits: Bits; readonly spec: CounterSpec } | null;
  readonly checksum: ChecksumPlan | null;
}

export type Cadence =
  | { readonly kind: 'cyclic'; readonly cycleUs: number; readonly phaseUs: number }
  | { readonly kind: 'on-change'; readonly minGapUs: number }
  | {
      readonly kind: 'cyclic-and-on-change';
      readonly cycleUs: number;
      readonly phaseUs: number;
      readonly minGapUs: number;
    }
  | { readonly kind: 'forwarded' };

export interface Page {
  /** The payload before any route writes: fill values, selectors, unused bits. */
  readonly base: Uint8Array;
  /** Fields written, each by the first of its routes that has a value: a route before its backups. */
  readonly fields: readonly { readonly routes: readonly number[] }[];
}
