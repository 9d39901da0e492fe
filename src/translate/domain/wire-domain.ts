import {
  type Interval,
  type Rational,
  ZERO,
  ONE,
  compare,
  intervalOf,
  maxOf,
  minOf,
  parseExact,
} from '../../number/index.ts';
import { type Wire, wireKind } from '../../model/index.ts';
import { unitOf } from './units-of.ts';
import type { Coding, NumberDomain, StateDomain, ValueDomain, WireQuantityName } from './value-domain.ts';

const domains = new WeakMap<Wire, ValueDomain>();

/**
 * What a discrete wire can be. Switched: its two levels by their meaning (`active`, `inactive` where the platform gives none).
 * Coded: the states of its codes. Scaled: a number over the declared range, which is in the meaning's unit. Curved: a number
 * between the least and greatest value of its points. Without a meaning, the electrical quantity itself. Kept for each wire object.
 */
export function domainOfWire(wire: Wire): ValueDomain {
  const kept = domains.get(wire);
  if (kept) return kept;
  const domain = wireKind(wire) === 'state' ? stateDomain(wire) : numberDomain(wire);
  domains.set(wire, domain);
  return domain;
}

function stateDomain(wire: Wire): StateDomain {
  const { meaning } = wire;
  const labels =
    meaning && 'codes' in meaning
      ? [...new Set(meaning.codes.map(({ state }) => state))]
      : meaning && 'active' in meaning
        ? [meaning.active, meaning.inactive]
        : ['active', 'inactive'];
  return {
    kind: 'state',
    states: labels.map((label) => ({ label, raw: null })),
    specials: [],
    unnamed: 0,
    lengthBits: null,
    field: null,
  };
}

function numberDomain(wire: Wire): NumberDomain {
  const { meaning } = wire;
  if (meaning && 'scale' in meaning) {
    const { of, factor, offset, range } = meaning.scale;
    const scaling = { factor: parseExact(factor) ?? ONE, offset: parseExact(offset ?? 0) ?? ZERO };
    return numberOf(meaning.unit, declared(range), { kind: 'wire-scale', of, scaling });
  }
  if (meaning && 'curve' in meaning) {
    const points = risingPoints(meaning.curve.points);
    const values = points.map(([, physical]) => physical);
    const [first = ZERO, ...rest] = values;
    const interval = { lo: minOf(first, ...rest), hi: maxOf(first, ...rest) };
    return numberOf(meaning.unit, interval, { kind: 'wire-curve', of: meaning.curve.of, points });
  }
  const [of, interval] = bareQuantity(wire);
  return numberOf(of, interval, { kind: 'wire-scale', of, scaling: { factor: ONE, offset: ZERO } });
}

function numberOf(unitText: string, interval: Interval | null, coding: Coding): NumberDomain {
  return { kind: 'number', unitText, unit: unitOf(unitText), interval, resolution: null, coding, specials: [] };
}

function declared(range: readonly [string | number, string | number]): Interval | null {
  const lo = parseExact(range[0]);
  const hi = parseExact(range[1]);
  return lo !== null && hi !== null && compare(lo, hi) < 0 ? { lo, hi } : null;
}

/** Points in rising order of the electrical quantity; a measured table is often written falling. */
export function risingPoints(
  points: readonly (readonly [string | number, string | number])[],
): readonly (readonly [Rational, Rational])[] {
  return points
    .map(([x, y]) => [parseExact(x) ?? ZERO, parseExact(y) ?? ZERO] as const)
    .toSorted((a, b) => compare(a[0], b[0]));
}

/** The electrical quantity of a wire's class and the span its electrical character declares, in that quantity. */
function bareQuantity(wire: Wire): readonly [WireQuantityName, Interval | null] {
  const { electrical } = wire;
  const between = (lo: number | undefined, hi: number | undefined): Interval | null => {
    const a = lo === undefined ? null : parseExact(lo);
    const b = hi === undefined ? null : parseExact(hi);
    return a === null || b === null || compare(a, b) === 0 ? null : intervalOf(a, b);
  };
  switch (electrical.class) {
    case 'thermistor':
    case 'resistive':
    case 'resistor-ladder':
    case 'resistive-gauge':
      return ['Ohm', between(electrical.ohm?.[0], electrical.ohm?.[1])];
    case 'pwm-battery':
    case 'pwm-ground':
      return ['%', between(electrical.dutyPercent?.[0] ?? 0, electrical.dutyPercent?.[1] ?? 100)];
    case 'hall-frequency':
    case 'reluctance-frequency':
    case 'input-frequency':
    case 'input-reluctance':
    case 'two-wire-current':
      return ['Hz', between(electrical.frequencyHz?.[0], electrical.frequencyHz?.[1])];
    case 'ratiometric-5v':
      return ['V', between(electrical.minV ?? 0, electrical.maxV ?? 5)];
    default:
      return ['V', between(electrical.minV, electrical.maxV)];
  }
}
