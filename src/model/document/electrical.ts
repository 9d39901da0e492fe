import { z } from 'zod';
import { Exact, ExactRange, Id, NonNegative, Positive, Title } from './common.ts';

/** Electrical classes of drivers: what puts a level on the conductor. */
export const DRIVER_CLASSES = [
  'switched-battery',
  'switched-ground',
  'push-pull-5v',
  'push-pull-12v',
  'open-collector',
  'ratiometric-5v',
  'absolute-voltage',
  'thermistor',
  'resistive',
  'resistor-ladder',
  'pwm-battery',
  'pwm-ground',
  'hall-frequency',
  'reluctance-frequency',
  'two-wire-current',
  'serial-sensor',
] as const;

/** Electrical classes of receivers: what looks at, or is driven by, the conductor. */
export const RECEIVER_CLASSES = [
  'input-pull-down',
  'input-pull-up-12v',
  'input-pull-up-5v',
  'input-analogue',
  'input-analogue-pull-up',
  'input-reluctance',
  'input-frequency',
  'coil-to-battery',
  'coil-to-ground',
  'lamp',
  'motor',
  'resistive-gauge',
] as const;

/** Supply, return and network conductors. */
export const SUPPLY_CLASSES = ['feed', 'power-ground', 'sensor-return', 'can-high', 'can-low', 'shield-drain'] as const;

export const ElectricalClass = z.enum([...DRIVER_CLASSES, ...RECEIVER_CLASSES, ...SUPPLY_CLASSES]);
export type ElectricalClass = z.infer<typeof ElectricalClass>;

/** The electrical character of one end of a conductor. Volts against the module's ground, amperes, ohms, hertz. */
export const Electrical = z.strictObject({
  class: ElectricalClass,
  activeLevel: z.enum(['high', 'low']).optional(),
  contact: z.enum(['normally-open', 'normally-closed']).optional(),
  momentary: z.boolean().optional(),
  openV: z.number().optional(),
  minV: z.number().optional(),
  maxV: z.number().optional(),
  thresholdLowV: z.number().optional(),
  thresholdHighV: z.number().optional(),
  pullOhm: Positive.optional(),
  pullToV: z.number().optional(),
  sourceOhm: NonNegative.optional(),
  maxA: NonNegative.optional(),
  loadA: NonNegative.optional(),
  inrushA: NonNegative.optional(),
  leakageA: NonNegative.optional(),
  ohm: z.tuple([NonNegative, NonNegative]).optional(),
  frequencyHz: z.tuple([NonNegative, NonNegative]).optional(),
  dutyPercent: z.tuple([NonNegative, NonNegative]).optional(),
  supply: Id.optional(),
  supplyAt: z.strictObject({ connector: z.string().max(300), cavity: z.string().max(32) }).optional(),
  returnAt: z.strictObject({ connector: z.string().max(300), cavity: z.string().max(32) }).optional(),
  suppressed: z.boolean().optional(),
  curve: Id.optional(),
});
export type Electrical = z.infer<typeof Electrical>;

/** The electrical quantity a wire's meaning is read from. */
export const WireQuantity = z.enum(['V', 'Ohm', '%', 'Hz', 'ms']);

/** What the levels of a wire mean: two states, a linear scale, a measured curve, or resistor codes. */
export const WireMeaning = z.union([
  z.strictObject({ active: Title, inactive: Title }),
  z.strictObject({
    scale: z.strictObject({ of: WireQuantity, factor: Exact, offset: Exact.optional(), range: ExactRange }),
    unit: z.string().max(64),
  }),
  z.strictObject({
    curve: z.strictObject({
      of: WireQuantity,
      points: z
        .array(z.tuple([Exact, Exact]))
        .min(2)
        .max(1000),
    }),
    unit: z.string().max(64),
  }),
  z.strictObject({
    codes: z
      .array(z.strictObject({ ohm: z.tuple([NonNegative, NonNegative]), state: Title }))
      .min(2)
      .max(64),
  }),
]);
export type WireMeaning = z.infer<typeof WireMeaning>;
