import { type Rational, add, div, roundHalfAway, sub } from '../../number/index.ts';
import { floatRawOf } from '../../can/index.ts';
import { physicalOfRaw } from '../domain/signal-domain.ts';
import type { Coding, NumberDomain, StateDomain, ValueDomain } from '../domain/value-domain.ts';
import { specialFor } from '../analysis/specials.ts';
import { type LiveValue, noValue } from './live-value.ts';
import { levelFor, physicalOfLevel } from './source-end.ts';

/** What is written into the target, and what the reader makes of it. */
export interface TargetWriting {
  /** Raw value for a field; null on a wire, or where nothing is written. */
  readonly raw: bigint | number | null;
  /** Electrical quantity for a wire that carries a number; null otherwise. */
  readonly level: Rational | null;
  /** What the reader reads. */
  readonly value: LiveValue;
  /** Which end of the target the value ran into. */
  readonly clipped: 'none' | 'low' | 'high';
  /** What the reader reads minus what was delivered, in the target's unit; null unless both are numbers. */
  readonly error: Rational | null;
  /** The target has no raw value for "no value": the route does what it does on loss. */
  readonly asOnLoss: boolean;
}

const NOTHING: TargetWriting = {
  raw: null,
  level: null,
  value: noValue('fault'),
  clipped: 'none',
  error: null,
  asOnLoss: true,
};

/** Writes a delivered value into the target. */
export function writeTarget(target: ValueDomain | null, delivered: LiveValue): TargetWriting {
  if (target === null) return NOTHING;
  if (delivered.kind === 'none') {
    const special = specialFor(target, delivered.means);
    if (special === null) return { ...NOTHING, value: delivered };
    return { ...NOTHING, raw: BigInt(special.raw), value: noValue('special', special.means), asOnLoss: false };
  }
  if (target.kind === 'number' && delivered.kind === 'number') return writeNumber(target, delivered.value);
  if (target.kind === 'state' && delivered.kind === 'state') {
    return writeState(target, delivered.unnamed ? null : delivered.label);
  }
  return NOTHING;
}

function writeNumber(target: NumberDomain, value: Rational): TargetWriting {
  const { coding } = target;
  if (coding === null) return NOTHING;
  switch (coding.kind) {
    case 'integer': {
      const encoded = encodeRaw(value, coding, target);
      if (encoded === null) return NOTHING;
      const read = physicalOfRaw(encoded.raw, coding.scaling);
      return {
        ...encoded,
        level: null,
        value: { kind: 'number', value: read },
        error: sub(read, value),
        asOnLoss: false,
      };
    }
    case 'float': {
      const { kept, clipped } = within(value, target);
      const written = floatRawOf(kept, coding.scaling, coding.lengthBits === 32 ? 'float32' : 'float64');
      const read = add(kept, written.error);
      return {
        raw: written.raw,
        level: null,
        value: { kind: 'number', value: read },
        clipped: clipped === 'none' ? written.clipped : clipped,
        error: sub(read, value),
        asOnLoss: false,
      };
    }
    case 'wire-scale':
    case 'wire-curve': {
      const { kept, clipped } = within(value, target);
      const level = levelFor(kept, coding);
      if (level === null) return NOTHING;
      const read = physicalOfLevel(level, coding);
      return {
        raw: null,
        level,
        value: { kind: 'number', value: read },
        clipped,
        error: sub(read, value),
        asOnLoss: false,
      };
    }
  }
}

/** A value kept within what the target declares. */
function within(
  value: Rational,
  { interval }: NumberDomain,
): { readonly kept: Rational; readonly clipped: TargetWriting['clipped'] } {
  if (interval !== null && below(value, interval.lo)) return { kept: interval.lo, clipped: 'low' };
  if (interval !== null && below(interval.hi, value)) return { kept: interval.hi, clipped: 'high' };
  return { kept: value, clipped: 'none' };
}

function below(a: Rational, b: Rational): boolean {
  return a.num * b.den < b.num * a.den;
}

/**
 * Physical → raw of an integer field: nearest raw value, halves away from zero, kept within the usable ones. A value that would
 * land on a not-available or error raw value inside them takes the next one below that is none.
 * Null when the field has no usable raw value or a factor of 0.
 */
export function encodeRaw(
  value: Rational,
  coding: Extract<Coding, { kind: 'integer' }>,
  target: NumberDomain,
): { readonly raw: bigint; readonly clipped: 'none' | 'low' | 'high' } | null {
  const { usable, scaling } = coding;
  if (usable === null || scaling.factor.num === 0n) return null;
  const wanted = roundHalfAway(div(sub(value, scaling.offset), scaling.factor));
  const lowRaw = wanted < usable.lo;
  const highRaw = wanted > usable.hi;
  const kept = lowRaw ? usable.lo : highRaw ? usable.hi : wanted;
  const turned = scaling.factor.num < 0n;
  const clipped = lowRaw ? (turned ? 'high' : 'low') : highRaw ? (turned ? 'low' : 'high') : 'none';
  return { raw: besideSpecials(kept, usable.lo, target), clipped };
}

/** The raw value itself, or the nearest below that is no special one; the least usable one never is. */
export function besideSpecials(raw: bigint, lo: bigint, { specials }: NumberDomain): bigint {
  let beside = raw;
  while (beside > lo && specials.some((special) => special.raw === beside.toString())) beside -= 1n;
  return beside;
}

function writeState(target: StateDomain, label: string | null): TargetWriting {
  const state = label === null ? undefined : target.states.find((entry) => entry.label === label);
  if (state === undefined) return writeTarget(target, noValue('no-image'));
  return {
    ...NOTHING,
    raw: state.raw === null ? null : BigInt(state.raw),
    value: { kind: 'state', label: state.label },
    asOnLoss: false,
  };
}
