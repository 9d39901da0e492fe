/** Bring unit text as files hold it to one plain spelling. Nothing here decides what a unit means. */

/** UTF-8 read as Latin-1 or Windows-1252, which survives in many files: "Â°C", "Î©", "â„¦". */
const MISREAD: readonly (readonly [string, string])[] = [
  ['\u00EF\u00BF\u00BD', '\uFFFD'],
  ['\u00C2', ''],
  ['\u00CE\u00BC', 'u'],
  ['\u00CE\u00A9', 'Ohm'],
  ['\u00E2\u201E\u00A6', 'Ohm'],
  ['\u00E2\u20AC\u00B0', '‰'],
];

/**
 * A character lost on the way (U+FFFD). In Latin-1 files the characters that occur in units are ° ² ³ µ ·, and only one of them
 * makes sense in each of these places. Where two would ("�F", "�s" against "°s") the text stays as it is.
 */
const LOST: readonly (readonly [RegExp, string])[] = [
  [/^\uFFFD$/, '°'],
  [/^\uFFFD(?= ?C\b)/, '°'],
  [/^\uFFFD(?= ?\/)/, '°'],
  [/^\uFFFD(?=(?:CA|CrA|CrS|KW)\b)/, '°'],
  [/^\uFFFD(?=[sVAm]$)/, 'u'],
  [/(?<=\/s)\uFFFD$/, '2'],
  [/(?<=^N)\uFFFD(?=m)/, '.'],
];

/**
 * The text with one spelling for each sign: "N·m" and "N*m" → "N.m", "m/s²" and "m/s^2" → "m/s2", "µs" → "us", "kΩ" → "kOhm",
 * "º" and "˚" → "°", "Â°C" and "�C" → "°C"; spaces single, none at the ends or around "/". Time is linear; text over 64
 * characters comes back as it is, since no unit is so long.
 */
export function plainText(text: string): string {
  if (text.length > 64) return text;
  let plain = text;
  for (const [misread, meant] of MISREAD) plain = plain.replaceAll(misread, meant);
  plain = plain.replace(/[º˚∘]/g, '°').normalize('NFKC');
  plain = plain
    .replace(/[μµ]/g, 'u')
    .replace(/[ΩΩ]/g, 'Ohm')
    .replace(/\bohm/gi, 'Ohm')
    .replace(/(?<=^[kKmMu])ohm/, 'Ohm')
    .replace(/\*\*|\^/g, '^')
    .replace(/[·⋅•∙×*]/g, '.')
    .replace(/[−–‑]/g, '-')
    .replace(/\^(?=[23])/g, '')
    .replace(/\s+/g, ' ')
    .replace(/ ?([/.]) ?/g, '$1')
    .trim();
  // "deg_C"; a code in square brackets ("[mi_i]") has an underscore of its own.
  if (!plain.includes('[')) plain = plain.replace(/_+/g, ' ').trim();
  for (const [lost, meant] of LOST) plain = plain.replace(lost, meant);
  return plain;
}

/** Parts of a product or quotient and their code: "kg/hr" → "kg/h", "degrees/second" → "deg/s". */
const PARTS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    s: ['sec', 'secs', 'second', 'seconds'],
    ms: ['msec'],
    min: ['minute', 'minutes', 'mn'],
    h: ['hr', 'hrs', 'hour', 'hours'],
    d: ['day', 'days'],
    m: ['meter', 'meters', 'metre', 'metres'],
    km: ['kilometer', 'kilometers', 'kilometre', 'kilometres', 'Km', 'KM'],
    mm: ['millimeter', 'millimeters'],
    L: ['l', 'liter', 'liters', 'litre', 'litres', 'ltr'],
    mL: ['ml'],
    deg: ['°', 'degree', 'degrees', 'Deg'],
    rad: ['radian', 'radians', 'rads'],
    '{rev}': ['rev', 'revs', 'revolution', 'revolutions'],
    '{stroke}': ['stroke', 'stk', 'str', 'hub'],
    '{count}': ['count', 'counts', 'cnt'],
    '[mi_i]': ['mi', 'mile', 'miles'],
    '[ft_i]': ['ft', 'foot', 'feet'],
    '[in_i]': ['in', 'inch', 'inches'],
    '[lb_av]': ['lb', 'lbs', 'pound', 'pounds'],
    '[gal_us]': ['gal', 'gallon', 'gallons'],
    '[psi]': ['psi'],
    '%': ['percent', 'pct'],
    V: ['volt', 'volts'],
    A: ['amp', 'amps'],
    g: ['gram', 'grams'],
    bit: ['bits'],
    By: ['byte', 'bytes'],
    'N.m': ['Nm'],
    'kW.h': ['kWh'],
    'W.h': ['Wh'],
  }).flatMap(([code, spellings]) => spellings.map((spelling) => [spelling, code] as const)),
);

/** The plain text with each part of its quotient respelled as a code, or null when nothing changes: "deg/sec2" → "deg/s2". */
export function respelled(plain: string): string | null {
  const parts = plain.replace(/ per /gi, '/').split('/');
  if (parts.length < 2 || parts.length > 4) return null;
  const codes = parts.map((part) => {
    const match = /^(.*?)([23]?)$/.exec(part.trim());
    const name = match?.[1] ?? part;
    return (PARTS.get(name) ?? PARTS.get(name.toLowerCase()) ?? name) + (match?.[2] ?? '');
  });
  const joined = codes.join('/');
  return joined === plain ? null : joined;
}
