import { z } from 'zod';
import { Exact, NonNegative, Positive, Title, recordOf } from './common.ts';

const unit = z.string().max(64);
/** Restricts a step that stands before the combining one to a single source of the route (0 is the first). */
const of = z.number().int().min(0).max(63).optional();
const states = z.array(Title).min(1).max(1000);

/** The steps of a transform, applied in order. Times in milliseconds; every number carries its unit. */
export const Step = z.discriminatedUnion('do', [
  z.strictObject({ do: z.literal('convert'), of, to: unit.optional() }),
  z.strictObject({ do: z.literal('linear'), of, factor: Exact, offset: Exact, unit }),
  z.strictObject({ do: z.literal('states'), of, map: recordOf(Title), otherwise: Title.optional() }),
  z.strictObject({ do: z.literal('pick'), of, map: recordOf(Exact), otherwise: Exact.optional(), unit }),
  z.strictObject({
    do: z.literal('bands'),
    of,
    at: z.array(Exact).min(1).max(64),
    states: z.array(Title).min(2).max(65),
    hysteresis: Exact.optional(),
    dwellMs: NonNegative.optional(),
    unit,
  }),
  z.strictObject({
    do: z.literal('curve'),
    of,
    points: z
      .array(z.tuple([Exact, Exact]))
      .min(2)
      .max(1000),
    from: unit,
    unit,
    outside: z.enum(['clamp', 'refuse']),
  }),
  z.strictObject({ do: z.literal('reciprocal'), of, k: Exact, unit }),
  z.strictObject({ do: z.literal('limit'), of, min: Exact.optional(), max: Exact.optional(), unit }),
  z.strictObject({ do: z.literal('rate-limit'), of, risePerS: Exact.optional(), fallPerS: Exact.optional(), unit }),
  z.strictObject({ do: z.literal('smooth'), of, timeConstantMs: Positive }),
  z.strictObject({ do: z.literal('debounce'), of, forMs: Positive }),
  z.strictObject({ do: z.literal('delay'), of, byMs: Positive }),
  z.strictObject({ do: z.literal('pulses'), of, pulsesPerUnit: Exact, per: unit, unit }),
  z.strictObject({ do: z.literal('not'), of, swap: z.tuple([Title, Title]) }),
  z.strictObject({ do: z.literal('all-of'), when: states, yields: Title, otherwise: Title }),
  z.strictObject({ do: z.literal('any-of'), when: states, yields: Title, otherwise: Title }),
  z.strictObject({ do: z.literal('highest') }),
  z.strictObject({ do: z.literal('lowest') }),
  z.strictObject({ do: z.literal('sum') }),
  z.strictObject({ do: z.literal('difference') }),
  z.strictObject({ do: z.literal('first-valid') }),
  z.strictObject({
    do: z.literal('choose-by'),
    selector: z.number().int().min(0).max(63),
    cases: recordOf(
      z.union([
        z.strictObject({ source: z.number().int().min(0).max(63) }),
        z.strictObject({ state: Title }),
        z.strictObject({ value: Exact }),
      ]),
    ),
    otherwise: z
      .union([
        z.strictObject({ source: z.number().int().min(0).max(63) }),
        z.strictObject({ state: Title }),
        z.strictObject({ value: Exact }),
      ])
      .optional(),
  }),
]);
export type Step = z.infer<typeof Step>;
export type StepKind = Step['do'];

/** Steps which make one value of several sources. */
export const COMBINING_STEPS: ReadonlySet<StepKind> = new Set<StepKind>([
  'all-of',
  'any-of',
  'highest',
  'lowest',
  'sum',
  'difference',
  'first-valid',
  'choose-by',
]);

/** Steps which carry memory from one sample to the next. */
export const TIMED_STEPS: ReadonlySet<StepKind> = new Set<StepKind>([
  'rate-limit',
  'smooth',
  'debounce',
  'delay',
  'bands',
]);
