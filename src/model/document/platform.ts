import { z } from 'zod';
import {
  Cavity,
  Condition,
  Conductor,
  Day,
  DocumentRefs,
  Exact,
  ExactRange,
  Id,
  NonNegative,
  Positive,
  RawValue,
  Text,
  Title,
  recordOf,
} from './common.ts';
import { Electrical, WireMeaning } from './electrical.ts';

export const PLATFORM_FORMAT = 'crossloom-platform';
export const PLATFORM_VERSION = 1;

/** Where facts came from: a drawing, a manual, a measurement. */
export const SourceDocument = z.strictObject({
  id: Id,
  title: Title,
  revision: z.string().max(100).optional(),
  date: Day.optional(),
  years: z.string().max(100).optional(),
  kind: z.enum(['drawing', 'manual', 'measurement', 'database', 'note']).optional(),
  note: Text.optional(),
});
export type SourceDocument = z.infer<typeof SourceDocument>;

export const BusTap = z.strictObject({ high: Cavity, low: Cavity, module: Id.optional() });

/** One CAN network. Bit rates in bit/s, lengths in metres. */
export const Bus = z.strictObject({
  id: Id,
  title: Title.optional(),
  kind: z.enum(['can', 'can-fd']),
  bitRate: z.number().int().positive(),
  dataBitRate: z.number().int().positive().optional(),
  samplePointPercent: z.number().gt(0).lt(100).optional(),
  terminations: z.array(z.strictObject({ at: Id, ohm: Positive })).optional(),
  lengthM: NonNegative.optional(),
  stubs: z.array(z.strictObject({ at: Id, lengthM: NonNegative })).optional(),
  joinedWith: z.array(Id).optional(),
  tap: BusTap.optional(),
  twisted: z.boolean().optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Bus = z.infer<typeof Bus>;

/** A control unit or a part with a circuit of its own: sensor, switch, relay, lamp, actuator, gauge. */
export const Module = z.strictObject({
  id: Id,
  title: Title,
  kind: z
    .enum(['controller', 'sensor', 'switch', 'relay', 'lamp', 'actuator', 'gauge', 'diagnostic-connector'])
    .optional(),
  buses: z.array(Id).optional(),
  calibration: z.enum(['original', 'altered', 'unknown']).optional(),
  software: z.string().max(100).optional(),
  restraint: z.boolean().optional(),
  when: Condition.optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Module = z.infer<typeof Module>;

export const Bits = z
  .strictObject({
    start: z.number().int().min(0).max(511),
    length: z.number().int().min(1).max(64),
    order: z.enum(['little', 'big']),
  })
  .meta({
    description:
      'Bit field in DBC numbering: bit 8·byte+n; little-endian starts at its least, big-endian at its most significant bit.',
  });
export type Bits = z.infer<typeof Bits>;

/** Raw selector values of a multiplexer: single values or [first, last] ranges. */
export const Selectors = z
  .array(z.union([RawValue, z.tuple([RawValue, RawValue])]))
  .min(1)
  .max(10_000);

/** A bit field of a message. Physical value = factor · raw + offset, in `unit`. */
export const Signal = z.strictObject({
  id: Id,
  title: Title.optional(),
  comment: Text.optional(),
  bits: Bits,
  number: z.enum(['unsigned', 'signed', 'float32', 'float64']),
  kind: z.enum(['number', 'state', 'text']).optional(),
  factor: Exact,
  offset: Exact,
  unit: z.string().max(64),
  unitAsWritten: z.string().max(64).optional(),
  range: ExactRange.optional(),
  initial: RawValue.optional(),
  states: recordOf(Title).optional(),
  notAvailable: z.array(RawValue).optional(),
  error: z.array(RawValue).optional(),
  multiplexer: z.boolean().optional(),
  multiplexed: z.strictObject({ by: Id, on: Selectors }).optional(),
  readers: z.array(Id).optional(),
  function: Id.optional(),
  need: z.boolean().optional(),
  when: Condition.optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Signal = z.infer<typeof Signal>;

export const CHECKSUM_ALGORITHMS = [
  'crc8-sae-j1850',
  'crc8-autosar-h2f',
  'crc16-ccitt-false',
  'crc32-autosar-p4',
  'xor8',
  'sum8',
  'nibble-sum',
] as const;

/** How a message is guarded: an alive counter, a checksum over its bytes, a data id that is not sent. */
export const Protection = z.strictObject({
  counter: Id.optional(),
  counterModulo: z.number().int().min(2).max(65536).optional(),
  counterSkips: z.array(z.number().int().min(0)).optional(),
  checksum: Id.optional(),
  algorithm: z.union([z.enum(CHECKSUM_ALGORITHMS), z.literal('unknown')]).optional(),
  covers: z
    .union([
      z.literal('all-but-checksum'),
      z.array(z.tuple([z.number().int().min(0).max(63), z.number().int().min(0).max(63)])),
    ])
    .optional(),
  dataId: z.number().int().min(0).max(65535).optional(),
  dataIdAt: z.enum(['before', 'after']).optional(),
  evidence: z.enum(['specified', 'inferred', 'verified']).optional(),
});
export type Protection = z.infer<typeof Protection>;

/** A CAN frame with its signals. Times in milliseconds, length in bytes. */
export const Message = z.strictObject({
  id: Id,
  title: Title.optional(),
  comment: Text.optional(),
  bus: Id,
  frameId: z.string().regex(/^0x[0-9A-F]{1,8}$/, 'a frame id is upper-case hexadecimal: 0x1C0'),
  idFormat: z.enum(['standard', 'extended']),
  frameFormat: z.enum(['classic', 'fd']).optional(),
  length: z.number().int().min(0).max(64),
  sender: Id.nullable(),
  otherSenders: z.array(Id).optional(),
  cycleMs: Positive.optional(),
  jitterMs: NonNegative.optional(),
  send: z.enum(['cyclic', 'on-change', 'cyclic-and-on-change', 'on-request']).optional(),
  staleAfterMs: Positive.optional(),
  protection: Protection.optional(),
  diagnostic: z.enum(['request', 'response']).optional(),
  function: Id.optional(),
  readers: z.array(Id).optional(),
  signals: z.array(Signal).max(5000),
  when: Condition.optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Message = z.infer<typeof Message>;

/**
 * A signal carried by one conductor. `module` owns the cavity; direction `out`: it drives, `readers` look;
 * direction `in`: it looks, `driver` drives.
 */
export const Wire = z.strictObject({
  id: Id,
  title: Title,
  comment: Text.optional(),
  module: Id,
  direction: z.enum(['in', 'out']),
  driver: Id.optional(),
  readers: z.array(Id).optional(),
  electrical: Electrical,
  meaning: WireMeaning.optional(),
  at: Cavity.optional(),
  conductor: Conductor.optional(),
  feed: Id.optional(),
  ground: Id.optional(),
  periodMs: Positive.optional(),
  function: Id.optional(),
  pairedWith: Id.optional(),
  need: z.boolean().optional(),
  when: Condition.optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Wire = z.infer<typeof Wire>;

/** A connector with its cavities as moulded on the housing; areas in mm². */
export const Connector = z.strictObject({
  id: Id,
  title: Title,
  of: Id.optional(),
  cavities: z.array(z.string().min(1).max(32)).max(1000),
  accepts: z.strictObject({ minMm2: Positive, maxMm2: Positive }).optional(),
  acceptsAt: recordOf(z.strictObject({ minMm2: Positive, maxMm2: Positive })).optional(),
  maxA: Positive.optional(),
  maxAAt: recordOf(Positive).optional(),
  part: z.string().max(100).optional(),
  mate: z.string().max(100).optional(),
  terminal: z.string().max(100).optional(),
  seal: z.string().max(100).optional(),
  plug: z.string().max(100).optional(),
  contacts: z.enum(['pin', 'socket']).optional(),
  key: z.string().max(32).optional(),
  view: z.enum(['wire-side', 'mating-side']).optional(),
  rows: z.number().int().min(1).max(20).optional(),
  sealed: z.boolean().optional(),
  zone: z.string().max(64).optional(),
  when: Condition.optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Connector = z.infer<typeof Connector>;

export const KEY_STATES = ['off', 'accessory', 'run', 'start'] as const;

/** A supply conductor behind a fuse; `liveIn` lists the key states in which it is live. */
export const Feed = z.strictObject({
  id: Id,
  title: Title.optional(),
  kind: z.enum(['battery', 'accessory', 'ignition', 'start', 'switched']),
  liveIn: z.array(z.enum(KEY_STATES)).optional(),
  fuseA: Positive.nullable(),
  from: Id.optional(),
  loadA: NonNegative.optional(),
  at: Cavity.optional(),
  conductor: Conductor.optional(),
  when: Condition.optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Feed = z.infer<typeof Feed>;

/** A return point: a stud on body or engine, or a cavity. */
export const Ground = z.strictObject({
  id: Id,
  title: Title.optional(),
  kind: z.enum(['power', 'sensor']).optional(),
  of: Id.optional(),
  at: Cavity.optional(),
  stud: z.string().max(100).optional(),
  studMm: Positive.optional(),
  torqueNm: Positive.optional(),
  conductor: Conductor.optional(),
  when: Condition.optional(),
  documents: DocumentRefs.optional(),
  note: Text.optional(),
});
export type Ground = z.infer<typeof Ground>;

/** What an import read, so that a later one can be compared with it. */
export const ImportRecord = z.strictObject({
  bus: Id,
  file: z.string().max(500),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  on: Day,
});
export type ImportRecord = z.infer<typeof ImportRecord>;

/** One vehicle's electrical description. */
export const Platform = z.strictObject({
  $schema: z.string().max(500).optional(),
  format: z.literal(PLATFORM_FORMAT),
  version: z.literal(PLATFORM_VERSION),
  id: Id,
  title: Title,
  market: z.string().max(100).optional(),
  years: z.string().max(100).optional(),
  note: Text.optional(),
  documents: z.array(SourceDocument).optional(),
  imports: z.array(ImportRecord).optional(),
  buses: z.array(Bus),
  modules: z.array(Module),
  messages: z.array(Message),
  wires: z.array(Wire),
  connectors: z.array(Connector),
  feeds: z.array(Feed),
  grounds: z.array(Ground),
});
export type Platform = z.infer<typeof Platform>;
