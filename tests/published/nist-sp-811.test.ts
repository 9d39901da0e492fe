/**
 * NIST Special Publication 811, 2008 edition, Appendix B.
 * B.5 and B.6 were read; the rows of B.8 were read in a public transcription (the R package NISTunits 1.0.1, which names
 * physics.nist.gov/Pubs/SP811/appenB8.html as its source); B.9 lists the same factors by kind of quantity. Which B.8 factors are
 * bold, that is exact, is from memory. B.8 gives seven significant digits: ours, rounded to as many, must be the printed figure.
 */
import { describe, expect, it } from 'vitest';
import { type Rational, formatDecimal, toRational } from '../../src/number/index.ts';
import { type Unit, conversionBetween, convertExact, unitByCode } from '../../src/units/index.ts';

function unit(code: string): Unit {
  const found = unitByCode(code);
  if (found === null) throw new Error(`${code} is not in the table`);
  return found;
}

function factor(from: string, to: string): Rational {
  const conversion = conversionBetween(unit(from), unit(to));
  if (conversion.kind !== 'affine') throw new Error(`${from} to ${to}: ${conversion.kind}`);
  expect(conversion.affine.offset).toEqual(toRational(0));
  return conversion.affine.factor;
}

function convert(value: string, from: string, to: string): Rational {
  const converted = convertExact(toRational(value), unit(from), unit(to));
  if ('kind' in converted) throw new Error(converted.message);
  return converted;
}

/** B.8: [to convert from, to, multiply by] with our codes for both. */
const ROUNDED: readonly (readonly [row: string, from: string, to: string, printed: string])[] = [
  ['British thermal unit IT (Btu IT) to joule (J)', '[Btu_IT]', 'J', '1.055 056 E+03'],
  ['British thermal unit IT per hour (Btu IT/h) to watt (W)', '[Btu_IT]/h', 'W', '2.930 711 E−01'],
  ['centimeter of mercury, conventional (cmHg) to pascal (Pa), a tenth of it', 'mm[Hg]', 'Pa', '1.333 224 E+02'],
  ['cubic foot (ft3) to cubic meter (m3)', '[cft_i]', 'm3', '2.831 685 E−02'],
  ['cubic foot per minute (ft3/min) to cubic meter per second (m3/s)', '[cft_i]/min', 'm3/s', '4.719 474 E−04'],
  ['cubic foot per minute (ft3/min) to liter per second (L/s)', '[cft_i]/min', 'L/s', '4.719 474 E−01'],
  ['cubic inch (in3) to cubic meter (m3)', '[cin_i]', 'm3', '1.638 706 E−05'],
  ['degree (angle) (°) to radian (rad)', 'deg', 'rad', '1.745 329 E−02'],
  [
    'degree Fahrenheit (temperature interval) (°F) to kelvin (K)',
    '[degF]{difference}',
    'K{difference}',
    '5.555 556 E−01',
  ],
  ['fluid ounce (U.S.) (fl oz) to cubic meter (m3)', '[foz_us]', 'm3', '2.957 353 E−05'],
  ['fluid ounce (U.S.) (fl oz) to milliliter (mL)', '[foz_us]', 'mL', '2.957 353 E+01'],
  ['gallon (U.S.) (gal) to cubic meter (m3)', '[gal_us]', 'm3', '3.785 412 E−03'],
  ['gallon (U.S.) (gal) to liter (L)', '[gal_us]', 'L', '3.785 412 E+00'],
  [
    'gallon (U.S.) per minute (gpm) (gal/min) to cubic meter per second (m3/s)',
    '[gal_us]/min',
    'm3/s',
    '6.309 020 E−05',
  ],
  ['gallon (U.S.) per minute (gpm) (gal/min) to liter per second (L/s)', '[gal_us]/min', 'L/s', '6.309 020 E−02'],
  ['horsepower (550 ft·lbf/s) (hp) to watt (W)', '[HP]', 'W', '7.456 999 E+02'],
  ['horsepower (metric) to watt (W)', '75.kgf.m/s', 'W', '7.354 988 E+02'],
  ['inch of mercury, conventional (inHg) to pascal (Pa)', "[in_i'Hg]", 'Pa', '3.386 389 E+03'],
  ['inch of mercury, conventional (inHg) to kilopascal (kPa)', "[in_i'Hg]", 'kPa', '3.386 389 E+00'],
  ['inch of water, conventional (inH2O) to pascal (Pa)', "[in_i'H2O]", 'Pa', '2.490 889 E+02'],
  ['kilometer per hour (km/h) to meter per second (m/s)', 'km/h', 'm/s', '2.777 778 E−01'],
  ['knot (nautical mile per hour) to meter per second (m/s)', '[kn_i]', 'm/s', '5.144 444 E−01'],
  ['mile per gallon (U.S.) (mpg) (mi/gal) to kilometer per liter (km/L)', '[mi_i]/[gal_us]', 'km/L', '4.251 437 E−01'],
  ["minute (angle) (') to radian (rad)", "'", 'rad', '2.908 882 E−04'],
  ['ounce (avoirdupois) (oz) to kilogram (kg)', '[oz_av]', 'kg', '2.834 952 E−02'],
  ['ounce (avoirdupois) (oz) to gram (g)', '[oz_av]', 'g{mass}', '2.834 952 E+01'],
  ['pound (avoirdupois) (lb) to kilogram (kg)', '[lb_av]', 'kg', '4.535 924 E−01'],
  ['pound-force (lbf) to newton (N)', '[lbf_av]', 'N', '4.448 222 E+00'],
  ['pound-force foot (lbf·ft) to newton meter (N·m)', '[lbf_av].[ft_i]', 'N.m', '1.355 818 E+00'],
  ['pound-force inch (lbf·in) to newton meter (N·m)', '[lbf_av].[in_i]', 'N.m', '1.129 848 E−01'],
  ['pound-force per square inch (psi) (lbf/in2) to pascal (Pa)', '[psi]', 'Pa', '6.894 757 E+03'],
  ['pound-force per square inch (psi) (lbf/in2) to kilopascal (kPa)', '[psi]', 'kPa', '6.894 757 E+00'],
  ['pound per hour (lb/h) to kilogram per second (kg/s)', '[lb_av]/h', 'kg/s', '1.259 979 E−04'],
  ['pound per minute (lb/min) to kilogram per second (kg/s)', '[lb_av]/min', 'kg/s', '7.559 873 E−03'],
  ['pound per second (lb/s) to kilogram per second (kg/s)', '[lb_av]/s', 'kg/s', '4.535 924 E−01'],
  ['quart (U.S. liquid) (liq qt) to cubic meter (m3)', '[qt_us]', 'm3', '9.463 529 E−04'],
  ['quart (U.S. liquid) (liq qt) to liter (L)', '[qt_us]', 'L', '9.463 529 E−01'],
  ['revolution (r) to radian (rad)', '{rev}', 'rad', '6.283 185 E+00'],
  ['revolution per minute (rpm) (r/min) to radian per second (rad/s)', '{rev}/min', 'rad/s', '1.047 198 E−01'],
  ['second (angle) (") to radian (rad)', "''", 'rad', '4.848 137 E−06'],
  ['ton, long (2240 lb) to kilogram (kg)', '[lton_av]', 'kg', '1.016 047 E+03'],
  ['ton, short (2000 lb) to kilogram (kg)', '[ston_av]', 'kg', '9.071 847 E+02'],
  ['ton of refrigeration (12 000 Btu IT/h) to watt (W), a 12 000th of it', '[Btu_IT]/h', 'W', '2.930 711 E−01'],
];

/** B.8 rows printed in bold: exact, all further digits are zero. */
const EXACT: readonly (readonly [row: string, from: string, to: string, printed: string])[] = [
  ['acceleration of free fall, standard (gn) to meter per second squared (m/s2)', '[g]', 'm/s2', '9.806 65 E+00'],
  ['ampere hour (A·h) to coulomb (C)', 'A.h', 'A.s', '3.6 E+03'],
  ['atmosphere, standard (atm) to pascal (Pa)', 'atm', 'Pa', '1.013 25 E+05'],
  ['atmosphere, standard (atm) to kilopascal (kPa)', 'atm', 'kPa', '1.013 25 E+02'],
  ['atmosphere, technical (at) to pascal (Pa)', 'att', 'Pa', '9.806 65 E+04'],
  ['bar (bar) to pascal (Pa)', 'bar', 'Pa', '1.0 E+05'],
  ['bar (bar) to kilopascal (kPa)', 'bar', 'kPa', '1.0 E+02'],
  ['centimeter of water, conventional (cmH2O) to pascal (Pa)', 'cm[H2O]', 'Pa', '9.806 65 E+01'],
  ['centistokes (cSt) to meter squared per second (m2/s)', 'mm2/s', 'm2/s', '1.0 E−06'],
  ['day (d) to second (s)', 'd', 's', '8.64 E+04'],
  ['foot (ft) to meter (m)', '[ft_i]', 'm', '3.048 E−01'],
  ['foot per minute (ft/min) to meter per second (m/s)', '[ft_i]/min', 'm/s', '5.08 E−03'],
  ['foot per second (ft/s) to meter per second (m/s)', '[ft_i]/s', 'm/s', '3.048 E−01'],
  ['foot per second squared (ft/s2) to meter per second squared (m/s2)', '[ft_i]/s2', 'm/s2', '3.048 E−01'],
  ['gal (Gal) to meter per second squared (m/s2)', 'cm/s2', 'm/s2', '1.0 E−02'],
  ['gallon [Canadian and U.K. (Imperial)] (gal) to cubic meter (m3)', '[gal_br]', 'm3', '4.546 09 E−03'],
  ['gallon [Canadian and U.K. (Imperial)] (gal) to liter (L)', '[gal_br]', 'L', '4.546 09 E+00'],
  ['gram per cubic centimeter (g/cm3) to kilogram per cubic meter (kg/m3)', 'g/cm3', 'kg/m3', '1.0 E+03'],
  ['hour (h) to second (s)', 'h', 's', '3.6 E+03'],
  ['inch (in) to meter (m)', '[in_i]', 'm', '2.54 E−02'],
  ['inch (in) to centimeter (cm)', '[in_i]', 'cm', '2.54 E+00'],
  ['inch per second (in/s) to meter per second (m/s)', '[in_i]/s', 'm/s', '2.54 E−02'],
  ['kilocalorie th (kcal th) to joule (J)', 'kcal_th', 'J', '4.184 E+03'],
  ['kilogram-force (kgf) to newton (N)', 'kgf', 'N', '9.806 65 E+00'],
  ['kilogram-force meter (kgf·m) to newton meter (N·m)', 'kgf.m', 'N.m', '9.806 65 E+00'],
  ['kilogram-force per square centimeter (kgf/cm2) to kilopascal (kPa)', 'att', 'kPa', '9.806 65 E+01'],
  ['kilowatt hour (kW·h) to joule (J)', 'kW.h', 'J', '3.6 E+06'],
  ['kilowatt hour (kW·h) to megajoule (MJ)', 'kW.h', 'MJ', '3.6 E+00'],
  ['liter (L) to cubic meter (m3)', 'L', 'm3', '1.0 E−03'],
  ['micron (µ) to meter (m)', 'um', 'm', '1.0 E−06'],
  ['mile (mi) to meter (m)', '[mi_i]', 'm', '1.609 344 E+03'],
  ['mile (mi) to kilometer (km)', '[mi_i]', 'km', '1.609 344 E+00'],
  ['mile, nautical to meter (m)', '[nmi_i]', 'm', '1.852 E+03'],
  ['mile per hour (mi/h) to meter per second (m/s)', '[mi_i]/h', 'm/s', '4.4704 E−01'],
  ['mile per hour (mi/h) to kilometer per hour (km/h)', '[mi_i]/h', 'km/h', '1.609 344 E+00'],
  ['millibar (mbar) to pascal (Pa)', 'mbar', 'Pa', '1.0 E+02'],
  ['millibar (mbar) to kilopascal (kPa)', 'mbar', 'kPa', '1.0 E−01'],
  ['millimeter of water, conventional (mmH2O) to pascal (Pa)', 'mm[H2O]', 'Pa', '9.806 65 E+00'],
  ['minute (min) to second (s)', 'min', 's', '6.0 E+01'],
  ['square inch (in2) to square meter (m2)', '[sin_i]', 'm2', '6.4516 E−04'],
  ['square inch (in2) to square centimeter (cm2)', '[sin_i]', 'cm2', '6.4516 E+00'],
  ['tonne (called "metric ton" in U.S.) (t) to kilogram (kg)', 't', 'kg', '1.0 E+03'],
  ['watt hour (W·h) to joule (J)', 'W.h', 'J', '3.6 E+03'],
  ['watt second (W·s) to joule (J)', 'W.s', 'J', '1.0 E+00'],
  ['yard (yd) to meter (m)', '[yd_i]', 'm', '9.144 E−01'],
  // Footnote 22, from memory: the pound is exactly 0.453 592 37 kg; footnote 23: the pound-force exactly 4.448 221 615 260 5 N.
  ['pound (avoirdupois), footnote 22', '[lb_av]', 'kg', '4.535 923 7 E−01'],
  ['pound-force, footnote 23', '[lbf_av]', 'N', '4.448 221 615 260 5 E+00'],
];

/** "6.894 757 E+03" as a number. */
function printedValue(printed: string): Rational {
  return toRational(printed.replaceAll(' ', '').replace('−', '-'));
}

describe('NIST SP 811 (2008) B.8, factors for units listed alphabetically', () => {
  it.each(ROUNDED)('%s', (_row, from, to, printed) => {
    const digits = printed.replace(/ ?E.*/, '').replace(/\D/g, '').length;
    expect(digits).toBe(7);
    const ours = factor(from, to);
    expect(toRational(formatDecimal(ours, { maxSignificant: digits }))).toEqual(printedValue(printed));
  });

  it.each(EXACT)('%s, exact', (_row, from, to, printed) => {
    expect(factor(from, to)).toEqual(printedValue(printed));
  });

  // degree Celsius: T/K = t/°C + 273.15; degree Fahrenheit: t/°C = (t/°F − 32)/1.8, T/K = (t/°F + 459.67)/1.8.
  it.each(['-459.67', '-40', '0', '32', '98.6', '212', '1000'])('temperature formulas at %s °F', (fahrenheit) => {
    const f = Number(fahrenheit);
    const celsius = convert(fahrenheit, '[degF]', 'Cel');
    expect(celsius.num * 9n * 100n).toBe(celsius.den * BigInt(Math.round((f - 32) * 100)) * 5n);
    const kelvin = convert(fahrenheit, '[degF]', 'K');
    expect(kelvin.num * 9n * 100n).toBe(kelvin.den * BigInt(Math.round((f + 459.67) * 100)) * 5n);
  });

  it.each([
    ['0', 'K', 'Cel', '-273.15'],
    ['0', 'Cel', 'K', '273.15'],
    ['100', 'Cel', '[degF]', '212'],
    ['-40', 'Cel', '[degF]', '-40'],
    ['0', 'K', '[degF]', '-459.67'],
  ])('%s %s is %s: %s', (value, from, to, expected) => {
    expect(convert(value, from, to)).toEqual(toRational(expected));
  });
});

describe('NIST SP 811 (2008) B.5, factor for converting motor vehicle efficiency', () => {
  it('divides 235.215 by miles per U.S. gallon to give L/(100 km), both ways', () => {
    for (const [from, to] of [
      ['[mi_i]/[gal_us]', 'L/(100.km)'],
      ['L/(100.km)', '[mi_i]/[gal_us]'],
    ] as const) {
      const conversion = conversionBetween(unit(from), unit(to));
      if (conversion.kind !== 'reciprocal') throw new Error(conversion.kind);
      expect(formatDecimal(conversion.k, { maxSignificant: 6 })).toBe('235.215');
    }
  });

  it('24 miles per gallon corresponds to 9.8 L/(100 km)', () => {
    expect(formatDecimal(convert('24', '[mi_i]/[gal_us]', 'L/(100.km)'), { maxFraction: 1 })).toBe('9.8');
  });
});

describe('NIST SP 811 (2008) B.6', () => {
  it('the yard is exactly 0.9144 m and the international foot exactly 0.3048 m', () => {
    expect(factor('[yd_i]', 'm')).toEqual(toRational('0.9144'));
    expect(factor('[ft_i]', 'm')).toEqual(toRational('0.3048'));
    expect(factor('[yd_i]', '[ft_i]')).toEqual(toRational(3));
  });
});
