/** Most characters that a sheet name may have, and the names and characters that may not occur (ECMA-376 and practice). */
const LONGEST = 31;
// eslint-disable-next-line no-control-regex -- the control characters are what this finds
const FORBIDDEN = /[[\]:*?/\\\u0000-\u001F]/g;
const RESERVED = 'history';

function cut(text: string, most: number): string {
  const short = text.slice(0, most);
  return /[\uD800-\uDBFF]$/.test(short) ? short.slice(0, -1) : short;
}

/**
 * A legal sheet name made of any text, unlike those already taken (letter case does not tell sheets apart); it is noted as
 * taken. Forbidden characters become blanks, 31 characters are kept, a number tells equal names apart.
 */
export function sheetName(wanted: string, taken: Set<string>): string {
  const clean = wanted
    .replace(FORBIDDEN, ' ')
    .replace(/\s+/g, ' ')
    .replace(/^['\s]+|['\s]+$/g, '');
  const base = clean === '' ? 'Table' : clean.toLowerCase() === RESERVED ? `${clean} table` : clean;
  let name = cut(base, LONGEST).trimEnd().replace(/'+$/, '');
  for (let number = 2; taken.has(name.toLowerCase()); number++) {
    const ending = ` (${number})`;
    name = cut(base, LONGEST - ending.length).trimEnd() + ending;
  }
  taken.add(name.toLowerCase());
  return name;
}
