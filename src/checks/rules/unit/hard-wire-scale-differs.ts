import { applyAffine, compare, toNumber, toRational, type Affine, type Rational } from '../../../number/index.ts';
import { conversionBetween } from '../../../units/index.ts';
import { domainOfWire, unitOf } from '../../../translate/index.ts';
import type { Wire } from '../../../model/index.ts';
import { affineText } from '../../numbers.ts';
import { commonPractice, named, read, type Rule } from '../../rule.ts';
import { wireCase } from '../../examples/wire-case.ts';
import type { WireInput } from '../../examples/documents.ts';

export const rule: Rule = {
  id: 'unit/hard-wire-scale-differs',
  severity: 'stop',
  title: 'A hard wire joins two ends that read the level differently',
  why: 'A conductor carries volts, ohms, hertz or duty, not values: 4,000 against 8,000 pulses per mile doubles the speed, a 240–33 Ω gauge on a 0–90 Ω sender reads nearly full at half.',
  sources: [
    { source: 'Computed: (240 − 45)/(240 − 33) = 94 % at half tank of a 0–90 Ω sender', provenance: 'computed' },
    read('49 USC 32703 (odometer)'),
    commonPractice('sender and gauge of one family, sensor and calibration of one curve'),
  ],
  check: {
    route(context, route) {
      if (route.carrier !== 'hard-wire' || route.from.length !== 1) return null;
      const source = context.pairing.find(route.from[0]!);
      const target = context.pairing.find(route.to);
      if (source?.kind !== 'wire' || target?.kind !== 'wire') return null;
      const difference = differenceOf(source.wire, target.wire);
      if (difference === null) return null;
      return [
        {
          message: `${route.id}: ${difference.message}`,
          mask: context.maskOf(route),
          values: difference.values,
        },
      ];
    },
  },
  examples: {
    failing: () => ({
      says: 'The speed sensor gives 4,000 pulses per mile, the input expects 8,000.',
      documents: pulses(0.45),
      expect: ['route:the-route'],
    }),
    passing: () => ({ says: 'Both count 4,000.', documents: pulses(0.9), expect: [] }),
  },
};

interface Difference {
  readonly message: string;
  readonly values: readonly ReturnType<typeof named>[];
}

function differenceOf(source: Wire, target: Wire): Difference | null {
  const from = domainOfWire(source);
  const to = domainOfWire(target);
  // Without a meaning at one end there is nothing to compare: the platform does not say how the level is read.
  if (
    from.kind !== 'number' ||
    to.kind !== 'number' ||
    !source.meaning ||
    !target.meaning ||
    !from.coding ||
    !to.coding
  )
    return null;
  if (from.coding.kind !== 'wire-scale' && from.coding.kind !== 'wire-curve') return null;
  if (to.coding.kind !== 'wire-scale' && to.coding.kind !== 'wire-curve') return null;
  if (from.coding.of !== to.coding.of) {
    return {
      message: `the source is read from ${from.coding.of}, the target from ${to.coding.of}`,
      values: [named('source quantity', from.coding.of), named('target quantity', to.coding.of)],
    };
  }
  const unit = unitsAlike(from.unitText, to.unitText);
  if (unit === null) return null;
  if (from.coding.kind === 'wire-scale' && to.coding.kind === 'wire-scale') {
    const a = from.coding.scaling;
    const b = to.coding.scaling;
    const here = { factor: applyAffine({ ...unit, offset: ZERO }, a.factor), offset: applyAffine(unit, a.offset) };
    if (near(here.factor, b.factor) && near(here.offset, b.offset)) return null;
    return {
      message: `the source means ${affineText(a)} ${from.unitText}, the target reads ${affineText(b)} ${to.unitText}`,
      values: [
        named('source scale', affineText(a), from.unitText),
        named('target scale', affineText(b), to.unitText),
        named('of', from.coding.of),
      ],
    };
  }
  const worst = worstOfCurves(from.coding, to.coding, unit);
  if (worst === null) return null;
  return {
    message: `at ${decimal(worst.x)} ${from.coding.of} the source means ${decimal(worst.here)} ${to.unitText}, the target reads ${decimal(worst.there)} ${to.unitText}: the curves are of different families`,
    values: [
      named('at', decimal(worst.x), from.coding.of),
      named('source', decimal(worst.here), to.unitText),
      named('target', decimal(worst.there), to.unitText),
    ],
  };
}

const ZERO = toRational(0);

function unitsAlike(from: string, to: string): Affine | null {
  if (from === to) return { factor: toRational(1), offset: ZERO };
  const a = unitOf(from);
  const b = unitOf(to);
  if (!a || !b) return null;
  const conversion = conversionBetween(a, b);
  return conversion.kind === 'affine' ? conversion.affine : null;
}

/** Within 1 %: sensors are no better. */
function near(a: Rational, b: Rational): boolean {
  const x = toNumber(a);
  const y = toNumber(b);
  return compare(a, b) === 0 || Math.abs(x - y) <= 0.01 * Math.max(Math.abs(x), Math.abs(y));
}

type WireCoding = Extract<
  NonNullable<Extract<ReturnType<typeof domainOfWire>, { kind: 'number' }>['coding']>,
  { of: unknown }
>;

function worstOfCurves(
  from: WireCoding,
  to: WireCoding,
  unit: Affine,
): { x: number; here: number; there: number } | null {
  const xs = [from, to].flatMap((coding) => (coding.kind === 'wire-curve' ? coding.points.map(([x]) => float(x)) : []));
  const factor = float(unit.factor);
  const offset = float(unit.offset);
  let worst: { x: number; here: number; there: number } | null = null;
  const spans = xs.map((x) => Math.abs((valueAt(to, x) ?? 0) as number));
  const span = Math.max(1e-9, ...spans) - Math.min(...spans);
  for (const x of xs) {
    const here = valueAt(from, x);
    const there = valueAt(to, x);
    if (here === null || there === null) continue;
    const converted = here * factor + offset;
    const off = Math.abs(converted - there);
    // Within 5 % of the target's span a sensor of the family may differ (common practice).
    if (off > 0.05 * Math.max(span, 1e-9) && (worst === null || off > Math.abs(worst.here - worst.there))) {
      worst = { x, here: converted, there };
    }
  }
  return worst;
}

function valueAt(coding: WireCoding, x: number): number | null {
  if (coding.kind === 'wire-scale') return float(coding.scaling.factor) * x + float(coding.scaling.offset);
  const points = coding.points.map(([a, b]) => [float(a), float(b)] as const);
  for (let index = 1; index < points.length; index += 1) {
    const [x0, y0] = points[index - 1]!;
    const [x1, y1] = points[index]!;
    if (x >= x0 && x <= x1) return x1 === x0 ? y1 : y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
  }
  return null;
}

function float(value: Rational): number {
  return toNumber(value);
}

function decimal(value: number): string {
  return Number(value.toPrecision(4)).toString();
}

function pulses(kilometresPerHourPerHertz: number) {
  const speed = (factor: number): Partial<WireInput> => ({
    function: 'vehicle-speed',
    meaning: { scale: { of: 'Hz', factor, offset: 0, range: [0, 250] }, unit: 'km/h' },
  });
  return wireCase({
    source: { ...speed(0.9), electrical: { class: 'hall-frequency' } },
    target: { ...speed(kilometresPerHourPerHertz), module: 'cluster', electrical: { class: 'input-frequency' } },
  });
}
