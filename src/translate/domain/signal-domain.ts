import {
  type Affine,
  type Interval,
  type Rational,
  ZERO,
  abs,
  applyAffine,
  ceil,
  compare,
  floor,
  intersect,
  invertAffine,
  mapAffine,
  parseExact,
} from '../../number/index.ts';
import { type Signal, signalKind } from '../../model/index.ts';
import { physicalRange, rawRange } from '../../can/index.ts';
import { unitOf } from './units-of.ts';
import type {
  Coding,
  NamedState,
  NumberDomain,
  RawSpan,
  SpecialRaw,
  StateDomain,
  ValueDomain,
} from './value-domain.ts';

const domains = new WeakMap<Signal, ValueDomain>();

/**
 * What a network signal can be. A number's interval is its declared range, if it has one with lo < hi, cut to what the field can
 * hold; without one it is what the field holds, less the not-available and error values at its ends. Kept for each signal object.
 */
export function domainOfSignal(signal: Signal): ValueDomain {
  const kept = domains.get(signal);
  if (kept) return kept;
  const domain = build(signal);
  domains.set(signal, domain);
  return domain;
}

function build(signal: Signal): ValueDomain {
  switch (signalKind(signal)) {
    case 'text':
      return { kind: 'text', lengthBits: signal.bits.length };
    case 'state':
      return stateDomain(signal);
    case 'number':
      return signal.number === 'float32' || signal.number === 'float64' ? floatDomain(signal) : integerDomain(signal);
  }
}

/** The scaling of a signal, exact; a number that cannot be read counts as 1 and 0 (the schema refuses it earlier). */
export function scalingOf(signal: Signal): Affine {
  return { factor: parseExact(signal.factor) ?? { num: 1n, den: 1n }, offset: parseExact(signal.offset) ?? ZERO };
}

/** Special raw values inside the field, each once, not-available before error where both name one. */
function specialsOf(signal: Signal): readonly SpecialRaw[] {
  if (signal.notAvailable === undefined && signal.error === undefined) return [];
  const seen = new Map<string, SpecialRaw>();
  const enter = (raws: Signal['notAvailable'], means: SpecialRaw['means']): void => {
    for (const raw of raws ?? []) {
      const text = BigInt(raw).toString();
      if (!seen.has(text)) seen.set(text, { raw: text, means, label: signal.states?.[text] ?? null });
    }
  };
  enter(signal.notAvailable, 'not-available');
  enter(signal.error, 'error');
  return [...seen.values()];
}

function declaredRange(signal: Signal): Interval | null {
  if (signal.range === undefined) return null;
  const lo = parseExact(signal.range[0]);
  const hi = parseExact(signal.range[1]);
  return lo !== null && hi !== null && compare(lo, hi) < 0 ? { lo, hi } : null;
}

function floatDomain(signal: Signal): NumberDomain {
  const kind = signal.number === 'float32' ? 'float32' : 'float64';
  const scaling = scalingOf(signal);
  const declared = declaredRange(signal);
  const held = physicalRange(kind, signal.bits.length, scaling);
  return {
    kind: 'number',
    unitText: signal.unit,
    unit: unitOf(signal.unit),
    interval: declared === null ? null : intersect(declared, held),
    resolution: null,
    coding: { kind: 'float', lengthBits: kind === 'float32' ? 32 : 64, scaling },
    specials: [],
  };
}

function integerDomain(signal: Signal): NumberDomain {
  const scaling = scalingOf(signal);
  const field = rawRange(signal.number === 'signed' ? 'signed' : 'unsigned', signal.bits.length);
  const specials = specialsOf(signal);
  const declared = declaredRange(signal);
  const usable = withoutSpecials(declared === null ? field : declaredRaws(declared, scaling, field), specials);
  const coding: Coding = {
    kind: 'integer',
    lengthBits: signal.bits.length,
    signed: signal.number === 'signed',
    scaling,
    field,
    usable,
  };
  return {
    kind: 'number',
    unitText: signal.unit,
    unit: unitOf(signal.unit),
    interval: usable === null ? null : mapAffine(asInterval(usable), scaling),
    resolution: scaling.factor.num === 0n ? null : abs(scaling.factor),
    coding,
    specials,
  };
}

function asInterval(span: RawSpan): Interval {
  return { lo: { num: span.lo, den: 1n }, hi: { num: span.hi, den: 1n } };
}

/** Raw values whose physical value lies within the declared range and which the field can hold; null when there is none. */
function declaredRaws(declared: Interval, scaling: Affine, field: RawSpan): RawSpan | null {
  if (scaling.factor.num === 0n) {
    return compare(declared.lo, scaling.offset) <= 0 && compare(scaling.offset, declared.hi) <= 0 ? field : null;
  }
  const wanted = mapAffine(declared, invertAffine(scaling));
  const lo = maximum(ceil(wanted.lo), field.lo);
  const hi = minimum(floor(wanted.hi), field.hi);
  return lo <= hi ? { lo, hi } : null;
}

function withoutSpecials(span: RawSpan | null, specials: readonly SpecialRaw[]): RawSpan | null {
  if (span === null || specials.length === 0) return span;
  const raws = new Set(specials.map(({ raw }) => raw));
  let { lo, hi } = span;
  while (lo <= hi && raws.has(hi.toString())) hi -= 1n;
  while (lo <= hi && raws.has(lo.toString())) lo += 1n;
  return lo <= hi ? { lo, hi } : null;
}

function maximum(a: bigint, b: bigint): bigint {
  return a > b ? a : b;
}
function minimum(a: bigint, b: bigint): bigint {
  return a < b ? a : b;
}

function stateDomain(signal: Signal): StateDomain {
  const specials = specialsOf(signal);
  const special = new Set(specials.map(({ raw }) => raw));
  const field = rawRange(signal.number === 'signed' ? 'signed' : 'unsigned', signal.bits.length);
  const named = Object.entries(signal.states ?? {})
    .filter(([raw]) => isRawOf(raw, field) && !special.has(raw))
    .map(([raw, label]): NamedState => ({ raw, label }));
  // One bit needs no names: its two values stand for themselves.
  if (signal.bits.length === 1) {
    for (const raw of [field.lo, field.hi].map(String)) {
      if (!special.has(raw) && !named.some((state) => state.raw === raw)) named.push({ raw, label: raw });
    }
  }
  named.sort((a, b) => (BigInt(a.raw!) < BigInt(b.raw!) ? -1 : 1));
  return {
    kind: 'state',
    states: named,
    specials,
    unnamed: Number(field.hi - field.lo + 1n) - named.length - specials.filter(({ raw }) => isRawOf(raw, field)).length,
    lengthBits: signal.bits.length,
    field,
  };
}

/** Whether a text is a raw value of the field in plain decimal digits. */
export function isRawOf(text: string, field: RawSpan): boolean {
  if (!/^-?\d{1,20}$/.test(text)) return false;
  const raw = BigInt(text);
  return raw >= field.lo && raw <= field.hi && raw.toString() === text;
}

/** The physical value of a raw integer, exact. */
export function physicalOfRaw(raw: bigint, scaling: Affine): Rational {
  return applyAffine(scaling, { num: raw, den: 1n });
}
