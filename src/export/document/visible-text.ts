/**
 * Names come from files of others. A character that does not show, or that turns the order of the text around it,
 * would let two different ids look alike on paper, so every writer for people shows it instead.
 */

const LEADING_SURROGATE_ALONE = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])/g;
const TRAILING_SURROGATE_ALONE = /(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g;
// C0 but tab and line feed, DEL, C1, soft hyphen, zero-width and direction characters, byte order mark, non-characters.
const HIDDEN =
  // eslint-disable-next-line no-control-regex -- the control characters are what this finds
  /[\u0000-\u0008\u000B-\u001F\u007F-\u009F\u00AD\u061C\u200B-\u200F\u2028-\u202E\u2060-\u2069\uFEFF\uFFFE\uFFFF]/g;

function shown(character: string): string {
  const code = character.charCodeAt(0);
  if (code < 0x20) return String.fromCharCode(0x2400 + code);
  if (code === 0x7f) return '\u2421';
  return `⟨U+${code.toString(16).toUpperCase().padStart(4, '0')}⟩`;
}

/**
 * The text with everything made visible: CR LF and CR become line feeds, control characters their pictures (U+2400…),
 * direction and zero-width characters `⟨U+202E⟩`, half a surrogate pair U+FFFD. Tabs and line feeds stay.
 */
export function visibleText(text: string): string {
  return text
    .replace(/\r\n?/g, '\n')
    .replace(LEADING_SURROGATE_ALONE, '\uFFFD')
    .replace(TRAILING_SURROGATE_ALONE, '\uFFFD')
    .replace(HIDDEN, shown);
}
