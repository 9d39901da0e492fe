/**
 * Ratios by which a hand-written factor is off when one unit was read as another: 1 `large` is `ratio` `small`.
 * The figures come from the unit table's own sources (NIST SP 811 (2008), B.8); which of them people slip on is common practice.
 * No two ratios lie within 0.2 % of each other, so that each names one slip.
 */
export interface UnitSlip {
  readonly ratio: string;
  readonly large: string;
  readonly small: string;
}

export const UNIT_SLIPS: readonly UnitSlip[] = [
  { ratio: '1.609344', large: 'mph', small: 'km/h' },
  { ratio: '3.6', large: 'm/s', small: 'km/h' },
  { ratio: '2.236936', large: 'm/s', small: 'mph' },
  { ratio: '1.852', large: 'knots', small: 'km/h' },
  { ratio: '1.150779', large: 'knots', small: 'mph' },
  { ratio: '1.466667', large: 'mph', small: 'ft/s' },
  { ratio: '3.28084', large: 'm', small: 'ft' },
  { ratio: '25.4', large: 'in', small: 'mm' },
  { ratio: '2.54', large: 'in', small: 'cm' },
  { ratio: '6.894757', large: 'psi', small: 'kPa' },
  { ratio: '14.50377', large: 'bar', small: 'psi' },
  { ratio: '68.94757', large: 'psi', small: 'mbar' },
  { ratio: '3.386389', large: 'inHg', small: 'kPa' },
  { ratio: '33.86389', large: 'inHg', small: 'mbar' },
  { ratio: '1.333224', large: 'mmHg', small: 'mbar' },
  { ratio: '1.8', large: '°C', small: '°F' },
  { ratio: '57.29578', large: 'rad', small: 'deg' },
  { ratio: '6.283185', large: 'rev', small: 'rad' },
  { ratio: '9.549297', large: 'rad/s', small: 'rev/min' },
  { ratio: '360', large: 'rev', small: 'deg' },
  { ratio: '6', large: 'rev/min', small: 'deg/s' },
  { ratio: '60', large: 'minutes', small: 'seconds' },
  { ratio: '3600', large: 'hours', small: 'seconds' },
  { ratio: '24', large: 'days', small: 'hours' },
  { ratio: '4.448222', large: 'lbf', small: 'N' },
  { ratio: '9.80665', large: 'kgf or g', small: 'N or m/s²' },
  { ratio: '1.355818', large: 'lbf·ft', small: 'N·m' },
  { ratio: '8.850746', large: 'N·m', small: 'lbf·in' },
  { ratio: '12', large: 'feet', small: 'inches' },
  { ratio: '1.341022', large: 'kW', small: 'hp' },
  { ratio: '1.359622', large: 'kW', small: 'PS' },
  { ratio: '1.01387', large: 'hp', small: 'PS' },
  { ratio: '2.204623', large: 'kg', small: 'lb' },
  { ratio: '28.34952', large: 'oz', small: 'g' },
  { ratio: '3.785412', large: 'US gallons', small: 'litres' },
  { ratio: '4.54609', large: 'imperial gallons', small: 'litres' },
  { ratio: '1.20095', large: 'imperial gallons', small: 'US gallons' },
  { ratio: '2.352146', large: 'km/L', small: 'mpg (US)' },
  { ratio: '2.824809', large: 'km/L', small: 'mpg (UK)' },
  { ratio: '4.184', large: 'calories', small: 'joules' },
  { ratio: '8', large: 'bytes', small: 'bits' },
  { ratio: '1024', large: 'KiB', small: 'bytes' },
  { ratio: '10', large: 'tens', small: 'ones (the decimal point, or deci- and deca-)' },
  { ratio: '100', large: 'a fraction or bar', small: 'percent or kPa' },
  { ratio: '1000', large: 'a unit', small: 'its thousandth (a prefix milli- or kilo-)' },
  { ratio: '1000000', large: 'a unit', small: 'its millionth (a prefix micro- or mega-)' },
  { ratio: '2', large: 'a resolution', small: 'its half (such as 1/4 and 1/8)' },
  { ratio: '4', large: 'a resolution', small: 'its quarter (such as 1/2 and 1/8)' },
];

/** Offsets, in the target unit, by which a hand-written one is off. Same sources. */
export interface OffsetSlip {
  readonly offset: string;
  readonly says: string;
}

export const OFFSET_SLIPS: readonly OffsetSlip[] = [
  { offset: '273.15', says: 'kelvin and degree Celsius mixed' },
  { offset: '32', says: 'the 32 between °C and °F' },
  { offset: '17.77778', says: 'the 32 between °F and °C, which is 17.77778 in °C' },
  { offset: '459.67', says: 'absolute zero in °F mixed with 0 °F' },
  { offset: '255.3722', says: '0 °F, which is 255.3722 K' },
  { offset: '101.325', says: 'gauge and absolute pressure mixed (standard atmosphere in kPa)' },
  { offset: '1.01325', says: 'gauge and absolute pressure mixed (standard atmosphere in bar)' },
  { offset: '14.69595', says: 'gauge and absolute pressure mixed (standard atmosphere in psi)' },
  { offset: '29.92126', says: 'gauge and absolute pressure mixed (standard atmosphere in inHg)' },
  { offset: '1013.25', says: 'gauge and absolute pressure mixed (standard atmosphere in mbar or hPa)' },
  { offset: '101325', says: 'gauge and absolute pressure mixed (standard atmosphere in Pa)' },
  { offset: '0.101325', says: 'gauge and absolute pressure mixed (standard atmosphere in MPa)' },
  { offset: '40', says: 'the −40 of a temperature coding, taken twice or left out' },
];
