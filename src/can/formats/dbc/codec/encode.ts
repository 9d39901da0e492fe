import type { DbcMessage, DbcSignal } from '../model.ts';
import { selectorPattern } from './decode.ts';
import { bytesNeeded, writeField } from './layout.ts';
import { isMultiplexed, multiplexingOf, presence } from './multiplexing.ts';
import { bitsOf, isCodable, nearestRaw, rawLimits } from './scaling.ts';
import type { DbcRaw } from './scaling.ts';

/**
 * The value to send: physical (a decimal text is exact), or a raw value, or the text of a state, or the very bits of the field
 * as an unsigned number (the only way to choose among the many bit patterns that are "not a number").
 */
export type DbcValue =
  number | bigint | string | { readonly raw: bigint | number } | { readonly state: string } | { readonly bits: bigint };

export interface DbcEncodingFault {
  readonly code:
    | 'signal-unknown'
    | 'signal-not-selected'
    | 'signal-outside-frame'
    | 'value-unreadable'
    | 'value-clipped'
    | 'state-unknown'
    | 'factor-zero';
  readonly signal: string;
  readonly message: string;
}

export interface DbcEncodedMessage {
  readonly bytes: Uint8Array;
  /** Values that are not in the payload as given. */
  readonly faults: readonly DbcEncodingFault[];
  /** Signals that belong into this payload but were given no value: their bits are as in `base`. */
  readonly missing: readonly DbcSignal[];
}

/**
 * The payload that carries the given values. Signals are named by name or short name. Bits of no given signal are as in
 * `base` (default all 0, as long as the message). A float that is not a number is sent as all ones. A value beyond what the field holds is clipped to its end and reported; one
 * that its multiplexer does not select is left out and reported.
 */
export function encodeMessage(
  message: DbcMessage,
  values: ReadonlyMap<string, DbcValue> | Readonly<Record<string, DbcValue>>,
  base: Uint8Array = new Uint8Array(message.lengthBytes),
): DbcEncodedMessage {
  const bytes = base.slice();
  const faults: DbcEncodingFault[] = [];
  const raws = rawsOf(message, values, faults);
  const isPresent = isMultiplexed(message) ? presenceAmong(message, raws, base) : null;
  const missing: DbcSignal[] = [];
  message.signals.forEach((signal, index) => {
    const raw = raws.get(index);
    if (isPresent !== null && !isPresent(index)) {
      if (raw !== undefined)
        faults.push(fault('signal-not-selected', signal.name, 'is not selected by its multiplexer'));
    } else if (raw === undefined) missing.push(signal);
    else put(bytes, signal, raw, faults);
  });
  return { bytes, faults, missing };
}

/** Which signals belong into the payload, from the given selector values and, for selectors not given, from `base`. */
function presenceAmong(
  message: DbcMessage,
  raws: ReadonlyMap<number, DbcRaw>,
  base: Uint8Array,
): (index: number) => boolean {
  return presence(multiplexingOf(message), (index) => {
    const selector = message.signals[index] as DbcSignal;
    const raw = raws.get(index);
    return typeof raw === 'bigint' ? BigInt.asUintN(selector.lengthBits, raw) : selectorPattern(selector, base);
  });
}

function fault(code: DbcEncodingFault['code'], signal: string, what: string): DbcEncodingFault {
  return { code, signal, message: `Signal ${signal} ${what}.` };
}

function rawsOf(
  message: DbcMessage,
  values: ReadonlyMap<string, DbcValue> | Readonly<Record<string, DbcValue>>,
  faults: DbcEncodingFault[],
): Map<number, DbcRaw> {
  const indexes = new Map<string, number>();
  message.signals.forEach((signal, index) => {
    if (!indexes.has(signal.shortName)) indexes.set(signal.shortName, index);
  });
  message.signals.forEach((signal, index) => {
    if (signal.name !== signal.shortName) indexes.set(signal.name, index);
  });
  const raws = new Map<number, DbcRaw>();
  const entries = values instanceof Map ? values.entries() : Object.entries(values);
  for (const [name, value] of entries as Iterable<[string, DbcValue]>) {
    const index = indexes.get(name);
    if (index === undefined) {
      faults.push(fault('signal-unknown', name, `is not in message ${message.name}`));
      continue;
    }
    const raw = rawFor(message.signals[index] as DbcSignal, value, faults);
    if (raw !== null) raws.set(index, raw);
  }
  return raws;
}

function rawFor(signal: DbcSignal, value: DbcValue, faults: DbcEncodingFault[]): DbcRaw | null {
  if (!isCodable(signal)) {
    faults.push(
      fault('signal-outside-frame', signal.name, `has a length of ${signal.lengthBits} bits, which no value fits`),
    );
    return null;
  }
  if (typeof value === 'object' && 'bits' in value) return rawOfBits(signal, value.bits, faults);
  const raw = unlimitedRaw(signal, value, faults);
  if (typeof raw !== 'bigint') return raw;
  const { least, greatest } = rawLimits(signal);
  if (raw >= least && raw <= greatest) return raw;
  const clipped = raw < least ? least : greatest;
  faults.push(fault('value-clipped', signal.name, `cannot hold raw ${raw}; ${clipped} is sent`));
  return clipped;
}

/** For a float signal the pattern itself, which {@link bitsOf} passes on. */
function rawOfBits(signal: DbcSignal, bits: bigint, faults: DbcEncodingFault[]): bigint {
  const pattern = BigInt.asUintN(signal.lengthBits, bits);
  if (pattern !== bits) {
    faults.push(
      fault('value-clipped', signal.name, `cannot hold the bits ${bits}; the low ${signal.lengthBits} are sent`),
    );
  }
  return signal.number === 'integer' && signal.signed ? BigInt.asIntN(signal.lengthBits, pattern) : pattern;
}

function unlimitedRaw(
  signal: DbcSignal,
  value: Exclude<DbcValue, { readonly bits: bigint }>,
  faults: DbcEncodingFault[],
): DbcRaw | null {
  if (typeof value === 'object') {
    if ('state' in value) return stateRaw(signal, value.state, faults);
    if (signal.number !== 'integer') return Number(value.raw);
    if (typeof value.raw === 'bigint' || Number.isSafeInteger(value.raw)) return BigInt(value.raw);
    faults.push(fault('value-unreadable', signal.name, `takes a whole raw value, not ${value.raw}`));
    return null;
  }
  const raw = nearestRaw(signal, value);
  if (raw === 'not-a-number') {
    faults.push(fault('value-unreadable', signal.name, `takes a number, not ${JSON.stringify(String(value))}`));
    return null;
  }
  if (raw === 'factor-zero') {
    faults.push(fault('factor-zero', signal.name, 'has factor 0, so no raw value stands for a physical one'));
    return null;
  }
  return raw;
}

function stateRaw(signal: DbcSignal, text: string, faults: DbcEncodingFault[]): DbcRaw | null {
  const state = signal.states?.find((candidate) => candidate.text === text);
  if (state === undefined) {
    faults.push(fault('state-unknown', signal.name, `has no state ${JSON.stringify(text)}`));
    return null;
  }
  return signal.number === 'integer' ? state.raw : Number(state.raw);
}

function put(bytes: Uint8Array, signal: DbcSignal, raw: DbcRaw, faults: DbcEncodingFault[]): void {
  if (bytesNeeded(signal) > bytes.length) {
    faults.push(fault('signal-outside-frame', signal.name, `does not fit into ${bytes.length} bytes`));
    return;
  }
  writeField(bytes, signal, bitsOf(signal, raw));
}
