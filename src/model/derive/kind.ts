import type { Signal, Wire } from '../document/platform.ts';

/** Whether a signal is a number with a unit, a state, or text. */
export type ValueKind = 'number' | 'state' | 'text';

/**
 * A signal is a state when it says so, or when it has named states, no unit, and a plain scaling; one bit without a unit
 * is a state too. Everything else is a number.
 */
export function signalKind(signal: Signal): ValueKind {
  if (signal.kind !== undefined) return signal.kind;
  const plain =
    Number(signal.factor) === 1 && Number(signal.offset) === 0 && (signal.unit === '' || signal.unit === '1');
  if (!plain || signal.number === 'float32' || signal.number === 'float64') return 'number';
  if (signal.bits.length === 1) return 'state';
  return signal.states !== undefined && Object.keys(signal.states).length > 0 && signal.range === undefined
    ? 'state'
    : 'number';
}

/** A switched or resistor-coded wire is a state; scaled and curved ones are numbers. Without a meaning, its class decides. */
export function wireKind(wire: Wire): ValueKind {
  if (wire.meaning) return 'active' in wire.meaning || 'codes' in wire.meaning ? 'state' : 'number';
  switch (wire.electrical.class) {
    case 'ratiometric-5v':
    case 'absolute-voltage':
    case 'thermistor':
    case 'resistive':
    case 'pwm-battery':
    case 'pwm-ground':
    case 'hall-frequency':
    case 'reluctance-frequency':
    case 'two-wire-current':
    case 'input-analogue':
    case 'input-analogue-pull-up':
    case 'input-reluctance':
    case 'input-frequency':
    case 'resistive-gauge':
      return 'number';
    default:
      return 'state';
  }
}
