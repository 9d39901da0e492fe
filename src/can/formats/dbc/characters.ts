/**
 * Classes of characters in DBC text, as bits of one table, so that the scanner decides with one look-up a character.
 * Blank: what separates words. Word: letters, digits, underscore. Name: what a name may be made of when read leniently
 * (real files hold `-`, `.`, `#` and letters outside ASCII in names).
 */
export const BLANK = 1;
export const NAME = 2;
export const WORD = 4;
export const DIGIT = 8;

const NEVER_IN_A_NAME = '":;,()[]|@/';

const CLASSES: Uint8Array = buildClasses();

function buildClasses(): Uint8Array {
  const classes = new Uint8Array(256);
  for (let code = 0x21; code < 256; code++) if (code !== 0x7f) classes[code] = NAME;
  for (const character of NEVER_IN_A_NAME) classes[character.charCodeAt(0)] = 0;
  for (let code = 0x30; code <= 0x39; code++) classes[code] = NAME | WORD | DIGIT;
  for (let code = 0x41; code <= 0x5a; code++) classes[code] = NAME | WORD;
  for (let code = 0x61; code <= 0x7a; code++) classes[code] = NAME | WORD;
  classes[0x5f] = NAME | WORD;
  for (const code of [0x09, 0x0a, 0x0b, 0x0c, 0x0d, 0x20, 0xa0]) classes[code] = BLANK;
  return classes;
}

/** Class bits of a UTF-16 code unit; 0 for `NaN`, which `charCodeAt` gives past the end. */
export function classOf(code: number): number {
  return code < 256 ? (CLASSES[code] as number) : wideClassOf(code);
}

function wideClassOf(code: number): number {
  if (!(code >= 256)) return 0; // NaN: past the end
  // Byte order mark, the Unicode spaces, line and paragraph separator.
  const blank =
    code === 0xfeff || (code >= 0x2000 && code <= 0x200a) || code === 0x2028 || code === 0x2029 || code === 0x3000;
  return blank ? BLANK : NAME;
}

/** True when `text` is one word that the reader takes as a name again: non-empty and of name characters only. */
export function isReadableName(text: string): boolean {
  for (let i = 0; i < text.length; i++) if ((classOf(text.charCodeAt(i)) & NAME) === 0) return false;
  return text.length > 0;
}

/** True when `text` is a name as the format defines it: letters, digits, underscore, no digit first. */
export function isPlainName(text: string): boolean {
  for (let i = 0; i < text.length; i++) if ((classOf(text.charCodeAt(i)) & WORD) === 0) return false;
  return text.length > 0 && (classOf(text.charCodeAt(0)) & DIGIT) === 0;
}
