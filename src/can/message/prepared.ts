import { type CompiledField, compileField } from '../bits/compile.ts';
import { fieldFault } from '../bits/field.ts';
import { numberKindFault } from '../bits/number-kind.ts';
import { type Selectors, selectorsOf } from './selectors.ts';
import type { FrameSignal, SignalFault } from './signal.ts';

/** A signal with what the codec looks up per frame. */
export interface PreparedSignal {
  readonly signal: FrameSignal;
  readonly field: CompiledField;
  readonly states: ReadonlyMap<bigint | number, string>;
  readonly notAvailable: ReadonlySet<bigint | number>;
  readonly error: ReadonlySet<bigint | number>;
  /** Place of the selecting signal in the list, which lies before this one in `order`; −1 when always present. */
  readonly selectedBy: number;
  readonly on: Selectors | null;
}

/** Prepares each signal; null for one that cannot be read, with the reason added to `faults`. */
export function prepareSignals(
  signals: readonly FrameSignal[],
  faults: SignalFault[],
): readonly (PreparedSignal | null)[] {
  const placeOf = new Map<string, number>();
  signals.forEach((signal, index) => {
    if (placeOf.has(signal.name))
      faults.push({ signal: signal.name, problem: 'another signal of the message has this name' });
    else placeOf.set(signal.name, index);
  });
  return signals.map((signal): PreparedSignal | null => {
    const problem = fieldFault(signal.field) ?? numberKindFault(signal.number, signal.field);
    if (problem !== null) {
      faults.push({ signal: signal.name, problem });
      return null;
    }
    const field = compileField(signal.field, signal.number);
    const carried = (raw: bigint): bigint | number => (field.carries === 'bigint' ? raw : Number(raw));
    const states = new Map<bigint | number, string>();
    for (const [key, state] of signal.states ?? []) {
      if (/^-?\d{1,20}$/.test(key)) states.set(carried(BigInt(key)), state);
      else
        faults.push({
          signal: signal.name,
          problem: `the state "${state}" has the raw value "${key}", which is not an integer`,
        });
    }
    const { multiplexed } = signal;
    const selectedBy = multiplexed === undefined ? -1 : (placeOf.get(multiplexed.by) ?? -1);
    if (multiplexed !== undefined && selectedBy < 0) {
      faults.push({
        signal: signal.name,
        problem: `it is multiplexed by "${multiplexed.by}", which the message does not have`,
      });
      return null;
    }
    const selector = multiplexed === undefined ? null : signals[selectedBy]!;
    return {
      signal,
      field,
      states,
      notAvailable: new Set((signal.notAvailable ?? []).map(carried)),
      error: new Set((signal.error ?? []).map(carried)),
      selectedBy,
      on: selector === null ? null : selectorsOf(multiplexed!.on, 1n << BigInt(selector.field.length)),
    };
  });
}

/** Places of the readable signals, every selecting signal before those it selects. Circles are faults and left out. */
export function parentsFirst(
  signals: readonly FrameSignal[],
  prepared: readonly (PreparedSignal | null)[],
  faults: SignalFault[],
): readonly number[] {
  const children = new Map<number, number[]>();
  const order: number[] = [];
  prepared.forEach((one, index) => {
    if (one === null) return;
    if (one.selectedBy < 0) order.push(index);
    else {
      const siblings = children.get(one.selectedBy);
      if (siblings === undefined) children.set(one.selectedBy, [index]);
      else siblings.push(index);
    }
  });
  for (let next = 0; next < order.length; next += 1) {
    const selected = children.get(order[next]!);
    if (selected !== undefined) for (const child of selected) order.push(child);
  }
  const reached = new Set(order);
  prepared.forEach((one, index) => {
    if (one === null || reached.has(index)) return;
    const by = signals[index]!.multiplexed?.by ?? '';
    faults.push({
      signal: one.signal.name,
      problem: `it is multiplexed by "${by}", which cannot be read or depends on it in a circle`,
    });
  });
  return order;
}
