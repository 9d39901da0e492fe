import { describe, expect, it } from 'vitest';
import { AMBIGUOUS, UNITS, ambiguousUnit, findUnit, unitByCode, unitSymbol } from '../../src/units/index.ts';
import { ALIASES, ASSUMED } from '../../src/units/aliases.ts';
import { plainText } from '../../src/units/spelling.ts';

const codeOf = (text: string): string | null => findUnit(text)?.unit.code ?? null;

/** Spellings seen in vehicle databases; which unit each means is common practice. */
const SPELLINGS: Readonly<Record<string, readonly string[]>> = {
  Cel: [
    'degC',
    'deg C',
    'deg_C',
    'DegC',
    'DEGC',
    '°C',
    '° C',
    'º C',
    '˚C',
    '℃',
    'Celsius',
    'deg. C',
    '°C ',
    '[°C]',
    '(degC)',
  ],
  '[degF]': ['degF', 'deg F', '°F', '℉', 'Fahrenheit'],
  K: ['degK', 'deg K', '°K', 'Kelvin'],
  'km/h': ['kph', 'KPH', 'kmh', 'km/hr', 'KM/H', 'Km/h', '[km/h]', 'km / h', 'kmph'],
  '[mi_i]/h': ['mph', 'MPH', 'mi/h', 'miles/hour', 'mile/hr'],
  '{rev}/min': ['rpm', 'RPM', 'Rpm', '1/min', 'U/min', 'r/min', 'rev/min', 'min-1', 'min^-1', 'revs/minute'],
  '%': ['pct', 'percent', 'Percent', 'PERCENT'],
  'N.m': ['Nm', 'N·m', 'N*m', 'N-m', 'N m', 'Newton Meter', 'N⋅m'],
  '[lbf_av].[ft_i]': ['ft-lb', 'lbft', 'lb-ft', 'lb·ft', 'ft lbs', 'lbf·ft', 'LB-FT'],
  kPa: ['kpa', 'KPA', 'KPa', 'Kpa'],
  MPa: ['MPA', 'Mpa'],
  bar: ['Bar', 'BAR'],
  '[psi]': ['psi', 'PSI', 'psia'],
  '[psi]{gauge}': ['psig', 'PSIG', 'psi (gauge)'],
  'kPa{gauge}': ['kPa(g)', 'kPag', 'kPa gauge'],
  'bar{gauge}': ['barg', 'bar(g)'],
  "[in_i'Hg]": ['inHg', 'in Hg'],
  V: ['Volt', 'volts', 'VOLTS', 'v'],
  mV: ['mv', 'millivolt'],
  A: ['Amp', 'amps', 'AMPS', 'Ampere'],
  mA: ['ma', 'milliamp'],
  Ohm: ['ohm', 'ohms', 'Ω', 'OHM'],
  kOhm: ['kohm', 'kΩ', 'KOhm', 'kOhms'],
  s: ['sec', 'secs', 'SEC', 'seconds', 'Second'],
  ms: ['msec', 'mSec', 'milliseconds'],
  us: ['µs', 'μs', 'usec'],
  min: ['MIN', 'mins', 'minutes', 'Min'],
  h: ['hr', 'hrs', 'hours', 'Hours', 'HR'],
  'm/s2': ['m/s^2', 'm/s²', 'm/s**2', 'm/sec^2', 'm/sec²', 'm/s/s', 'M/S^2'],
  Hz: ['1/s', 'hz', 'HZ', 'Hertz', 's-1'],
  kHz: ['khz', 'KHz'],
  'L/h': ['l/h', 'L/hr', 'liters/hour', 'lph', 'l/hr'],
  'L/(100.km)': ['l/100km', 'L/100km', 'L/100 km'],
  'km/L': ['km/l', 'kmpl'],
  '[mi_i]': ['mi', 'miles', 'Miles', 'mile'],
  km: ['Km', 'KM', 'kilometers'],
  'mg/{stroke}': ['mg/stk', 'mg/Hub', 'mg/stroke', 'mg/str'],
  deg: ['°', 'degrees', 'Degree', 'DEG', 'º'],
  'deg/s': ['degrees/s', '°/s', 'deg/sec', 'Deg/Sec', 'dps'],
  '[HP]': ['hp', 'HP', 'bhp'],
  '75.kgf.m/s': ['PS'],
  kW: ['kw', 'KW', 'Kw'],
  'A.h': ['Ah', 'AH', 'A·h'],
  'kW.h': ['kWh', 'KWH'],
  'kg/h': ['kg/hr', 'kg/hour', 'KG/H'],
  'g/s': ['g/sec', 'grams/sec', 'G/S'],
  'g{mass}': ['gram', 'grams'],
  mm2: ['mm^2', 'mm²'],
  cm3: ['cc', 'cm^3', 'cm³'],
  '1': ['-', '[-]', 'ratio'],
  '[ppm]': ['ppm', 'PPM'],
  '[ppth]': ['‰'],
  lx: ['lux', 'Lux'],
  By: ['byte', 'bytes', 'Bytes'],
  'kbit/s': ['kbps', 'kbit/sec', 'kBit/s'],
  '{lambda}': ['lambda', 'Lambda', 'λ'],
  '[gal_us]': ['gal', 'Gallons', 'US gal'],
  '[gal_br]': ['imp gal', 'gal (UK)'],
};

describe('findUnit', () => {
  it.each(Object.entries(SPELLINGS).flatMap(([code, texts]) => texts.map((text) => [text, code] as const)))(
    'reads %j as %s',
    (text, code) => {
      expect(codeOf(text)).toBe(code);
      expect(findUnit(text)?.by).toBe('alias');
    },
  );

  it('reads every code as itself', () => {
    for (const unit of UNITS) expect(findUnit(unit.code)).toEqual({ unit, by: 'code' });
  });

  it('reads every symbol it shows as the unit it shows it for, but where the symbol is ambiguous', () => {
    for (const unit of UNITS) {
      if (unit.symbol === '') continue;
      if (ambiguousUnit(unit.symbol) === null) expect(codeOf(unit.symbol), unit.symbol).toBe(unit.code);
      else expect(findUnit(unit.symbol), unit.symbol).toBeNull();
    }
    expect(unitSymbol('Cel')).toBe('°C');
    expect(unitSymbol('furlong')).toBe('furlong');
  });

  describe('case decides a factor of 10^9 between m and M, and is never guessed', () => {
    it.each([
      ['mW', 'mW'],
      ['MW', 'MW'],
      ['mw', null],
      ['Mw', null],
      ['ms', 'ms'],
      ['mS', 'mS'],
      ['MS', null],
      ['Ms', null],
      ['MV', null],
      ['MA', null],
      ['MPa', 'MPa'],
      ['mPa', null],
      ['mpa', null],
      ['mOhm', 'mOhm'],
      ['MOhm', 'MOhm'],
      ['MOHM', null],
      ['mHz', 'mHz'],
      ['MHz', 'MHz'],
      ['MHZ', null],
      ['Mbar', null],
      ['MM', null],
      ['MG', null],
      ['MBIT/S', 'Mbit/s'],
      ['mbit/s', null],
      ['mj', null],
      ['MJ', 'MJ'],
      ['mJ', 'mJ'],
    ])('%s → %s', (text, code) => {
      expect(codeOf(text)).toBe(code);
    });
  });

  describe('texts damaged on their way', () => {
    it.each([
      ['\uFFFDC', 'Cel'],
      ['\uFFFD C', 'Cel'],
      ['ï¿½C', 'Cel'],
      ['Â°C', 'Cel'],
      ['Â° C', 'Cel'],
      ['\uFFFD', 'deg'],
      ['\uFFFD/s', 'deg/s'],
      ['Â°/s', 'deg/s'],
      ['m/s\uFFFD', 'm/s2'],
      ['m/sÂ²', 'm/s2'],
      ['N\uFFFDm', 'N.m'],
      ['\uFFFDs', 'us'],
      ['kÎ©', 'kOhm'],
      ['Î¼s', 'us'],
      ['\uFFFDF', null],
      ['k\uFFFD', null],
      ['\uFFFD\uFFFD', null],
    ])('%j → %s', (text, code) => {
      expect(codeOf(text)).toBe(code);
    });
  });

  it.each([
    '',
    ' ',
    'ASCII',
    'bool',
    'enum',
    'raw',
    'furlong',
    'km/h/h/h/h',
    '[]',
    '()',
    'x'.repeat(100_000),
    '°'.repeat(64),
    'constructor',
    '__proto__',
    'toString',
    'hasOwnProperty',
  ])('knows nothing of %j', (text) => {
    expect(findUnit(text)).toBeNull();
    expect(ambiguousUnit(text)).toBeNull();
  });

  it('says what a spelling left open', () => {
    expect(findUnit('gal')?.assumed).toContain('US gallon');
    expect(findUnit('gal/hour')?.assumed).toContain('US gallon');
    expect(findUnit('HP')?.assumed).toContain('mechanical');
    expect(findUnit('psi')?.assumed).toContain('absolute');
    expect(findUnit('MPG')?.assumed).toContain('US gallon');
    expect(findUnit('1/min')?.assumed).toContain('revolution');
    expect(findUnit('km/h')?.assumed).toBeUndefined();
    expect(findUnit('kPa')?.assumed).toBeUndefined();
  });

  it('answers 200,000 hostile texts within a second or two', () => {
    const started = performance.now();
    for (let count = 0; count < 200_000; count++) findUnit(`°${count}/${'µ'.repeat(count % 60)}`);
    expect(performance.now() - started).toBeLessThan(10_000);
  });
});

describe('ambiguous texts', () => {
  it.each(AMBIGUOUS.map((entry) => [entry.text, entry] as const))(
    '%j never resolves and offers codes',
    (text, entry) => {
      expect(findUnit(text)).toBeNull();
      expect(findUnit(`[${text}]`)?.unit.code ?? null).toBe(text === 'g' ? '[g]' : null);
      expect(ambiguousUnit(text)).toBe(entry);
      expect(entry.candidates.length).toBeGreaterThan(0);
      for (const code of entry.candidates) expect(unitByCode(code), code).not.toBeNull();
      expect(entry.why.length).toBeGreaterThan(10);
    },
  );
});

describe('the tables of spellings', () => {
  it('give each spelling to one unit, and none to a code or an ambiguous text', () => {
    const taken = new Map<string, string>();
    for (const [code, texts] of Object.entries(ALIASES)) {
      expect(unitByCode(code), code).not.toBeNull();
      for (const text of texts) {
        const plain = plainText(text);
        expect(unitByCode(plain), `${text} is a code`).toBeNull();
        expect(taken.get(plain) ?? code, text).toBe(code);
        expect(codeOf(text), text).toBe(code);
        taken.set(plain, code);
      }
    }
    expect(taken.size).toBeGreaterThan(600);
  });

  it('state assumptions only for texts that resolve', () => {
    for (const text of Object.keys(ASSUMED)) expect(findUnit(text)?.assumed, text).toBe(ASSUMED[text]);
  });

  it('plain text is plain already', () => {
    for (const texts of Object.values(ALIASES)) {
      for (const text of texts) expect(plainText(plainText(text))).toBe(plainText(text));
    }
  });
});
