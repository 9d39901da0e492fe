/**
 * The unit list of an open standard for vehicle signals: COVESA Vehicle Signal Specification, spec/units.yaml, commit
 * 00324276612c00098863e1b2fd3a331691878936, read. Every text there must be read as a unit of the quantity it is listed under, or
 * stand on a named list.
 */
import { describe, expect, it } from 'vitest';
import { formatDecimal, toRational } from '../../src/number/index.ts';
import { ambiguousUnit, convertExact, findUnit, unitByCode } from '../../src/units/index.ts';

/** Their quantity → ours, and the texts listed under it. */
const LISTED: readonly (readonly [theirs: string, ours: string, texts: readonly string[]])[] = [
  ['length', 'distance', ['mm', 'cm', 'm', 'km', 'inch']],
  ['velocity', 'speed', ['km/h', 'm/s']],
  ['acceleration', 'acceleration', ['m/s^2', 'cm/s^2']],
  ['volume', 'volume', ['ml', 'l', 'cm^3']],
  ['temperature', 'temperature', ['celsius', 'fahrenheit']],
  ['angle', 'angle', ['degrees']],
  ['angular-speed', 'rotation', ['degrees/s', 'rad/s']],
  ['power', 'power', ['W', 'kW', 'PS']],
  ['work', 'energy', ['kWh']],
  ['mass', 'mass', ['kg', 'lbs']],
  ['voltage', 'voltage', ['V']],
  ['electric-current', 'current', ['A']],
  ['electric-charge', 'charge', ['Ah']],
  ['duration', 'time', ['ms', 's', 'min', 'h', 'day', 'weeks']],
  // Calendar months and years have no fixed length: ours keep them apart and never convert them.
  ['duration', 'calendar-month', ['months']],
  ['duration', 'calendar-year', ['years']],
  ['pressure', 'pressure', ['mbar', 'Pa', 'kPa', 'psi']],
  ['mass-per-time', 'mass-flow', ['g/s']],
  ['mass-per-distance', 'mass-per-distance', ['g/km']],
  ['energy-consumption-per-distance', 'energy-consumption', ['kWh/100km', 'Wh/km']],
  ['volume-per-distance', 'fuel-consumption', ['ml/100km', 'l/100km']],
  ['volume-flow-rate', 'volume-flow', ['l/h']],
  ['distance-per-volume', 'fuel-economy', ['mpg-us', 'mpg-uk', 'mpg', 'km/l']],
  // An equivalent gallon is an energy (33.7 kWh there), so ours is a distance per energy.
  ['distance-per-volume', 'energy-economy', ['mpge']],
  ['force', 'force', ['N', 'kN']],
  ['torque', 'torque', ['Nm']],
  ['rotational-speed', 'rotation', ['rpm']],
  ['frequency', 'frequency', ['Hz', 'cpm', 'bpm']],
  ['relation', 'ratio', ['ratio', 'percent']],
  ['relation', 'level', ['dB']],
  ['relation', 'power-level', ['dBm']],
  ['resistance', 'resistance', ['Ohm']],
  ['illuminance', 'illuminance', ['lx']],
];

/** No physical unit, or one that no vehicle signal of a DBC has: kept as written. */
const UNKNOWN = ['unix-time', 'iso8601', 'stars', 'nm/km'];

describe('units of the COVESA Vehicle Signal Specification', () => {
  it.each(LISTED.flatMap(([theirs, ours, texts]) => texts.map((text) => [text, theirs, ours] as const)))(
    '%s (%s) is a %s',
    (text, _theirs, ours) => {
      expect(findUnit(text)?.unit.quantity).toBe(ours);
    },
  );

  it('g (mass there) stays open, since other files use it for free fall', () => {
    expect(findUnit('g')).toBeNull();
    expect(ambiguousUnit('g')?.candidates).toContain('g{mass}');
  });

  it.each(UNKNOWN)('%s is kept as written', (text) => {
    expect(findUnit(text)).toBeNull();
    expect(ambiguousUnit(text)).toBeNull();
  });

  it.each([
    // The figures its definitions of mpg-us and mpg-uk state.
    ['mpg-us', 'gal (US)', '3.785'],
    ['mpg-uk', 'gal (UK)', '4.546'],
  ])('%s: 1 %s is %s liters', (_text, gallon, litres) => {
    const converted = convertExact(toRational(1), findUnit(gallon)!.unit, unitByCode('L')!);
    if ('kind' in converted) throw new Error(converted.message);
    expect(formatDecimal(converted, { maxSignificant: 4 })).toBe(litres);
  });

  it('1 mpge is 1 mile per 33.7 kWh', () => {
    const converted = convertExact(toRational('33.7'), findUnit('mpge')!.unit, unitByCode('[mi_i]/(kW.h)')!);
    if ('kind' in converted) throw new Error(converted.message);
    expect(formatDecimal(converted, { maxSignificant: 3 })).toBe('1');
  });
});
