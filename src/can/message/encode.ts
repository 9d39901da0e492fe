import { type Rational, ZERO } from '../../number/index.ts';
import { isFloatKind } from '../bits/number-kind.ts';
import { rawRange } from '../value/range.ts';
import { type Clipped, floatRawOf, rawOf } from '../value/raw.ts';
import type { PreparedSignal } from './prepared.ts';
import type { SignalFault, SignalValue } from './signal.ts';

/** A signal as it was written. */
export interface EncodedSignal {
  readonly name: string;
  readonly raw: bigint | number;
  /** For a physical value: which end of the field it ran into, and how far the written value is from it, exact. */
  readonly clipped: Clipped;
  readonly error: Rational;
}

export interface EncodedMessage {
  readonly bytes: Uint8Array;
  readonly written: readonly EncodedSignal[];
  /** Values that could not be written: unknown name, unknown state, out of the field, not selected, outside the payload. */
  readonly faults: readonly SignalFault[];
}

/**
 * Writes values into a copy of `base`; signals without a value keep the bits of `base`. Selecting signals are written first, and a
 * multiplexed signal is written only when the selector, as it then stands, selects it. Physical values are rounded half away from
 * zero and clipped to the field; raw values and states must fit it. What cannot be written becomes a fault, the rest is written.
 */
export function encodeInto(
  prepared: readonly (PreparedSignal | null)[],
  order: readonly number[],
  values: ReadonlyMap<string, SignalValue>,
  base: Uint8Array,
): EncodedMessage {
  const bytes = Uint8Array.from(base);
  const written: EncodedSignal[] = [];
  const faults: SignalFault[] = [];
  const present = new Uint8Array(prepared.length);
  const known = new Set<string>();
  for (const index of order) {
    const one = prepared[index]!;
    const { signal, field } = one;
    const value = values.get(signal.name);
    known.add(signal.name);
    if (field.needsBytes > bytes.length) {
      if (value !== undefined)
        faults.push({ signal: signal.name, problem: `it does not lie within ${bytes.length} bytes` });
      continue;
    }
    if (one.on !== null) {
      const parent = prepared[one.selectedBy]!;
      const selected = present[one.selectedBy] === 1 && one.on.has(parent.field.read(bytes));
      if (!selected) {
        if (value !== undefined) {
          faults.push({ signal: signal.name, problem: `"${parent.signal.name}" does not select it in this frame` });
        }
        continue;
      }
    }
    present[index] = 1;
    if (value === undefined) continue;
    const result = rawFor(one, value);
    if ('problem' in result) faults.push({ signal: signal.name, problem: result.problem });
    else {
      field.write(bytes, result.raw);
      written.push({ name: signal.name, ...result });
    }
  }
  for (const name of values.keys()) {
    if (!known.has(name)) faults.push({ signal: name, problem: 'the message has no such signal that can be written' });
  }
  return { bytes, written, faults };
}

type RawFor = Omit<EncodedSignal, 'name'> | { readonly problem: string };

function rawFor(one: PreparedSignal, value: SignalValue): RawFor {
  const { signal, field } = one;
  const kind = signal.number;
  switch (value.kind) {
    case 'physical': {
      if (isFloatKind(kind)) return floatRawOf(value.value, signal.scaling, kind);
      const result = rawOf(value.value, signal.scaling, kind, signal.field.length);
      return field.carries === 'bigint' ? result : { ...result, raw: Number(result.raw) };
    }
    case 'raw':
      return fitting(one, value.raw);
    case 'state': {
      for (const [raw, state] of one.states) if (state === value.state) return fitting(one, raw);
      return { problem: `it has no state "${value.state}"` };
    }
    case 'not-available': {
      const raw = signal.notAvailable?.[0];
      if (raw !== undefined) return fitting(one, raw);
      return isFloatKind(kind)
        ? { raw: NaN, clipped: 'none', error: ZERO }
        : { problem: 'it has no raw value for "not available"' };
    }
  }
}

/** Accepts a raw value that lies in the field's range, read with its sign or as its bare bits. */
function fitting({ signal, field }: PreparedSignal, raw: bigint | number): RawFor {
  const { number: kind, field: bits } = signal;
  if (isFloatKind(kind)) return { raw: Number(raw), clipped: 'none', error: ZERO };
  if (typeof raw === 'number' && !Number.isInteger(raw)) return { problem: `the raw value ${raw} is not an integer` };
  const whole = BigInt(raw);
  const range = rawRange(kind, bits.length);
  if (whole < range.lo || whole > rawRange('unsigned', bits.length).hi) {
    return { problem: `the raw value ${whole} does not fit in ${bits.length} bits, ${kind}` };
  }
  const kept = whole > range.hi ? whole - (1n << BigInt(bits.length)) : whole;
  return { raw: field.carries === 'bigint' ? kept : Number(kept), clipped: 'none', error: ZERO };
}
