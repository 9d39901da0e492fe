import { toNumber } from '../../number/index.ts';
import { isFloatKind } from '../bits/number-kind.ts';
import { physicalOf } from '../value/physical.ts';
import { type EncodedMessage, encodeInto } from './encode.ts';
import { type PreparedSignal, parentsFirst, prepareSignals } from './prepared.ts';
import type { DecodedSignal, FrameSignal, SignalFault, SignalValue } from './signal.ts';

/** The signals of one message made ready for many frames. */
export interface CompiledMessage {
  readonly signals: readonly FrameSignal[];
  /**
   * What is wrong with the signals: a field that is none, an unknown or circular multiplexer (these cannot be read at all), a name used
   * twice, a state whose raw value is no integer.
   */
  readonly faults: readonly SignalFault[];
  /**
   * Every signal present in the frame, in the order of `signals`. Left out: multiplexed signals that are not selected, signals that do
   * not lie within the bytes received, and those that cannot be read.
   */
  decode(bytes: Uint8Array): readonly DecodedSignal[];
  /** Names of the signals which do not lie within a payload of so many bytes. */
  outsideOf(lengthBytes: number): readonly string[];
  /** Writes values into a copy of `base` (its length is the payload's); see `encodeInto`. */
  encode(values: ReadonlyMap<string, SignalValue>, base: Uint8Array): EncodedMessage;
}

/** Prepares the signals of a message. Never throws on bad signals: they are listed in `faults` and left out. */
export function compileMessage(signals: readonly FrameSignal[]): CompiledMessage {
  const faults: SignalFault[] = [];
  const prepared = prepareSignals(signals, faults);
  const order = parentsFirst(signals, prepared, faults);
  const count = prepared.length;
  const present = new Uint8Array(count);
  const raws: (bigint | number)[] = new Array<bigint | number>(count).fill(0);

  const decode = (bytes: Uint8Array): readonly DecodedSignal[] => {
    present.fill(0);
    for (const index of order) {
      const one = prepared[index]!;
      if (one.field.needsBytes > bytes.length) continue;
      if (one.on !== null && (present[one.selectedBy] === 0 || !one.on.has(raws[one.selectedBy]!))) continue;
      present[index] = 1;
      raws[index] = one.field.read(bytes);
    }
    const decoded: DecodedSignal[] = [];
    for (let index = 0; index < count; index += 1) {
      if (present[index] === 1) decoded.push(decodedSignal(prepared[index]!, raws[index]!));
    }
    return decoded;
  };
  return {
    signals,
    faults,
    decode,
    outsideOf: (lengthBytes) =>
      prepared.flatMap((one) => (one !== null && one.field.needsBytes > lengthBytes ? [one.signal.name] : [])),
    encode: (values, base) => encodeInto(prepared, order, values, base),
  };
}

function decodedSignal({ signal, states, notAvailable, error }: PreparedSignal, raw: bigint | number): DecodedSignal {
  const float = isFloatKind(signal.number);
  let value: DecodedSignal['value'];
  if (!float) value = physicalOf(typeof raw === 'bigint' ? raw : BigInt(raw), signal.scaling);
  else if (Number.isFinite(raw)) value = toNumber(physicalOf(raw, signal.scaling));
  else value = Number(raw);
  const indicator = notAvailable.has(raw) ? 'not-available' : error.has(raw) ? 'error' : 'none';
  return {
    name: signal.name,
    raw,
    value,
    unit: signal.unit,
    state: states.get(raw) ?? null,
    available: indicator === 'none' && !(float && Number.isNaN(raw)),
    indicator,
  };
}
