/**
 * raw ↔ physical of one signal, exactly: physical = raw · factor + offset, in decimal arithmetic over the text of the
 * two numbers. A double appears only where it holds the exact value, and for float signals.
 */
import type { DbcSignal } from '../model.ts';
import { decimalText, divideRounded, EXACT_POWERS_OF_TEN, exactDecimal, powerOfTen } from '../numbers.ts';
import type { ExactDecimal } from '../numbers.ts';
import { hasUsableLength } from './layout.ts';
import type { RawHalves } from './layout.ts';

/** A raw value: whole for integer signals, a double for float signals. */
export type DbcRaw = bigint | number;

/** A physical value: a number when its shortest decimal is exact, else the exact decimal as text. */
export type DbcPhysical = number | string;

/** `factor` and `offset` of a signal as whole numbers over one power of ten: physical = (raw·factor + offset) · 10^exponent. */
interface Scaling {
  readonly factor: bigint;
  readonly offset: bigint;
  readonly exponent: number;
  /** The same two when a double holds them exactly, else `NaN`: for the fast path. */
  readonly smallFactor: number;
  readonly smallOffset: number;
}

const scalings = new WeakMap<DbcSignal, Scaling | 'inexact'>();

function scalingOf(signal: DbcSignal): Scaling | 'inexact' {
  let scaling = scalings.get(signal);
  if (scaling === undefined) {
    scaling = deriveScaling(signal);
    scalings.set(signal, scaling);
  }
  return scaling;
}

function deriveScaling(signal: DbcSignal): Scaling | 'inexact' {
  const factor = exactDecimal(signal.factor.text);
  const offset = exactDecimal(signal.offset.text);
  if (factor === null || offset === null) return 'inexact';
  const exponent = Math.min(factor.exponent, offset.exponent, 0);
  const wholeFactor = atExponent(factor, exponent);
  const wholeOffset = atExponent(offset, exponent);
  return {
    factor: wholeFactor,
    offset: wholeOffset,
    exponent,
    smallFactor: exactDouble(wholeFactor),
    smallOffset: exactDouble(wholeOffset),
  };
}

function atExponent(decimal: ExactDecimal, exponent: number): bigint {
  return decimal.mantissa * powerOfTen(decimal.exponent - exponent);
}

function exactDouble(value: bigint): number {
  const double = Number(value);
  return Number.isSafeInteger(double) ? double : NaN;
}

/** Below this a whole number has at most 15 digits, and the decimal it stands for is the shortest of its double. */
const FIFTEEN_DIGITS = 1e15;

/** The raw value from the bits of a field: two's complement for signed signals, IEEE 754 for float signals. */
export function rawOf(signal: DbcSignal, { high, low }: RawHalves): DbcRaw {
  if (signal.number !== 'integer') return floatOf(signal, high, low);
  const { lengthBits } = signal;
  if (lengthBits <= 32) {
    return BigInt(signal.signed && low >= 2 ** (lengthBits - 1) ? low - 2 ** lengthBits : low);
  }
  const unsigned = (BigInt(high) << 32n) | BigInt(low);
  return signal.signed ? BigInt.asIntN(lengthBits, unsigned) : unsigned;
}

function floatOf(signal: DbcSignal, high: number, low: number): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setUint32(0, high);
  view.setUint32(4, low);
  return signal.number === 'float32' ? view.getFloat32(4) : view.getFloat64(0);
}

/** True when the length of the field fits its number kind: 1 to 64 bits, 32 and 64 for the float kinds. */
export function isCodable(signal: DbcSignal): boolean {
  if (signal.number === 'float32') return signal.lengthBits === 32;
  if (signal.number === 'float64') return signal.lengthBits === 64;
  return hasUsableLength(signal);
}

/**
 * Physical value of a raw one, in the unit of the signal. Exact for integer signals: a number when its shortest decimal is the
 * exact value, else the exact decimal as text. In double arithmetic for float signals, and when factor or offset has
 * more than 400 digits.
 */
export function physicalOf(signal: DbcSignal, raw: DbcRaw): DbcPhysical {
  const scaling = scalingOf(signal);
  if (typeof raw === 'number' || scaling === 'inexact') return Number(raw) * signal.factor.value + signal.offset.value;
  const whole = Number(raw) * scaling.smallFactor + scaling.smallOffset;
  // Every step is below 2^53 when the sum of the magnitudes is: then no rounding has happened.
  const bound = Math.abs(Number(raw) * scaling.smallFactor) + Math.abs(scaling.smallOffset);
  const divisor = EXACT_POWERS_OF_TEN[-scaling.exponent];
  if (bound < FIFTEEN_DIGITS && divisor !== undefined) return whole / divisor;
  const exact = decimalText({ mantissa: raw * scaling.factor + scaling.offset, exponent: scaling.exponent });
  const nearest = Number(exact);
  const shortest = exactDecimal(String(nearest));
  return shortest !== null && decimalText(shortest) === exact ? nearest : exact;
}

/** What a physical value cannot be turned into a raw value for. */
export type ScalingProblem = 'not-a-number' | 'factor-zero';

/**
 * Raw value nearest to a physical one, half away from zero; not limited to what the field can hold. A number is taken as its
 * shortest decimal, a text as the decimal it writes.
 */
export function nearestRaw(signal: DbcSignal, physical: number | bigint | string): DbcRaw | ScalingProblem {
  if (signal.number !== 'integer') return floatRaw(signal, physical);
  const value = exactDecimal(String(physical).trim());
  if (value === null) return 'not-a-number';
  const scaling = scalingOf(signal);
  if (scaling === 'inexact') {
    const raw = (Number(physical) - signal.offset.value) / signal.factor.value;
    if (Number.isFinite(raw)) return BigInt(Math.sign(raw) * Math.round(Math.abs(raw)));
    return signal.factor.value === 0 ? 'factor-zero' : 'not-a-number';
  }
  if (scaling.factor === 0n) return 'factor-zero';
  const exponent = Math.min(value.exponent, scaling.exponent);
  const stretch = powerOfTen(scaling.exponent - exponent);
  return divideRounded(atExponent(value, exponent) - scaling.offset * stretch, scaling.factor * stretch);
}

function floatRaw(signal: DbcSignal, physical: number | bigint | string): number | ScalingProblem {
  if (signal.factor.value === 0) return 'factor-zero';
  const value = typeof physical === 'string' ? floatValue(physical.trim()) : Number(physical);
  if (value === null) return 'not-a-number';
  return (value - signal.offset.value) / signal.factor.value;
}

function floatValue(text: string): number | null {
  if (text === 'NaN') return NaN;
  const value = Number(text);
  return text === '' || Number.isNaN(value) ? null : value;
}

/** Least and greatest raw value of an integer signal. */
export function rawLimits(signal: DbcSignal): { readonly least: bigint; readonly greatest: bigint } {
  const { lengthBits, signed } = signal;
  if (!signed) return { least: 0n, greatest: (1n << BigInt(lengthBits)) - 1n };
  const half = 1n << BigInt(lengthBits - 1);
  return { least: -half, greatest: half - 1n };
}

/**
 * The bits of a raw value, ready to be written into the field. "Not a number" has many patterns and JavaScript does not keep which it
 * was: all ones is written, which stands for "not available" on a bus (common practice).
 */
export function bitsOf(signal: DbcSignal, raw: DbcRaw): bigint {
  if (typeof raw === 'bigint') return raw;
  if (Number.isNaN(raw)) return -1n;
  const view = new DataView(new ArrayBuffer(8));
  if (signal.number === 'float32') {
    view.setFloat32(0, raw);
    return BigInt(view.getUint32(0));
  }
  view.setFloat64(0, raw);
  return view.getBigUint64(0);
}
