import { type Rational, applyAffine, compare, div, roundHalfAway, sub, toNumber } from '../../number/index.ts';
import { rationalOfDouble } from '../../can/index.ts';
import type { Coding, NumberDomain, StateDomain, ValueDomain } from '../domain/value-domain.ts';
import { physicalOfRaw } from '../domain/signal-domain.ts';
import { throughPoints, valueAt } from '../function/pieces.ts';
import { type LiveValue, noValue } from './live-value.ts';

/** What a person or a log gives at the source end. */
export type SourceInput =
  /** The raw integer of a field (a float field: its value). */
  | { readonly kind: 'raw'; readonly raw: bigint | number }
  /** A physical value in the source's unit; a field takes the raw value nearest to it. */
  | { readonly kind: 'physical'; readonly value: Rational }
  /** The electrical quantity on a wire, in the unit of its coding (V, Ohm, %, Hz, ms). */
  | { readonly kind: 'level'; readonly quantity: Rational }
  | { readonly kind: 'state'; readonly label: string };

/** A source as it enters the steps: what its field or wire holds, and what that means. */
export interface SourceReading {
  /** Raw value of the field; null on a wire, or where nothing is given. */
  readonly raw: bigint | number | null;
  /** Electrical quantity on a wire; null for a field. */
  readonly level: Rational | null;
  readonly value: LiveValue;
}

const ABSENT: SourceReading = { raw: null, level: null, value: noValue('absent') };

/** Reads one source. An input that cannot be one of this source's (a state for a number) counts as absent. */
export function readSource(domain: ValueDomain | null, input: SourceInput | null): SourceReading {
  if (domain === null || input === null) return ABSENT;
  switch (domain.kind) {
    case 'number':
      return readNumber(domain, input);
    case 'state':
      return readState(domain, input);
    case 'text':
    case 'frame':
      return ABSENT;
  }
}

function readNumber(domain: NumberDomain, input: SourceInput): SourceReading {
  const { coding } = domain;
  if (coding === null || input.kind === 'state') return ABSENT;
  switch (coding.kind) {
    case 'integer': {
      if (
        input.kind === 'level' ||
        (input.kind === 'raw' && typeof input.raw === 'number' && !Number.isInteger(input.raw))
      )
        return ABSENT;
      const raw = input.kind === 'raw' ? BigInt(input.raw) : nearestRaw(input.value, coding);
      if (raw < coding.field.lo || raw > coding.field.hi) return ABSENT;
      const special = domain.specials.find((entry) => entry.raw === raw.toString());
      return {
        raw,
        level: null,
        value: special
          ? noValue('special', special.means)
          : { kind: 'number', value: physicalOfRaw(raw, coding.scaling) },
      };
    }
    case 'float': {
      if (input.kind === 'level') return ABSENT;
      const raw = input.kind === 'raw' ? Number(input.raw) : toNumber(unscaled(input.value, coding.scaling));
      const held = coding.lengthBits === 32 ? Math.fround(raw) : raw;
      if (!Number.isFinite(held)) return { raw: held, level: null, value: noValue('special', 'error') };
      return {
        raw: held,
        level: null,
        value: { kind: 'number', value: applyAffine(coding.scaling, rationalOfDouble(held)) },
      };
    }
    case 'wire-scale':
    case 'wire-curve': {
      if (input.kind === 'raw') return ABSENT;
      if (input.kind === 'physical')
        return { raw: null, level: levelFor(input.value, coding), value: { kind: 'number', value: input.value } };
      return {
        raw: null,
        level: input.quantity,
        value: { kind: 'number', value: physicalOfLevel(input.quantity, coding) },
      };
    }
  }
}

function unscaled(value: Rational, { factor, offset }: { factor: Rational; offset: Rational }): Rational {
  return factor.num === 0n ? { num: 0n, den: 1n } : div(sub(value, offset), factor);
}

function nearestRaw(value: Rational, coding: Extract<Coding, { kind: 'integer' }>): bigint {
  const raw = roundHalfAway(unscaled(value, coding.scaling));
  return raw < coding.field.lo ? coding.field.lo : raw > coding.field.hi ? coding.field.hi : raw;
}

/** What a level on a wire means; outside the points of a curve its end values hold. */
export function physicalOfLevel(
  quantity: Rational,
  coding: Extract<Coding, { kind: 'wire-scale' | 'wire-curve' }>,
): Rational {
  switch (coding.kind) {
    case 'wire-scale':
      return applyAffine(coding.scaling, quantity);
    case 'wire-curve':
      return valueAt(throughPoints(coding.points, 'clamp'), quantity)!;
  }
}

/** The level that means a value: of several on a bent curve, the lowest; for a value beyond the curve, its nearest end. Null for a factor of 0. */
export function levelFor(
  value: Rational,
  coding: Extract<Coding, { kind: 'wire-scale' | 'wire-curve' }>,
): Rational | null {
  switch (coding.kind) {
    case 'wire-scale':
      return coding.scaling.factor.num === 0n ? null : unscaled(value, coding.scaling);
    case 'wire-curve': {
      const { points } = coding;
      for (let at = 1; at < points.length; at += 1) {
        const [x0, y0] = points[at - 1]!;
        const [x1, y1] = points[at]!;
        const [low, high] = compare(y0, y1) <= 0 ? [y0, y1] : [y1, y0];
        if (compare(value, low) < 0 || compare(high, value) < 0) continue;
        if (compare(y0, y1) === 0) return x0;
        return valueAt(
          throughPoints(
            compare(y0, y1) < 0
              ? [
                  [y0, x0],
                  [y1, x1],
                ]
              : [
                  [y1, x1],
                  [y0, x0],
                ],
            'clamp',
          ),
          value,
        );
      }
      const nearest = points.reduce((best, point) => (closer(point[1], best[1], value) ? point : best), points[0]!);
      return nearest[0];
    }
  }
}

function closer(a: Rational, b: Rational, to: Rational): boolean {
  const size = (r: Rational): Rational => (r.num < 0n ? { num: -r.num, den: r.den } : r);
  return compare(size(sub(a, to)), size(sub(b, to))) < 0;
}

function readState(domain: StateDomain, input: SourceInput): SourceReading {
  if (input.kind === 'state') {
    const state = domain.states.find(({ label }) => label === input.label);
    if (state === undefined) return ABSENT;
    return {
      raw: state.raw === null ? null : BigInt(state.raw),
      level: null,
      value: { kind: 'state', label: state.label },
    };
  }
  if (input.kind !== 'raw' || domain.field === null) return ABSENT;
  const raw = BigInt(input.raw);
  if (raw < domain.field.lo || raw > domain.field.hi) return ABSENT;
  const text = raw.toString();
  const special = domain.specials.find((entry) => entry.raw === text);
  if (special !== undefined) return { raw, level: null, value: noValue('special', special.means) };
  const state = domain.states.find((entry) => entry.raw === text);
  if (state !== undefined) return { raw, level: null, value: { kind: 'state', label: state.label } };
  // Its digits stand for it, unless they are the name of another raw value (a gear "3" with raw value 4).
  const taken = domain.states.some(({ label }) => label === text);
  return { raw, level: null, value: taken ? noValue('no-image') : { kind: 'state', label: text, unnamed: true } };
}
