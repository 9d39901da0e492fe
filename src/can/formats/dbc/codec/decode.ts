import type { DbcMessage, DbcSignal } from '../model.ts';
import { bytesNeeded, readField } from './layout.ts';
import { isMultiplexed, multiplexingOf, presence } from './multiplexing.ts';
import { isCodable, physicalOf, rawOf } from './scaling.ts';
import type { DbcPhysical, DbcRaw } from './scaling.ts';

export interface DbcDecodedSignal {
  readonly signal: DbcSignal;
  readonly raw: DbcRaw;
  /** In the unit of the signal. */
  readonly value: DbcPhysical;
  /** The text that stands for the raw value, if it has one. */
  readonly state: string | null;
}

export interface DbcDecodedMessage {
  readonly signals: readonly DbcDecodedSignal[];
  /** Signals that should be present but cannot be read: the payload is too short, or their length is not possible. */
  readonly unreadable: readonly DbcSignal[];
}

/**
 * The signals of a payload, in the order of the message. Multiplexed signals are there only when their multiplexer, and
 * its multiplexers in turn, select them. A selector value that selects nothing is no error. Bit-exact: integers as bigint.
 */
export function decodeMessage(message: DbcMessage, bytes: Uint8Array): DbcDecodedMessage {
  const isPresent = isMultiplexed(message)
    ? presence(multiplexingOf(message), (index) => selectorPattern(message.signals[index] as DbcSignal, bytes))
    : null;
  const signals: DbcDecodedSignal[] = [];
  const unreadable: DbcSignal[] = [];
  message.signals.forEach((signal, index) => {
    if (isPresent !== null && !isPresent(index)) return;
    if (!isReadable(signal, bytes)) {
      unreadable.push(signal);
      return;
    }
    const raw = rawOf(signal, readField(bytes, signal));
    signals.push({ signal, raw, value: physicalOf(signal, raw), state: stateText(signal, raw) });
  });
  return { signals, unreadable };
}

/** The raw value of a selector as an unsigned bit pattern; `null` when the payload does not hold it. */
export function selectorPattern(selector: DbcSignal, bytes: Uint8Array): bigint | null {
  if (selector.number !== 'integer' || !isReadable(selector, bytes)) return null;
  const { high, low } = readField(bytes, selector);
  return (BigInt(high) << 32n) | BigInt(low);
}

function isReadable(signal: DbcSignal, bytes: Uint8Array): boolean {
  return isCodable(signal) && bytesNeeded(signal) <= bytes.length;
}

/** The text of a raw value; the last one when the file gives several; `null` when it gives none. */
export function stateText(signal: DbcSignal, raw: DbcRaw): string | null {
  const { states } = signal;
  if (states === null || states.length === 0) return null;
  if (typeof raw === 'number' && !Number.isSafeInteger(raw)) return null;
  const wanted = BigInt(raw);
  for (let i = states.length - 1; i >= 0; i--) {
    const state = states[i];
    if (state !== undefined && state.raw === wanted) return state.text;
  }
  return null;
}
