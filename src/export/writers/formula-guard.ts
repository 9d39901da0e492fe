/**
 * A spreadsheet takes a text that starts with = + - @ for a formula, and a formula can fetch, send or start something
 * (OWASP, “CSV Injection”). The names in a map come from files of others, so such a text is given an apostrophe, which
 * makes it plain text in every spreadsheet program and is visible to whoever reads the file otherwise.
 */

// Also behind blanks, which some programs drop, and in the full-width forms, which some fold.
const FORMULA_START = /^[\s\u00A0]*[=+\-@＝＋－＠]/;
const BLANK_START = /^[\t\r\n]/;
const PLAIN_NUMBER = /^[+-]?\d+(\.\d+)?([eE][+-]?\d+)?$/;

/**
 * The text, behind an apostrophe when a spreadsheet could take it for a formula: when it starts with = + - @ (their
 * full-width forms and leading blanks included), with a tab, a carriage return or a line feed. A plain decimal number
 * such as `-40.5` stays as it is.
 */
export function guardFormula(text: string): string {
  if (PLAIN_NUMBER.test(text)) return text;
  return FORMULA_START.test(text) || BLANK_START.test(text) ? `'${text}` : text;
}
