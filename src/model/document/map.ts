import { z } from 'zod';
import {
  Cavity,
  Condition,
  Conductor,
  Day,
  Exact,
  Id,
  NonNegative,
  Positive,
  RawValue,
  SideRef,
  Text,
  Title,
  ValueRef,
  recordOf,
} from './common.ts';
import { Electrical } from './electrical.ts';
import { Connector, Protection } from './platform.ts';
import { Step } from './steps.ts';

export const MAP_FORMAT = 'crossloom-map';
export const MAP_VERSION = 1;

/** Where the platform file of one side lies, relative to the map. */
export const PlatformLink = z.strictObject({
  platform: z.string().min(1).max(500),
  digest: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .optional(),
});

export const Fate = z.enum(['retained', 'removed', 'added']);
export type Fate = z.infer<typeof Fate>;

export const OptionAxis = z.strictObject({
  id: Id,
  title: Title.optional(),
  choices: z.array(z.string().min(1).max(128)).min(1).max(64),
  note: Text.optional(),
});
export type OptionAxis = z.infer<typeof OptionAxis>;

/** A bus connection of an interface module; `at` gives its cavities on the module's connector. */
export const Port = z.strictObject({
  id: Id,
  bus: SideRef,
  at: z.strictObject({ high: Cavity, low: Cavity }).optional(),
  terminationOhm: Positive.optional(),
  stubM: NonNegative.optional(),
  listenOnly: z.boolean().optional(),
  note: Text.optional(),
});
export type Port = z.infer<typeof Port>;

/** An input or output pin of an interface module. The class tells the direction: a receiver is an input, a driver an output. */
export const Pin = z.strictObject({
  id: Id,
  title: Title.optional(),
  electrical: Electrical,
  at: Cavity,
  safeLevel: z.enum(['open', 'low', 'high']).optional(),
  note: Text.optional(),
});
export type Pin = z.infer<typeof Pin>;

/** The added electronics which translates between the sides. Times in milliseconds. */
export const InterfaceModule = z.strictObject({
  id: Id,
  title: Title,
  part: z.string().max(100).optional(),
  periodMs: Positive,
  latencyMs: NonNegative,
  startMs: NonNegative.optional(),
  minV: NonNegative.optional(),
  maxA: NonNegative.optional(),
  sleepMa: NonNegative.optional(),
  transientProtected: z.boolean().optional(),
  reverseProtected: z.boolean().optional(),
  ports: z.array(Port),
  pins: z.array(Pin),
  feed: SideRef.optional(),
  feedAt: Cavity.optional(),
  ground: SideRef.optional(),
  groundAt: Cavity.optional(),
  when: Condition.optional(),
  note: Text.optional(),
});
export type InterfaceModule = z.infer<typeof InterfaceModule>;

/** A message which an interface module sends: cadence, fill values of fields no route writes (raw), protection. */
export const Transmit = z.strictObject({
  message: ValueRef,
  by: Id,
  port: Id,
  send: z.enum(['cyclic', 'on-change', 'cyclic-and-on-change', 'forwarded']).optional(),
  cycleMs: Positive.optional(),
  minGapMs: Positive.optional(),
  phaseMs: NonNegative.optional(),
  fill: recordOf(RawValue).optional(),
  unusedBits: z.enum(['0', '1']).optional(),
  protection: Protection.optional(),
  when: Condition.optional(),
  note: Text.optional(),
});
export type Transmit = z.infer<typeof Transmit>;

/** What the reader is given when the source goes stale: hold, substitute a value, stop sending, open the output. */
export const LossBehaviour = z.discriminatedUnion('do', [
  z.strictObject({
    do: z.literal('hold'),
    forMs: Positive.optional(),
    then: z.enum(['not-available', 'stop-sending', 'open-output']).optional(),
  }),
  z.strictObject({
    do: z.literal('substitute'),
    value: Exact.optional(),
    state: Title.optional(),
    notAvailable: z.literal(true).optional(),
  }),
  z.strictObject({ do: z.literal('stop-sending') }),
  z.strictObject({ do: z.literal('open-output') }),
]);
export type LossBehaviour = z.infer<typeof LossBehaviour>;

export const Carrier = z.enum(['hard-wire', 'bus', 'interface']);
export type Carrier = z.infer<typeof Carrier>;

/** How one need is met: sources, carrier, steps, timing, loss behaviour. */
export const Route = z.strictObject({
  id: Id,
  title: Title.optional(),
  function: Id.optional(),
  from: z.array(ValueRef).max(64),
  to: ValueRef,
  carrier: Carrier,
  by: Id.optional(),
  enters: z.array(Id).max(64).optional(),
  leaves: Id.optional(),
  via: z.array(Id).max(32).optional(),
  backupOf: Id.optional(),
  steps: z.array(Step).max(64).optional(),
  staleAfterMs: Positive.optional(),
  recoverAfter: z.number().int().min(1).max(1000).optional(),
  onLoss: LossBehaviour.optional(),
  atStart: z.union([z.literal('not-available'), z.literal('loss-behaviour'), z.literal('stop-sending')]).optional(),
  verifySource: z.boolean().optional(),
  when: Condition.optional(),
  conductor: Conductor.optional(),
  assumed: z.boolean().optional(),
  measured: z.boolean().optional(),
  note: Text.optional(),
});
export type Route = z.infer<typeof Route>;

/** A signal or function knowingly not carried, with the reason. */
export const LeftOut = z.strictObject({
  signal: ValueRef.optional(),
  function: Id.optional(),
  reason: Text.min(1),
  when: Condition.optional(),
});
export type LeftOut = z.infer<typeof LeftOut>;

/** A part spliced into the added harness: relay, diode, resistor, fuse. */
export const HarnessPart = z.strictObject({
  id: Id,
  title: Title,
  kind: z.enum(['relay', 'diode', 'resistor', 'fuse', 'in-line-connector', 'terminator']),
  part: z.string().max(100).optional(),
  coilBy: z.string().max(300).optional(),
  contact: z.enum(['normally-open', 'normally-closed']).optional(),
  ohm: NonNegative.optional(),
  watt: NonNegative.optional(),
  volt: NonNegative.optional(),
  ampere: NonNegative.optional(),
  inrushA: NonNegative.optional(),
  fuseA: Positive.optional(),
  suppressed: z.boolean().optional(),
  at: recordOf(Cavity).optional(),
  terminals: recordOf(z.string().max(300)).optional().meta({
    description:
      'What a terminal is joined to where no route says so: side:feed, side:ground, side:wire or module.pin; "85": "host:G101".',
  }),
  node: Id.optional(),
  when: Condition.optional(),
  note: Text.optional(),
});
export type HarnessPart = z.infer<typeof HarnessPart>;

export const HarnessNode = z.strictObject({
  id: Id,
  title: Title.optional(),
  kind: z.enum(['connector', 'splice', 'branch', 'stud', 'part', 'pass-through']),
  connector: z.string().max(300).optional(),
  ground: SideRef.optional(),
  part: Id.optional(),
  holeMm: Positive.optional(),
  x: z.number().optional(),
  y: z.number().optional(),
  zone: z.string().max(64).optional(),
  note: Text.optional(),
});
export type HarnessNode = z.infer<typeof HarnessNode>;

export const HarnessSegment = z.strictObject({
  id: Id.optional(),
  from: Id,
  to: Id,
  lengthM: Positive,
  covering: z.string().max(64).optional(),
  maxC: z.number().optional(),
  clampEveryM: Positive.optional(),
  note: Text.optional(),
});
export type HarnessSegment = z.infer<typeof HarnessSegment>;

/** What a person decided about one derived circuit: its number, conductor, splices, condition. `of` is the derived circuit's key. */
export const CircuitChoice = z.strictObject({
  id: Id,
  of: z.string().max(300),
  conductor: Conductor.optional(),
  through: z.array(Id).optional(),
  fuseA: Positive.optional(),
  loadA: NonNegative.optional(),
  inrushA: NonNegative.optional(),
  serviceM: NonNegative.optional(),
  label: z.string().max(64).optional(),
  note: Text.optional(),
});
export type CircuitChoice = z.infer<typeof CircuitChoice>;

export const Harness = z.strictObject({
  title: Title.optional(),
  serviceM: NonNegative.optional(),
  connectors: z.array(Connector),
  parts: z.array(HarnessPart).optional(),
  nodes: z.array(HarnessNode),
  segments: z.array(HarnessSegment),
  circuits: z.array(CircuitChoice),
});
export type Harness = z.infer<typeof Harness>;

/** A finding answered by a person; it lapses when the facts it answers change. A `stop` needs a second name. */
export const Waiver = z.strictObject({
  rule: z.string().max(200),
  subject: z.string().max(300),
  answers: z.string().max(128),
  reason: Text.min(1),
  by: z.string().min(1).max(200),
  secondBy: z.string().min(1).max(200).optional(),
  on: Day,
});
export type Waiver = z.infer<typeof Waiver>;

export const SignOff = z.strictObject({
  by: z.string().min(1).max(200),
  role: z.string().min(1).max(200),
  on: Day,
  digest: z.string().max(128),
  note: Text.optional(),
});
export type SignOff = z.infer<typeof SignOff>;

/**
 * A reviewer's answer at one step of the review walk: `step` is the step's id, `answers` the digest of the facts that were looked
 * at. When the facts change, the answer is stale and the step has to be looked at again.
 */
export const ReviewAnswer = z
  .strictObject({
    step: z.string().min(1).max(700),
    answers: z.string().max(128),
    verdict: z.enum(['agreed', 'question', 'objection']),
    text: Text.optional(),
    by: z.string().min(1).max(200),
    on: Day,
  })
  .refine(({ verdict, text }) => verdict === 'agreed' || (text ?? '').trim() !== '', {
    path: ['text'],
    error: 'a question or an objection says in its text what is asked or objected to',
  });
export type ReviewAnswer = z.infer<typeof ReviewAnswer>;

/** A function's class or carrier rule raised for this pairing. */
export const FunctionClass = z.strictObject({
  function: Id,
  criticality: z.enum(['interlock', 'motion-control', 'regulated-display', 'comfort']).optional(),
  carrierRule: z.enum(['hard-wired', 'hard-wired-or-backed-up', 'bus-protected', 'free']).optional(),
  staleAfterMs: Positive.optional(),
  reason: Text.optional(),
});
export type FunctionClass = z.infer<typeof FunctionClass>;

/** One pairing: a host and a donor platform, and how each need is met. */
export const CrossloomMap = z.strictObject({
  $schema: z.string().max(500).optional(),
  format: z.literal(MAP_FORMAT),
  version: z.literal(MAP_VERSION),
  id: Id,
  title: Title,
  revision: z.string().max(64),
  author: z.string().max(200).optional(),
  note: Text.optional(),
  host: PlatformLink,
  donor: PlatformLink,
  fates: recordOf(Fate),
  requires: z.array(Id).optional(),
  classes: z.array(FunctionClass).optional(),
  options: z.array(OptionAxis).max(32).optional(),
  impossible: z.array(Condition).optional(),
  interfaceModules: z.array(InterfaceModule),
  transmits: z.array(Transmit),
  routes: z.array(Route),
  leftOut: z.array(LeftOut).optional(),
  harness: Harness.optional(),
  waivers: z.array(Waiver).optional(),
  review: z.array(ReviewAnswer).optional(),
  signOffs: z.array(SignOff).optional(),
});
export type CrossloomMap = z.infer<typeof CrossloomMap>;
