/**
 * SAE J1979 service 01 parameters: scalings, with examples from brendan-w/python-OBD (tests/test_decoders.py, tests/test_uas.py) and the parameter table
 * as reproduced at dashdyno.net. Byte A is the first, big-endian.
 */
import { describe, expect, it } from 'vitest';
import { compileMessage, type FrameSignal } from '../../src/can/index.ts';
import { type Affine, div, toNumber, toRational } from '../../src/number/index.ts';
import { bytesOf, hasTimingReference, timingEntries } from './timing-reference.ts';

/** value = numerator · raw / denominator + offset, raw the first byte or the first two. */
function pid(
  name: string,
  bits: 8 | 16,
  numerator: number,
  denominator: number,
  offset: number,
  unit: string,
): FrameSignal {
  const factor = div(toRational(numerator), toRational(denominator));
  const scaling: Affine = { factor, offset: toRational(offset) };
  return { name, field: { start: 7, length: bits, order: 'big' }, number: 'unsigned', scaling, unit };
}

const PIDS: Readonly<Record<string, FrameSignal>> = {
  '04': pid('Calculated engine load', 8, 100, 255, 0, '%'),
  '05': pid('Engine coolant temperature', 8, 1, 1, -40, 'degC'),
  '06': pid('Short term fuel trim', 8, 100, 128, -100, '%'),
  '0A': pid('Fuel pressure', 8, 3, 1, 0, 'kPa'),
  '0B': pid('Intake manifold absolute pressure', 8, 1, 1, 0, 'kPa'),
  '0C': pid('Engine speed', 16, 1, 4, 0, 'rpm'),
  '0D': pid('Vehicle speed', 8, 1, 1, 0, 'km/h'),
  '0E': pid('Timing advance', 8, 1, 2, -64, 'deg'),
  '0F': pid('Intake air temperature', 8, 1, 1, -40, 'degC'),
  '10': pid('Mass air flow', 16, 1, 100, 0, 'g/s'),
  '11': pid('Throttle position', 8, 100, 255, 0, '%'),
  '1F': pid('Run time since engine start', 16, 1, 1, 0, 's'),
  '21': pid('Distance with MIL on', 16, 1, 1, 0, 'km'),
  '2F': pid('Fuel tank level', 8, 100, 255, 0, '%'),
  '33': pid('Barometric pressure', 8, 1, 1, 0, 'kPa'),
  '42': pid('Control module voltage', 16, 1, 1000, 0, 'V'),
  '43': pid('Absolute load', 16, 100, 255, 0, '%'),
  '46': pid('Ambient air temperature', 8, 1, 1, -40, 'degC'),
  '5C': pid('Engine oil temperature', 8, 1, 1, -40, 'degC'),
  '5D': pid('Fuel injection timing', 16, 1, 128, -210, 'deg'),
  '5E': pid('Engine fuel rate', 16, 1, 20, 0, 'L/h'),
};

function decode(signal: FrameSignal, hex: string): number {
  const [decoded] = compileMessage([signal]).decode(bytesOf(hex));
  return typeof decoded!.value === 'number' ? decoded!.value : toNumber(decoded!.value);
}

describe('SAE J1979, worked examples (python-OBD tests)', () => {
  it.each([
    ['04', 'FF', 100],
    ['05', '00', -40],
    ['05', 'FF', 215],
    ['06', '00', -100],
    ['06', '80', 0],
    ['0A', '80', 384],
    ['0C', '0002', 0.5],
    ['0C', 'FFFD', 16383.25],
    ['0C', 'FFFF', 16383.75],
    ['0E', 'FF', 63.5],
    ['10', 'FFFF', 655.35],
    ['1F', '0E10', 3600],
    ['42', 'FFFF', 65.535],
    ['43', 'FFFF', 25700],
    ['5D', '0000', -210],
    ['5E', 'FFFF', 3276.75],
  ])('PID %s, bytes %s: %f', (id, hex, value) => {
    expect(decode(PIDS[id]!, hex)).toBe(value);
  });
});

describe.skipIf(!hasTimingReference)('every example of the reference table', () => {
  it('all parameters, to the last digit printed', () => {
    const rows = timingEntries('6_j1939_j1979', 'j1979_pid');
    expect(rows.length).toBe(Object.keys(PIDS).length);
    let compared = 0;
    for (const row of rows) {
      const examples = row['examples'] as { bytes: string; value: number; tol?: number }[];
      for (const example of examples) {
        const off = Math.abs(decode(PIDS[String(row['pid'])]!, example.bytes) - example.value);
        expect(off, `${row.id} ${example.bytes}`).toBeLessThanOrEqual(example.tol ?? 1e-9);
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(30);
  });
});
