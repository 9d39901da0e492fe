import { z } from 'zod';
import { parseExact } from '../../number/index.ts';

// A strict content security policy forbids the code generation zod would try first.
z.config({ jitless: true });

/** Names that would reach an object's prototype when used as a key. */
const RESERVED = new Set(['__proto__', 'prototype', 'constructor']);

const idPattern = /^[A-Za-z0-9_][A-Za-z0-9_+/-]*$/;

/** A stable identifier: letters, digits, `_ - + /`; it may stand in a reference, so neither dot, colon nor space. */
export const Id = z
  .string()
  .max(128)
  .regex(
    idPattern,
    'an id has letters, digits, "_", "-", "+" or "/" only: it stands in references like host:Message.Signal',
  )
  .refine((id) => !RESERVED.has(id), 'this word is reserved')
  .meta({ description: 'A stable identifier; it stands in references like host:Message.Signal.' });

/** Whether `text` can stand as an identifier. */
export function isId(text: string): boolean {
  return text.length <= 128 && idPattern.test(text) && !RESERVED.has(text);
}

/** `host:thing` or `donor:thing` (a module, bus, wire, message, connector, feed or ground of one side). */
export const SideRef = z
  .string()
  .max(300)
  .regex(/^(host|donor):[A-Za-z0-9_][A-Za-z0-9_+/-]*$/, 'a reference reads host:thing or donor:thing');

/** `side:Message.Signal`, `side:wire-id` or `side:Message` (the whole frame). */
export const ValueRef = z
  .string()
  .max(300)
  .regex(
    /^(host|donor):[A-Za-z0-9_][A-Za-z0-9_+/-]*(\.[A-Za-z0-9_][A-Za-z0-9_+/-]*)?$/,
    'a reference reads host:Message.Signal, host:wire-id or host:Message (donor: likewise)',
  )
  .meta({
    description: 'side:Message.Signal, side:wire-id, or side:Message for the whole frame; side is host or donor.',
  });

/** Text for people: one line or several, bounded. */
export const Text = z.string().max(20_000);
export const Title = z.string().max(500);

/**
 * A number taken exactly: a JSON number stands for its shortest decimal (0.1 is 1/10); a string holds what a
 * JSON number cannot: more digits ("18446744073709551615") or a fraction ("1/3").
 */
export const Exact = z
  .union([
    z.number(),
    z
      .string()
      .max(400)
      .refine((text) => parseExact(text) !== null, 'write a decimal ("0.1", "1e-5") or a fraction ("1/3")'),
  ])
  .meta({ description: 'An exact number: a JSON number, or a decimal or fraction as text.' });

/** A raw value of a bit field: an integer; beyond 2^53 as decimal text. */
export const RawValue = z
  .union([
    z.number().int(),
    z
      .string()
      .max(24)
      .regex(/^-?\d+$/, 'a raw value beyond 2^53 is written as decimal digits'),
  ])
  .meta({ description: 'A raw value of a bit field: an integer, beyond 2^53 as decimal text.' });

export const ExactRange = z
  .tuple([Exact, Exact])
  .meta({ description: 'Lowest and highest value, in the unit beside it.' });

const NonNegative = z.number().min(0);
const Positive = z.number().gt(0);
export { NonNegative, Positive };

/** A calendar day, ISO 8601: 2026-01-31. */
export const Day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'a day is written 2026-01-31');

/** A record with safe keys (never a prototype key). */
export function recordOf<T extends z.ZodType>(value: T) {
  return z.record(
    z
      .string()
      .max(300)
      .refine((key) => !RESERVED.has(key), 'this word is reserved'),
    value,
  );
}

/** Option choices under which an item applies: every axis named must match one of its choices. */
export const Condition = recordOf(z.array(z.string().max(128)).min(1)).meta({
  description: 'Applies only when every option named here has one of the choices listed.',
});
export type Condition = z.infer<typeof Condition>;

/** A place in a connector. */
export const Cavity = z
  .strictObject({ connector: z.string().max(300), cavity: z.string().max(32) })
  .meta({ description: 'A cavity of a connector; in a map, an added connector by its id or side:connector.' });
export type Cavity = z.infer<typeof Cavity>;

/** A conductor as built: size with its unit, IEC 60757 colour letters (base-tracer), insulation type. */
export const Conductor = z.strictObject({
  size: z
    .string()
    .max(16)
    .regex(/^(\d+(\.\d+)?mm2|\d+(\/0)?AWG)$/, 'a size carries its unit: 0.5mm2 or 20AWG')
    .optional(),
  colour: z
    .string()
    .max(16)
    .regex(/^[A-Z]{2}(-[A-Z]{2}){0,2}$/, 'a colour is IEC 60757 letters, base first: WH or WH-BU')
    .optional(),
  insulation: z.string().max(64).optional(),
  maxC: z.number().optional(),
  lengthM: Positive.optional(),
  twistedWith: z.string().max(128).optional(),
  shielded: z.boolean().optional(),
});
export type Conductor = z.infer<typeof Conductor>;

export const DocumentRefs = z.array(Id).meta({ description: 'Ids of the documents this fact was taken from.' });
