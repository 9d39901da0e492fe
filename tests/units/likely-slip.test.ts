import { describe, expect, it } from 'vitest';
import { type Affine, toNumber, toRational } from '../../src/number/index.ts';
import { type Unit, conversionBetween, likelySlip, unitByCode } from '../../src/units/index.ts';
import { OFFSET_SLIPS, UNIT_SLIPS } from '../../src/units/slips.ts';

function exact(from: string, to: string): Affine {
  const [a, b] = [unitByCode(from), unitByCode(to)] as [Unit, Unit];
  const conversion = conversionBetween(a, b);
  if (conversion.kind === 'affine') return conversion.affine;
  if (conversion.kind === 'none' && conversion.why === 'gauge-against-absolute') return conversion.declared;
  throw new Error(`${from} to ${to}: ${conversion.kind}`);
}

function slip(factor: number | string, offset: number | string, from: string, to: string): string | null {
  const explicit = { factor: toRational(factor), offset: toRational(offset) };
  return likelySlip(explicit, exact(from, to))?.message ?? null;
}

describe('likelySlip', () => {
  it.each([
    // The slips are common practice; the ratios are those of NIST SP 811 B.8.
    [1, 0, '[mi_i]/h', 'km/h', '1.609344: this looks like mph read as km/h'],
    [1, 0, 'km/h', '[mi_i]/h', '1.609344: this looks like km/h read as mph'],
    [1, 0, 'km/h', 'm/s', '3.6: this looks like km/h read as m/s'],
    [1, 0, '[psi]', 'kPa', '6.894757: this looks like psi read as kPa'],
    [1, 0, 'kPa', '[psi]', '6.894757: this looks like kPa read as psi'],
    [1, 0, 'rad', 'deg', '57.29578: this looks like rad read as deg'],
    [1, 0, 'deg', 'rad', '57.29578: this looks like deg read as rad'],
    [1, 0, 'rad/s', '{rev}/min', '9.549297: this looks like rad/s read as rev/min'],
    [1, 0, 'min', 's', '60: this looks like minutes read as seconds'],
    [1, 0, 'h', 's', '3600: this looks like hours read as seconds'],
    [1, 0, '[lbf_av]', 'N', '4.448222: this looks like lbf read as N'],
    [1, 0, '[lbf_av].[ft_i]', 'N.m', '1.355818: this looks like lbf·ft read as N·m'],
    [1, 0, 'kW', '[HP]', '1.341022: this looks like kW read as hp'],
    ['1.341022', 0, 'kW', '75.kgf.m/s', '1.01387: this looks like hp read as PS'],
    [1, 0, '[gal_us]', 'L', '3.785412: this looks like US gallons read as litres'],
    ['3.785412', 0, '[gal_br]', 'L', '1.20095: this looks like imperial gallons read as US gallons'],
    [1, 0, 'mV', 'V', '1000: this looks like'],
    [1, 0, 'bar', 'kPa', '100: this looks like a fraction or bar read as percent or kPa'],
    [1, 0, '1', '%', '100: this looks like a fraction or bar read as percent or kPa'],
    ['0.1', 0, 'kPa', 'bar', '10: this looks like'],
    [1, 0, 'By', 'bit', '8: this looks like bytes read as bits'],
    [1, 0, '[g]', 'm/s2', '9.80665: this looks like'],
    [1, 0, "[in_i'Hg]", 'kPa', '3.386389: this looks like inHg read as kPa'],
    // Direction and repetition.
    ['0.621371', 0, '[mi_i]/h', 'km/h', 'the wrong way round'],
    ['2.589988', 0, '[mi_i]/h', 'km/h', '1.609344: this looks like the conversion applied twice'],
    ['1.8', '32', '[degF]', 'Cel', 'the wrong way round'],
    // Temperature: 1.8 with or without 32.
    ['1.8', 0, 'Cel', '[degF]', 'the offset 32 is left out: this looks like the 32 between °C and °F'],
    [1, 0, 'Cel', '[degF]', '1.8: this looks like °C read as °F, with the offset 32 left out as well'],
    [1, 32, 'Cel', '[degF]', '1.8: this looks like °C read as °F; the factor is 1.8 times too small'],
    ['1.8', -32, 'Cel', '[degF]', 'the offset has the wrong sign: 32 is due'],
    ['1.8', '57.6', 'Cel', '[degF]', 'the offset 32 was added before the factor instead of after it'],
    ['5/9', 0, '[degF]', 'Cel', 'the offset -17.77778 is left out'],
    ['5/9', -32, '[degF]', 'Cel', 'the offset -32 belongs before the factor; after it, -17.77778 is due'],
    [1, 0, 'K', 'Cel', 'the offset -273.15 is left out: this looks like kelvin and degree Celsius mixed'],
    [1, 0, 'Cel', 'K', 'kelvin and degree Celsius mixed'],
    [1, -40, 'Cel', 'Cel', 'the −40 of a temperature coding'],
    // Gauge and absolute.
    [1, 0, 'kPa{gauge}', 'kPa', 'the offset 101.325 is left out: this looks like gauge and absolute pressure mixed'],
    [1, '-101.3', 'kPa', 'kPa', 'gauge and absolute pressure mixed'],
    ['0.01', '1.013', 'kPa', 'bar', 'gauge and absolute pressure mixed'],
    // Sign.
    [-1, 0, 'deg', 'deg', 'the factor has the wrong sign'],
    ['-1', 0, '[mi_i]/h', 'km/h', 'the factor has the wrong sign, and 1.609344: this looks like mph read as km/h'],
    [0, 5, 'V', 'mV', 'factor 0'],
  ])('y = %s·x + %s from %s to %s', (factor, offset, from, to, words) => {
    expect(slip(factor, offset, from, to)).toContain(words);
  });

  it.each([
    ['1.609344', 0, '[mi_i]/h', 'km/h'],
    ['1.609', 0, '[mi_i]/h', 'km/h'],
    ['1.61', 0, '[mi_i]/h', 'km/h'],
    ['5/9', '-17.78', '[degF]', 'Cel'],
    ['0.5556', '-17.778', '[degF]', 'Cel'],
    [1, '273.15', 'Cel', 'K'],
    [1, '101.3', 'kPa{gauge}', 'kPa'],
    // Wrong, but no known mistake: it must not invent one.
    ['1.37', 0, '[mi_i]/h', 'km/h'],
    ['7.77', 0, 'V', 'V'],
    [1, '12.3', 'Cel', 'Cel'],
  ])('has nothing to say of y = %s·x + %s from %s to %s', (factor, offset, from, to) => {
    expect(slip(factor, offset, from, to)).toBeNull();
  });
});

describe('the tables of slips', () => {
  it('hold ratios that tell each other apart, upside down too', () => {
    const ratios = UNIT_SLIPS.map(({ ratio }) => toNumber(toRational(ratio)));
    const sorted = [...ratios].sort((a, b) => a - b);
    for (let at = 1; at < sorted.length; at++) expect(sorted[at]! / sorted[at - 1]!).toBeGreaterThan(1.002);
    expect(sorted[0]).toBeGreaterThan(1.002);
    const offsets = OFFSET_SLIPS.map(({ offset }) => toNumber(toRational(offset))).sort((a, b) => a - b);
    for (let at = 1; at < offsets.length; at++) expect(offsets[at]! / offsets[at - 1]!).toBeGreaterThan(1.004);
  });

  /** The figures against the unit table, which NIST SP 811 and the UCUM library check. */
  it.each([
    ['1.609344', '[mi_i]/h', 'km/h'],
    ['2.236936', 'm/s', '[mi_i]/h'],
    ['1.852', '[kn_i]', 'km/h'],
    ['1.150779', '[kn_i]', '[mi_i]/h'],
    ['1.466667', '[mi_i]/h', '[ft_i]/s'],
    ['3.28084', 'm', '[ft_i]'],
    ['6.894757', '[psi]', 'kPa'],
    ['14.50377', 'bar', '[psi]'],
    ['68.94757', '[psi]', 'mbar'],
    ['3.386389', "[in_i'Hg]", 'kPa'],
    ['33.86389', "[in_i'Hg]", 'mbar'],
    ['1.333224', 'mm[Hg]', 'mbar'],
    ['57.29578', 'rad', 'deg'],
    ['6.283185', '{rev}', 'rad'],
    ['9.549297', 'rad/s', '{rev}/min'],
    ['4.448222', '[lbf_av]', 'N'],
    ['1.355818', '[lbf_av].[ft_i]', 'N.m'],
    ['8.850746', 'N.m', '[lbf_av].[in_i]'],
    ['1.341022', 'kW', '[HP]'],
    ['1.359622', 'kW', '75.kgf.m/s'],
    ['1.01387', '[HP]', '75.kgf.m/s'],
    ['2.204623', 'kg', '[lb_av]'],
    ['28.34952', '[oz_av]', 'g{mass}'],
    ['3.785412', '[gal_us]', 'L'],
    ['1.20095', '[gal_br]', '[gal_us]'],
    ['2.352146', 'km/L', '[mi_i]/[gal_us]'],
    ['2.824809', 'km/L', '[mi_i]/[gal_br]'],
  ])('%s is 1 %s in %s', (ratio, from, to) => {
    expect(UNIT_SLIPS.some((entry) => entry.ratio === ratio)).toBe(true);
    const precise = toNumber(exact(from, to).factor);
    expect(Math.abs(precise / toNumber(toRational(ratio)) - 1)).toBeLessThan(5e-7);
  });
});
