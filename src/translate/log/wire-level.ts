import { type Rational, mul, parseExact, rational, roundHalfAway } from '../../number/index.ts';
import type { Wire } from '../../model/index.ts';
import { conversionBetween, findUnit } from '../../units/index.ts';
import type { WireQuantityName } from '../domain/value-domain.ts';
import { domainOfWire } from '../domain/wire-domain.ts';
import type { WireLevel } from '../replay/types.ts';
import { printable } from './printable.ts';

/** A level, or what is wrong with the text. */
export type ReadLevel = { readonly level: WireLevel } | { readonly problem: string };

/** How the levels of one wire are written. */
export interface LevelWords {
  /** The quantity a measured wire is read by; null for a switched one. */
  readonly of: WireQuantityName | null;
  read(text: string): ReadLevel;
}

const OPEN: ReadLevel = { level: { kind: 'open' } };
const ACTIVE: ReadLevel = { level: { kind: 'switched', active: true } };
const INACTIVE: ReadLevel = { level: { kind: 'switched', active: false } };

/**
 * The words for a wire. Switched: `active` and `inactive`, or what the platform calls the two. Measured (also resistor codes): a
 * decimal number and a unit that converts to the wire's quantity, `2.35 V`, `1.8 kOhm`, `45 %`, `120 Hz`, `3 ms`; kept in
 * thousandths of the quantity, rounded half away from zero. Either: `open`, not driven.
 */
export function levelWords(wire: Wire): LevelWords {
  const of = quantityOf(wire);
  return of === null ? switchedWords(wire) : { of, read: (text) => (text === 'open' ? OPEN : measured(text, of)) };
}

function quantityOf(wire: Wire): WireQuantityName | null {
  const domain = domainOfWire(wire);
  if (domain.kind === 'number') {
    const { coding } = domain;
    return coding?.kind === 'wire-scale' || coding?.kind === 'wire-curve' ? coding.of : 'V';
  }
  return wire.meaning !== undefined && 'codes' in wire.meaning ? 'Ohm' : null;
}

function switchedWords({ meaning }: Wire): LevelWords {
  const words = new Map<string, ReadLevel>([
    ['active', ACTIVE],
    ['inactive', INACTIVE],
    ['open', OPEN],
  ]);
  let known = '"active" or "inactive"';
  if (meaning !== undefined && 'active' in meaning) {
    words.set(meaning.active, ACTIVE);
    words.set(meaning.inactive, INACTIVE);
    known += `, or "${meaning.active}" or "${meaning.inactive}"`;
  }
  return {
    of: null,
    read: (text) => words.get(text) ?? { problem: `"${printable(text)}" is no level of this wire: ${known}` },
  };
}

const NUMBER = /^([+-]?\d{1,15}(?:\.\d{0,15})?)\s*([^\s\d.].*)$/;
const THOUSAND = rational(1000n, 1n);
const MOST = 2n ** 31n - 1n;

function measured(text: string, of: WireQuantityName): ReadLevel {
  const parts = NUMBER.exec(text);
  if (parts === null)
    return { problem: `"${printable(text)}" is no level: a decimal number and its unit are needed, as in "2.5 ${of}"` };
  const unit = parts[2]!;
  const factor = thousandthsPer(unit, of);
  if (factor === null) return { problem: `"${printable(unit)}" is no unit of this wire, which is read in ${of}` };
  const value = roundHalfAway(mul(parseExact(parts[1]!)!, factor));
  if (value > MOST || value < -MOST) return { problem: `"${printable(text)}" is beyond ${Number(MOST) / 1000} ${of}` };
  return { level: { kind: 'measured', thousandths: Number(value) } };
}

/** Answers by quantity and unit text; a log repeats few. */
const FACTORS = new Map<string, Rational | null>();
const MOST_FACTORS = 256;

function thousandthsPer(unitText: string, of: WireQuantityName): Rational | null {
  const key = `${of} ${unitText}`;
  const known = FACTORS.get(key);
  if (known !== undefined) return known;
  const from = findUnit(unitText);
  const conversion = from === null ? null : conversionBetween(from.unit, findUnit(of)!.unit);
  const factor =
    conversion?.kind === 'affine' && conversion.affine.offset.num === 0n
      ? mul(conversion.affine.factor, THOUSAND)
      : null;
  if (FACTORS.size >= MOST_FACTORS) FACTORS.clear();
  FACTORS.set(key, factor);
  return factor;
}

/** A level as text that `levelWords` of the same wire reads back. `of` is the wire's quantity. */
export function levelText(level: WireLevel, of: WireQuantityName | null): string {
  switch (level.kind) {
    case 'open':
      return 'open';
    case 'switched':
      return level.active ? 'active' : 'inactive';
    case 'measured':
      return `${decimal(level.thousandths)} ${of ?? 'V'}`;
  }
}

function decimal(thousandths: number): string {
  const whole = Math.abs(thousandths);
  const fraction = String(whole % 1000)
    .padStart(3, '0')
    .replace(/0+$/, '');
  return `${thousandths < 0 ? '-' : ''}${Math.floor(whole / 1000)}${fraction === '' ? '' : `.${fraction}`}`;
}
