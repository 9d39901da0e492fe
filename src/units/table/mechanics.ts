import { NIST_8, type Row, SI, UCUM, pointRowsOf, rowsOf } from './row.ts';

const POUND = 'NIST SP 811 (2008), B.8: pound (avoirdupois) 4.535 9237 E−01 kg, exact';
const POUND_FORCE = `${POUND}; standard free fall 9.80665 m/s², exact`;
const MERCURY =
  'conventional mercury, 13 595.1 kg/m³ at 9.80665 m/s² (NIST SP 811 (2008), B.8: inch of mercury, conventional)';
const WATER = 'conventional water, 1000 kg/m³ at 9.80665 m/s² (NIST SP 811 (2008), B.8: inch of water, conventional)';
const GAUGE =
  'declared here: gauge pressure is pressure above the standard atmosphere, 101 325 Pa (10th CGPM 1954, Resolution 4)';
const ATMOSPHERE = '101325';
const PSI = '0.45359237*9.80665/0.0254/0.0254';
const IN_HG = '13595.1*9.80665*0.0254';
const FAHRENHEIT = 'NIST SP 811 (2008), B.8: degree Fahrenheit, T/K = (t/°F + 459.67)/1.8';
const CALORIE = 'NIST SP 811 (2008), B.8: thermochemical calorie 4.184 J, exact';
const BTU = 'NIST SP 811 (2008), B.8: British thermal unit (IT) 1.055 055 852 62 E+03 J, exact by definition';

/** Temperature, pressure, force, torque, power, energy, mass. */
export const MECHANICS: readonly Row[] = [
  ...pointRowsOf('temperature', [
    ['K', 'kelvin', 'K', '1', '0', SI],
    ['Cel', 'degree Celsius', '°C', '1', '273.15', SI],
    ['[degF]', 'degree Fahrenheit', '°F', '5/9', '459.67*5/9', FAHRENHEIT],
  ]),
  ...rowsOf('temperature-difference', [
    ['K{difference}', 'kelvin, of a difference', 'K (difference)', '1', SI],
    ['[degF]{difference}', 'degree Fahrenheit, of a difference', '°F (difference)', '5/9', FAHRENHEIT],
  ]),
  ...rowsOf('temperature-rate', [
    ['K/s', 'kelvin per second', 'K/s', '1', SI],
    ['K/min', 'kelvin per minute', 'K/min', '1/60', SI],
  ]),
  ...rowsOf('pressure', [
    ['Pa', 'pascal', 'Pa', '1', SI],
    ['hPa', 'hectopascal', 'hPa', '100', SI],
    ['kPa', 'kilopascal', 'kPa', '1000', SI],
    ['MPa', 'megapascal', 'MPa', '1e6', SI],
    ['bar', 'bar', 'bar', '100000', NIST_8],
    ['mbar', 'millibar', 'mbar', '100', NIST_8],
    ['[psi]', 'pound-force per square inch', 'psi', PSI, POUND_FORCE],
    ["[in_i'Hg]", 'inch of mercury', 'inHg', IN_HG, MERCURY],
    ['mm[Hg]', 'millimetre of mercury', 'mmHg', '13595.1*9.80665*0.001', MERCURY],
    ['m[H2O]', 'metre of water', 'mH₂O', '9806.65', WATER],
    ['cm[H2O]', 'centimetre of water', 'cmH₂O', '98.0665', WATER],
    ['mm[H2O]', 'millimetre of water', 'mmH₂O', '9.80665', WATER],
    ["[in_i'H2O]", 'inch of water', 'inH₂O', '9806.65*0.0254', WATER],
    ['atm', 'standard atmosphere', 'atm', ATMOSPHERE, NIST_8],
    ['att', 'technical atmosphere', 'at (technical)', '98066.5', NIST_8],
  ]),
  ...pointRowsOf('gauge-pressure', [
    ['Pa{gauge}', 'pascal, gauge', 'Pa (gauge)', '1', ATMOSPHERE, GAUGE],
    ['hPa{gauge}', 'hectopascal, gauge', 'hPa (gauge)', '100', ATMOSPHERE, GAUGE],
    ['kPa{gauge}', 'kilopascal, gauge', 'kPa (gauge)', '1000', ATMOSPHERE, GAUGE],
    ['MPa{gauge}', 'megapascal, gauge', 'MPa (gauge)', '1e6', ATMOSPHERE, GAUGE],
    ['bar{gauge}', 'bar, gauge', 'bar (gauge)', '100000', ATMOSPHERE, GAUGE],
    ['mbar{gauge}', 'millibar, gauge', 'mbar (gauge)', '100', ATMOSPHERE, GAUGE],
    ['[psi]{gauge}', 'pound-force per square inch, gauge', 'psi (gauge)', PSI, ATMOSPHERE, GAUGE],
    ["[in_i'Hg]{gauge}", 'inch of mercury, gauge', 'inHg (gauge)', IN_HG, ATMOSPHERE, GAUGE],
    ['cm[H2O]{gauge}', 'centimetre of water, gauge', 'cmH₂O (gauge)', '98.0665', ATMOSPHERE, GAUGE],
  ]),
  ...rowsOf('pressure-rate', [
    ['Pa/s', 'pascal per second', 'Pa/s', '1', SI],
    ['kPa/s', 'kilopascal per second', 'kPa/s', '1000', SI],
    ['MPa/s', 'megapascal per second', 'MPa/s', '1e6', SI],
    ['bar/s', 'bar per second', 'bar/s', '100000', NIST_8],
    ['mbar/s', 'millibar per second', 'mbar/s', '100', NIST_8],
    ['[psi]/s', 'pound-force per square inch per second', 'psi/s', PSI, POUND_FORCE],
  ]),
  ...rowsOf('force', [
    ['N', 'newton', 'N', '1', SI],
    ['daN', 'decanewton', 'daN', '10', SI],
    ['kN', 'kilonewton', 'kN', '1000', SI],
    ['[lbf_av]', 'pound-force', 'lbf', '0.45359237*9.80665', POUND_FORCE],
    ['kgf', 'kilogram-force', 'kgf', '9.80665', NIST_8],
  ]),
  ...rowsOf('stiffness', [
    ['N/m', 'newton per metre', 'N/m', '1', SI],
    ['N/mm', 'newton per millimetre', 'N/mm', '1000', SI],
  ]),
  ...rowsOf('torque', [
    ['N.m', 'newton metre', 'N·m', '1', SI],
    ['mN.m', 'millinewton metre', 'mN·m', '0.001', SI],
    ['cN.m', 'centinewton metre', 'cN·m', '0.01', SI],
    ['daN.m', 'decanewton metre', 'daN·m', '10', SI],
    ['kN.m', 'kilonewton metre', 'kN·m', '1000', SI],
    ['[lbf_av].[ft_i]', 'pound-force foot', 'lbf·ft', '0.45359237*9.80665*0.3048', POUND_FORCE],
    ['[lbf_av].[in_i]', 'pound-force inch', 'lbf·in', '0.45359237*9.80665*0.0254', POUND_FORCE],
    ['kgf.m', 'kilogram-force metre', 'kgf·m', '9.80665', NIST_8],
  ]),
  ...rowsOf('torque-rate', [['N.m/s', 'newton metre per second', 'N·m/s', '1', SI]]),
  ...rowsOf('power', [
    ['W', 'watt', 'W', '1', SI],
    ['mW', 'milliwatt', 'mW', '0.001', SI],
    ['kW', 'kilowatt', 'kW', '1000', SI],
    ['MW', 'megawatt', 'MW', '1e6', SI],
    ['[HP]', 'mechanical horsepower', 'hp', '550*0.45359237*9.80665*0.3048', `${NIST_8}: horsepower (550 ft·lbf/s)`],
    ['75.kgf.m/s', 'metric horsepower', 'PS', '75*9.80665', `${NIST_8}: horsepower (metric), 75 kgf·m/s`],
    ['[Btu_IT]/h', 'British thermal unit per hour', 'Btu/h', '1055.05585262/3600', BTU],
  ]),
  ...rowsOf('apparent-power', [
    ['V.A', 'volt ampere', 'V·A', '1', SI],
    ['kV.A', 'kilovolt ampere', 'kV·A', '1000', SI],
  ]),
  ...rowsOf('power-rate', [
    ['W/s', 'watt per second', 'W/s', '1', SI],
    ['kW/s', 'kilowatt per second', 'kW/s', '1000', SI],
  ]),
  ...rowsOf('energy', [
    ['J', 'joule', 'J', '1', SI],
    ['mJ', 'millijoule', 'mJ', '0.001', SI],
    ['kJ', 'kilojoule', 'kJ', '1000', SI],
    ['MJ', 'megajoule', 'MJ', '1e6', SI],
    ['W.s', 'watt second', 'W·s', '1', NIST_8],
    ['W.h', 'watt hour', 'W·h', '3600', NIST_8],
    ['kW.h', 'kilowatt hour', 'kW·h', '3.6e6', NIST_8],
    ['MW.h', 'megawatt hour', 'MW·h', '3.6e9', NIST_8],
    ['kcal_th', 'kilocalorie (thermochemical)', 'kcal', '4184', CALORIE],
    ['[Btu_IT]', 'British thermal unit', 'Btu', '1055.05585262', BTU],
  ]),
  ...rowsOf('mass', [
    ['kg', 'kilogram', 'kg', '1', SI],
    // A bare g is read as gram by UCUM and means free fall in half of the vehicle files: see ambiguous.ts.
    ['g{mass}', 'gram', 'g', '0.001', SI],
    ['mg', 'milligram', 'mg', '1e-6', SI],
    ['ug', 'microgram', 'µg', '1e-9', SI],
    ['t', 'tonne', 't', '1000', NIST_8],
    ['[lb_av]', 'pound', 'lb', '0.45359237', POUND],
    ['[oz_av]', 'ounce', 'oz', '0.45359237/16', POUND],
    ['[ston_av]', 'short ton', 'short ton', '0.45359237*2000', POUND],
    ['[lton_av]', 'long ton', 'long ton', '0.45359237*2240', POUND],
  ]),
  ...rowsOf('density', [
    ['kg/m3', 'kilogram per cubic metre', 'kg/m³', '1', SI],
    ['g/L', 'gram per litre', 'g/L', '1', SI],
    ['mg/L', 'milligram per litre', 'mg/L', '0.001', SI],
    ['kg/L', 'kilogram per litre', 'kg/L', '1000', SI],
    ['g/cm3', 'gram per cubic centimetre', 'g/cm³', '1000', SI],
    ['g/m3', 'gram per cubic metre', 'g/m³', '0.001', SI],
    ['mg/m3', 'milligram per cubic metre', 'mg/m³', '1e-6', SI],
    ['ug/m3', 'microgram per cubic metre', 'µg/m³', '1e-9', SI],
  ]),
  ...rowsOf('kinematic-viscosity', [
    ['m2/s', 'square metre per second', 'm²/s', '1', SI],
    ['mm2/s', 'square millimetre per second', 'mm²/s', '1e-6', UCUM],
  ]),
];
