import { type Row, SI, UCUM, rowsOf } from './row.ts';

const BINARY = 'IEC 80000-13:2008 (binary prefixes); UCUM, version 2.1 (By = 8 bit)';
const COUNTED = 'counted, declared here';

/** Electrical quantities, frequency, information, ratio, counts, light. */
export const ELECTRICAL: readonly Row[] = [
  ...rowsOf('voltage', [
    ['V', 'volt', 'V', '1', SI],
    ['mV', 'millivolt', 'mV', '0.001', SI],
    ['uV', 'microvolt', 'µV', '1e-6', SI],
    ['kV', 'kilovolt', 'kV', '1000', SI],
  ]),
  ...rowsOf('voltage-rate', [
    ['V/s', 'volt per second', 'V/s', '1', SI],
    ['mV/s', 'millivolt per second', 'mV/s', '0.001', SI],
    ['V/ms', 'volt per millisecond', 'V/ms', '1000', SI],
  ]),
  ...rowsOf('current', [
    ['A', 'ampere', 'A', '1', SI],
    ['mA', 'milliampere', 'mA', '0.001', SI],
    ['uA', 'microampere', 'µA', '1e-6', SI],
    ['kA', 'kiloampere', 'kA', '1000', SI],
  ]),
  ...rowsOf('current-rate', [
    ['A/s', 'ampere per second', 'A/s', '1', SI],
    ['A/ms', 'ampere per millisecond', 'A/ms', '1000', SI],
    ['mA/s', 'milliampere per second', 'mA/s', '0.001', SI],
  ]),
  ...rowsOf('resistance', [
    ['Ohm', 'ohm', 'Ω', '1', SI],
    ['mOhm', 'milliohm', 'mΩ', '0.001', SI],
    ['uOhm', 'microohm', 'µΩ', '1e-6', SI],
    ['kOhm', 'kiloohm', 'kΩ', '1000', SI],
    ['MOhm', 'megaohm', 'MΩ', '1e6', SI],
  ]),
  ...rowsOf('conductance', [
    ['mS', 'millisiemens', 'mS', '0.001', SI],
    ['uS', 'microsiemens', 'µS', '1e-6', SI],
  ]),
  ...rowsOf('capacitance', [
    ['mF', 'millifarad', 'mF', '0.001', SI],
    ['uF', 'microfarad', 'µF', '1e-6', SI],
    ['nF', 'nanofarad', 'nF', '1e-9', SI],
    ['pF', 'picofarad', 'pF', '1e-12', SI],
  ]),
  ...rowsOf('inductance', [
    ['mH', 'millihenry', 'mH', '0.001', SI],
    ['uH', 'microhenry', 'µH', '1e-6', SI],
  ]),
  ...rowsOf('magnetic-flux', [
    ['Wb', 'weber', 'Wb', '1', SI],
    ['mWb', 'milliweber', 'mWb', '0.001', SI],
  ]),
  ...rowsOf('magnetic-flux-density', [
    ['mT', 'millitesla', 'mT', '0.001', SI],
    ['uT', 'microtesla', 'µT', '1e-6', SI],
  ]),
  ...rowsOf('charge', [
    // The coulomb, written so because a bare C means degree Celsius in vehicle files: see ambiguous.ts.
    ['A.s', 'ampere second', 'A·s', '1', SI],
    ['A.h', 'ampere hour', 'A·h', '3600', SI],
    ['mA.h', 'milliampere hour', 'mA·h', '3.6', SI],
    ['kA.h', 'kiloampere hour', 'kA·h', '3.6e6', SI],
  ]),
  ...rowsOf('frequency', [
    ['Hz', 'hertz', 'Hz', '1', SI],
    ['mHz', 'millihertz', 'mHz', '0.001', SI],
    ['kHz', 'kilohertz', 'kHz', '1000', SI],
    ['MHz', 'megahertz', 'MHz', '1e6', SI],
    ['GHz', 'gigahertz', 'GHz', '1e9', SI],
    ['{cycle}/min', 'cycle per minute', 'cycle/min', '1/60', SI],
    ['{beat}/min', 'beat per minute', 'beat/min', '1/60', SI],
  ]),
  ...rowsOf('information', [
    ['bit', 'bit', 'bit', '1', UCUM],
    ['kbit', 'kilobit', 'kbit', '1000', BINARY],
    ['Mbit', 'megabit', 'Mbit', '1e6', BINARY],
    ['By', 'byte', 'B', '8', UCUM],
    ['kBy', 'kilobyte', 'kB', '8000', BINARY],
    ['MBy', 'megabyte', 'MB', '8e6', BINARY],
    ['GBy', 'gigabyte', 'GB', '8e9', BINARY],
    ['KiBy', 'kibibyte', 'KiB', '8192', BINARY],
    ['MiBy', 'mebibyte', 'MiB', '8388608', BINARY],
    ['GiBy', 'gibibyte', 'GiB', '8589934592', BINARY],
  ]),
  ...rowsOf('information-rate', [
    ['bit/s', 'bit per second', 'bit/s', '1', UCUM],
    ['kbit/s', 'kilobit per second', 'kbit/s', '1000', BINARY],
    ['Mbit/s', 'megabit per second', 'Mbit/s', '1e6', BINARY],
    ['By/s', 'byte per second', 'B/s', '8', UCUM],
    ['kBy/s', 'kilobyte per second', 'kB/s', '8000', BINARY],
    ['MBy/s', 'megabyte per second', 'MB/s', '8e6', BINARY],
  ]),
  ...rowsOf('ratio', [
    ['1', 'one', '', '1', SI],
    ['%', 'percent', '%', '0.01', SI],
    ['[ppth]', 'per mille', '‰', '0.001', UCUM],
    ['[ppm]', 'part per million', 'ppm', '1e-6', UCUM],
    ['[ppb]', 'part per billion', 'ppb', '1e-9', UCUM],
  ]),
  ...rowsOf('ratio-rate', [
    ['%/s', 'percent per second', '%/s', '0.01', SI],
    ['%/ms', 'percent per millisecond', '%/ms', '10', SI],
    ['%/min', 'percent per minute', '%/min', '0.01/60', SI],
  ]),
  ...rowsOf('air-fuel-equivalence', [
    ['{lambda}', 'air–fuel equivalence ratio', 'λ', '1', 'air–fuel ratio over the stoichiometric one; common practice'],
  ]),
  ...rowsOf('count', [['{count}', 'count', 'count', '1', COUNTED]]),
  ...rowsOf('count-rate', [
    ['{count}/s', 'count per second', 'count/s', '1', COUNTED],
    ['{count}/min', 'count per minute', 'count/min', '1/60', COUNTED],
  ]),
  ...rowsOf('gear', [['{gear}', 'gear number', 'gear', '1', COUNTED]]),
  ...rowsOf('calendar-month', [['{month}', 'calendar month', 'month', '1', COUNTED]]),
  ...rowsOf('calendar-year', [['{year}', 'calendar year', 'year', '1', COUNTED]]),
  ...rowsOf('level', [
    ['dB', 'decibel', 'dB', '1', 'ISO 80000-1:2009, Annex C; a difference of levels, never converted'],
  ]),
  ...rowsOf('power-level', [
    ['dB{mW}', 'decibel above 1 mW', 'dBm', '1', 'ISO 80000-1:2009, Annex C; a level above 1 mW, never converted'],
  ]),
  ...rowsOf('sound-level', [
    [
      'dB{SPL}',
      'decibel of sound pressure',
      'dB (sound)',
      '1',
      'ISO 80000-8:2007; a level above 20 µPa, never converted',
    ],
  ]),
  ...rowsOf('illuminance', [
    ['lx', 'lux', 'lx', '1', SI],
    ['klx', 'kilolux', 'klx', '1000', SI],
  ]),
  ...rowsOf('luminous-flux', [['lm', 'lumen', 'lm', '1', SI]]),
  ...rowsOf('luminous-intensity', [['cd', 'candela', 'cd', '1', SI]]),
  ...rowsOf('luminance', [['cd/m2', 'candela per square metre', 'cd/m²', '1', SI]]),
  ...rowsOf('irradiance', [
    ['W/m2', 'watt per square metre', 'W/m²', '1', SI],
    ['mW/cm2', 'milliwatt per square centimetre', 'mW/cm²', '10', SI],
  ]),
  ...rowsOf('amount-of-substance', [['mol', 'mole', 'mol', '1', SI]]),
];
