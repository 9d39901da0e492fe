import { z } from 'zod';

/** Name and version of the format. */
export const VECTORS_FORMAT = 'crossloom-vectors';
export const VECTORS_VERSION = 1;

const Us = z.number().int().nonnegative().meta({ description: 'Microseconds from the start of the vector.' });
const Hex = z
  .string()
  .regex(/^([0-9A-F]{2}){0,64}$/)
  .meta({ description: 'Bytes of a payload, byte 0 first.' });
const FrameId = z.string().regex(/^0x[0-9A-F]{1,8}$/);
const Whole = z
  .string()
  .regex(/^-?\d{1,20}$/)
  .meta({ description: 'A whole number; text, since 64 bits are more than a JSON number holds.' });
const Ref = z.string().min(3).max(300);

/** A field of a payload in the numbering of DBC files: `little`: start is its least significant bit; `big`: its most significant. */
const Field = z.strictObject({
  start: z.number().int().nonnegative(),
  length: z.number().int().min(1).max(64),
  order: z.enum(['little', 'big']),
});

const frameOn = {
  bus: Ref.meta({ description: 'side:bus' }),
  frameId: FrameId,
  idFormat: z.enum(['standard', 'extended']),
  frameFormat: z.enum(['classic', 'fd']),
};

/**
 * Frames to send: `count` of them, the first at `fromUs`, then one every `everyUs`; number n bears `data[n mod data.length]`. Counters
 * and checksums are in the bytes already.
 */
export const VectorStream = z.strictObject({
  ...frameOn,
  message: Ref.meta({ description: 'side:Message' }),
  fromUs: Us,
  everyUs: z.number().int().positive(),
  count: z.number().int().positive(),
  data: z.array(Hex).min(1),
});
export type VectorStream = z.infer<typeof VectorStream>;

const Quantity = z.enum(['V', 'Ohm', '%', 'Hz', 'ms']);

/** A level to put on a wire at a moment. Measured ones in thousandths of their quantity. */
export const VectorLevel = z.strictObject({
  wire: Ref.meta({ description: 'side:wire' }),
  atUs: Us,
  level: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('switched'), active: z.boolean() }),
    z.strictObject({ kind: z.literal('measured'), of: Quantity, thousandths: z.number().int() }),
  ]),
});
export type VectorLevel = z.infer<typeof VectorLevel>;

const window = {
  fromUs: Us,
  untilUs: Us,
};

/** What is written, as a person reads it; `tolerance` is the rounding into the target's steps and what the steps may lose. */
const Meaning = z.strictObject({
  text: z.string(),
  value: z.number().optional(),
  tolerance: z.number().optional(),
  unit: z.string().optional(),
});

/**
 * What must be seen of one field. Only frames with the id count, and where `page` is given only those whose bits under its mask are its
 * value. `every`: at least one such frame in the window, and the field as expected in each. `when-sent`: as expected in each, if any.
 * `latest`: in the last one up to `untilUs`. `never`: no such frame in the window.
 */
export const FrameExpectation = z.strictObject({
  on: z.literal('frame'),
  message: Ref,
  signal: z.string().nullable().meta({ description: 'Null: the whole payload.' }),
  bus: Ref,
  frameId: FrameId,
  idFormat: z.enum(['standard', 'extended']),
  judge: z.enum(['every', 'when-sent', 'latest', 'never']),
  ...window,
  page: z.strictObject({ mask: Hex, value: Hex }).optional(),
  /** The bits of the field and nothing else; `value` holds them where one value only is right. */
  mask: Hex.optional(),
  value: Hex.optional(),
  field: Field.extend({ number: z.enum(['unsigned', 'signed', 'float32', 'float64']) }).optional(),
  /** Least and greatest raw value that is right. */
  raw: z.tuple([Whole, Whole]).optional(),
  float: z.strictObject({ value: z.number(), tolerance: z.number().nonnegative() }).optional(),
  meaning: Meaning,
});
export type FrameExpectation = z.infer<typeof FrameExpectation>;

/** The level of a wire throughout the window; `open`: not driven. */
export const WireExpectation = z.strictObject({
  on: z.literal('wire'),
  wire: Ref,
  ...window,
  level: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('switched'), active: z.boolean() }),
    z.strictObject({
      kind: z.literal('measured'),
      of: Quantity,
      thousandths: z.tuple([z.number().int(), z.number().int()]),
    }),
    z.strictObject({ kind: z.literal('open') }),
  ]),
  meaning: Meaning,
});
export type WireExpectation = z.infer<typeof WireExpectation>;

export const VectorExpectation = z.discriminatedUnion('on', [FrameExpectation, WireExpectation]);
export type VectorExpectation = z.infer<typeof VectorExpectation>;

/** One case, whole in itself: all that is to be sent, from making every source valid on, and what must come of it. */
export const Vector = z.strictObject({
  id: z.string().regex(/^\d{2,3}-[a-z0-9-]+$/),
  name: z.string(),
  kind: z.enum([
    'end',
    'inside',
    'breakpoint',
    'state',
    'no-value',
    'text',
    'copy',
    'lost',
    'not-yet-recovered',
    'recovered',
  ]),
  /** What the sources show in the end. */
  given: z.array(z.strictObject({ source: Ref, text: z.string() })),
  lengthUs: Us,
  send: z.array(VectorStream),
  levels: z.array(VectorLevel),
  expect: z.array(VectorExpectation).min(1),
});
export type Vector = z.infer<typeof Vector>;

/** Vectors of one route, and what could not be made, with the reason. */
export const RouteVectors = z.strictObject({
  route: z.string(),
  from: z.array(Ref),
  to: Ref,
  /** Null: a conductor from end to end. */
  by: z.string().nullable(),
  build: z.record(z.string(), z.string()),
  vectors: z.array(Vector),
  leftOut: z.array(z.strictObject({ what: z.string(), why: z.string() })),
});
export type RouteVectors = z.infer<typeof RouteVectors>;

/** How the counter and the checksum of a sent message run; judged on every frame of it. */
export const SentRule = z.strictObject({
  message: Ref,
  build: z.record(z.string(), z.string()),
  ...frameOn,
  lengthBytes: z.number().int().nonnegative(),
  /** Runs 0 … modulo − 1 from one frame to the next, leaving out `skips`. */
  counter: z.strictObject({ field: Field, modulo: z.number().int(), skips: z.array(z.number().int()) }).optional(),
  /** The algorithm over the input bytes in order: payload bytes (only the bits under the mask) and fixed ones. */
  checksum: z
    .strictObject({
      field: Field,
      algorithm: z.string(),
      input: z.array(
        z.union([
          z.strictObject({ byte: z.number().int(), mask: z.number().int() }),
          z.strictObject({ fixed: z.number().int() }),
        ]),
      ),
    })
    .optional(),
});
export type SentRule = z.infer<typeof SentRule>;

/** A whole `vectors.json`. */
export const VectorsFile = z.strictObject({
  $schema: z.string().optional(),
  format: z.literal(VECTORS_FORMAT),
  version: z.literal(VECTORS_VERSION),
  map: z.strictObject({ id: z.string(), revision: z.string(), digest: z.string() }),
  /** What the buses may add to the way of a frame; part of every window. */
  busAllowanceUs: z.number().int().nonnegative(),
  /** Interface names in the logs beside this file. */
  interfaces: z.array(z.strictObject({ name: z.string(), bus: Ref })),
  sent: z.array(SentRule),
  routes: z.array(RouteVectors),
});
export type VectorsFile = z.infer<typeof VectorsFile>;

/** JSON Schema (draft-07) of `vectors.json`, as text. */
export function vectorsSchemaText(): string {
  const schema = z.toJSONSchema(VectorsFile, { target: 'draft-7', io: 'input' });
  return `${JSON.stringify({ title: 'Crossloom vectors', ...schema }, null, 2)}\n`;
}
