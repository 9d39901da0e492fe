/**
 * The words of DBC text, read one by one by character code. Each function starts at `r.pos`, moves past what it takes
 * and never looks at a character twice, but for the text that it returns.
 */
import { BLANK, classOf, DIGIT, NAME, WORD } from '../characters.ts';
import { KEYWORDS } from '../keywords.ts';
import type { DbcNumber } from '../model.ts';
import { dbcNumber, EXACT_POWERS_OF_TEN } from '../numbers.ts';
import { fail, report } from './reading.ts';
import type { Reading } from './reading.ts';

export const QUOTE = 0x22;
export const COMMA = 0x2c;
export const COLON = 0x3a;
export const SEMICOLON = 0x3b;
const BACKSLASH = 0x5c;
const SLASH = 0x2f;
const LF = 0x0a;
const CR = 0x0d;
const PLUS = 0x2b;
const MINUS = 0x2d;
const POINT = 0x2e;

const MAX_KEYWORD_LENGTH = 24;

/** 1 for each pair of letters that some keyword starts with. */
const KEYWORD_STARTS: Uint8Array = new Uint8Array(26 * 26);
for (const keyword of KEYWORDS) {
  KEYWORD_STARTS[26 * (keyword.charCodeAt(0) - 0x41) + (keyword.charCodeAt(1) - 0x41)] = 1;
}

/** Moves past blanks, line ends and `//` remarks; notes the remarks. */
export function skipBlank(r: Reading): void {
  const text = r.text;
  let pos = r.pos;
  for (;;) {
    const code = text.charCodeAt(pos);
    if (code === 0x20 || code === LF || code === CR || code === 0x09) pos++;
    else if (code === SLASH && text.charCodeAt(pos + 1) === SLASH) pos = noteRemarks(r, pos);
    else if (code > 0x20 && code < 0x7f) break;
    else if ((classOf(code) & BLANK) !== 0) pos++;
    else break;
  }
  r.pos = pos;
}

/** Notes a run of remark lines as one span, and gives the position after them. */
function noteRemarks(r: Reading, from: number): number {
  const text = r.text;
  let lineEnd: number;
  let pos = from;
  for (;;) {
    lineEnd = endOfLine(text, pos);
    pos = lineEnd;
    while ((classOf(text.charCodeAt(pos)) & BLANK) !== 0) pos++;
    if (text.charCodeAt(pos) !== SLASH || text.charCodeAt(pos + 1) !== SLASH) break;
  }
  r.remarkSpans.push(from, lineEnd);
  return pos;
}

/** Position of the next line end at or after `from`, or the end of the text. */
export function endOfLine(text: string, from: number): number {
  let pos = from;
  for (; pos < text.length; pos++) {
    const code = text.charCodeAt(pos);
    if (code === LF || code === CR) break;
  }
  return pos;
}

/** Skips blanks and takes the character `code`, if it is next. */
export function take(r: Reading, code: number): boolean {
  if (r.text.charCodeAt(r.pos) !== code) {
    skipBlank(r);
    if (r.text.charCodeAt(r.pos) !== code) return false;
  }
  r.pos++;
  return true;
}

/** Skips blanks and takes a name; the empty string when there is none. Sets `unusualName`. */
export function takeName(r: Reading): string {
  skipBlank(r);
  const text = r.text;
  const from = r.pos;
  let pos = from;
  let all = WORD;
  for (;;) {
    const flags = classOf(text.charCodeAt(pos));
    if ((flags & NAME) === 0) break;
    all &= flags;
    pos++;
  }
  r.pos = pos;
  r.unusualName = all === 0 || (classOf(text.charCodeAt(from)) & DIGIT) !== 0;
  return text.slice(from, pos);
}

/** Skips blanks and takes a whole number without sign, decimal or 0x; -1 when there is none or it is beyond 2^53. */
export function takeWhole(r: Reading): number {
  skipBlank(r);
  const text = r.text;
  const from = r.pos;
  let pos = from;
  let value = 0;
  for (;;) {
    const digit = text.charCodeAt(pos) - 0x30;
    if (!(digit >= 0 && digit <= 9)) break;
    value = value * 10 + digit;
    pos++;
  }
  if (pos === from) return -1;
  if (pos === from + 1 && value === 0 && (text.charCodeAt(pos) | 0x20) === 0x78) {
    const hexEnd = hexEndAt(text, pos + 1);
    if (hexEnd > pos + 1) {
      value = hexEnd - pos > 20 ? Infinity : Number(text.slice(from, hexEnd));
      pos = hexEnd;
    }
  }
  if (value > Number.MAX_SAFE_INTEGER) return -1;
  r.pos = pos;
  return value;
}

/** Skips blanks and takes a whole number of any size with an optional sign; `null` when there is none. */
export function takeBigWhole(r: Reading): bigint | null {
  const from = r.pos;
  const number = takeNumber(r);
  if (number === null) return null;
  const value = number.value;
  if (Number.isSafeInteger(value)) return BigInt(value);
  if (!/^[+-]?\d{1,40}$/.test(number.text)) {
    r.pos = from;
    return null;
  }
  return BigInt(number.text.startsWith('+') ? number.text.slice(1) : number.text);
}

function hexEndAt(text: string, from: number): number {
  let pos = from;
  for (;;) {
    const code = text.charCodeAt(pos);
    const lower = code | 0x20;
    if (!((code >= 0x30 && code <= 0x39) || (lower >= 0x61 && lower <= 0x66))) return pos;
    pos++;
  }
}

const DIGIT_NUMBERS: readonly DbcNumber[] = Array.from({ length: 10 }, (_, digit) => dbcNumber(digit));

/** Skips blanks and takes a number: sign, digits, point, exponent, or 0x and digits. `null` when there is none. */
export function takeNumber(r: Reading): DbcNumber | null {
  skipBlank(r);
  const text = r.text;
  const from = r.pos;
  let pos = from;
  let code = text.charCodeAt(pos);
  const negative = code === MINUS;
  if (negative || code === PLUS) code = text.charCodeAt(++pos);
  const digitsFrom = pos;
  let mantissa = 0;
  while (code >= 0x30 && code <= 0x39) {
    mantissa = mantissa * 10 + (code - 0x30);
    code = text.charCodeAt(++pos);
  }
  let digits = pos - digitsFrom;
  if (digits === 1 && mantissa === 0 && (code | 0x20) === 0x78) {
    const hexEnd = hexEndAt(text, pos + 1);
    if (hexEnd > pos + 1) {
      r.pos = hexEnd;
      return dbcNumber(text.slice(from, hexEnd));
    }
  }
  let places = 0;
  if (code === POINT) {
    const pointAt = pos;
    code = text.charCodeAt(++pos);
    while (code >= 0x30 && code <= 0x39) {
      mantissa = mantissa * 10 + (code - 0x30);
      code = text.charCodeAt(++pos);
    }
    places = pos - pointAt - 1;
    digits += places;
  }
  if (digits === 0) return null;
  const exponentEnd = (code | 0x20) === 0x65 ? exponentEndAt(text, pos) : pos;
  const hasExponent = exponentEnd > pos;
  r.pos = exponentEnd;
  if (exponentEnd === from + 1) return DIGIT_NUMBERS[mantissa] as DbcNumber;
  const written = text.slice(from, exponentEnd);
  // At most 15 digits and 22 places: both operands are exact doubles, so the quotient is the nearest double.
  if (hasExponent || digits > 15 || places > 22) return { text: written, value: Number(written) };
  const magnitude = places === 0 ? mantissa : mantissa / (EXACT_POWERS_OF_TEN[places] as number);
  return { text: written, value: negative ? -magnitude : magnitude };
}

function exponentEndAt(text: string, at: number): number {
  let pos = at + 1;
  const sign = text.charCodeAt(pos);
  if (sign === PLUS || sign === MINUS) pos++;
  const digitsFrom = pos;
  for (let code = text.charCodeAt(pos); code >= 0x30 && code <= 0x39; code = text.charCodeAt(++pos));
  return pos === digitsFrom ? at : pos;
}

/** As {@link takeNumber}, but takes any other word (`1.#INF`, `nan`) too, with the value it seems to mean, and reports it. */
export function takeLimit(r: Reading): DbcNumber | null {
  skipBlank(r);
  const from = r.pos;
  const number = takeNumber(r);
  if (number !== null && (classOf(r.text.charCodeAt(r.pos)) & NAME) === 0) {
    if (!Number.isFinite(number.value)) report(r, 'number-not-finite', from, number.text);
    return number;
  }
  r.pos = from;
  const word = takeName(r);
  if (word === '' || word.length > MAX_KEYWORD_LENGTH) {
    r.pos = from;
    return null;
  }
  report(r, 'number-not-finite', from, word);
  return { text: word, value: limitValue(word) };
}

/** What a word that is no number means as a limit. */
export function limitValue(word: string): number {
  if (!/inf/i.test(word)) return NaN;
  return word.startsWith('-') ? -Infinity : Infinity;
}

/**
 * Skips blanks and takes a text in quotes; `null` when there is none or it is not closed (then `failure` is set).
 * `\"` is a quote; other backslashes stand for themselves; line ends become `\n`.
 */
export function takeText(r: Reading): string | null {
  skipBlank(r);
  const text = r.text;
  const from = r.pos;
  if (text.charCodeAt(from) !== QUOTE) {
    fail(r, from, 'a text in quotes');
    return null;
  }
  let plain = true;
  let manyLines = false;
  let pos = from + 1;
  const end = r.end;
  for (; pos < end; pos++) {
    const code = text.charCodeAt(pos);
    if (code === QUOTE) {
      r.pos = pos + 1;
      if (manyLines) r.longTextAt = from;
      if (pos === from + 1) return '';
      const written = text.slice(from + 1, pos);
      return plain ? written : unescaped(written);
    }
    if (code === BACKSLASH) {
      plain = false;
      if (text.charCodeAt(pos + 1) === QUOTE && !endsTextAt(r, pos + 1)) pos++;
    } else if (code === LF) manyLines = true;
    else if (code === CR) {
      plain = false;
      manyLines = true;
    }
  }
  r.failure = 'string-not-closed';
  r.failedAt = from;
  return null;
}

/** A quote after a backslash: does it end the text? Only when reading the other way has failed, and `;` ends the line after it. */
function endsTextAt(r: Reading, quoteAt: number): boolean {
  const text = r.text;
  let pos = quoteAt + 1;
  while (text.charCodeAt(pos) === 0x20 && pos < quoteAt + 8) pos++;
  if (text.charCodeAt(pos) !== SEMICOLON) return false;
  const after = text.charCodeAt(pos + 1);
  if (!(after === LF || after === CR || pos + 1 >= r.end)) return false;
  r.sawBackslashQuote = true;
  return r.backslashEndsText;
}

/**
 * The meaning of a text between quotes. A backslash at the very end cannot be written, as it would hide the quote, so a
 * space stands between the two: one space after a final backslash (and its spaces) is not part of the text.
 */
function unescaped(written: string): string {
  let meaning = written;
  if (meaning.includes('\r')) meaning = meaning.replace(/\r\n?/g, '\n');
  if (meaning.includes('\\"')) meaning = meaning.replaceAll('\\"', '"');
  if (meaning.endsWith(' ') && endsInBackslash(written)) meaning = meaning.slice(0, -1);
  return meaning;
}

/** True when `text` ends in a backslash, or in a backslash and spaces. */
export function endsInBackslash(text: string): boolean {
  let end = text.length;
  while (end > 0 && text.charCodeAt(end - 1) === 0x20) end--;
  return end > 0 && text.charCodeAt(end - 1) === BACKSLASH;
}

/** The keyword that starts at `at`, or the empty string. */
export function keywordAt(text: string, at: number): string {
  const first = text.charCodeAt(at) - 0x41;
  const second = text.charCodeAt(at + 1) - 0x41;
  if (!(first >= 0 && first < 26 && second >= 0 && second < 26) || KEYWORD_STARTS[26 * first + second] === 0) return '';
  let pos = at + 1;
  for (; pos < at + MAX_KEYWORD_LENGTH; pos++) {
    const code = text.charCodeAt(pos);
    if (!((code >= 0x41 && code <= 0x5a) || code === 0x5f)) break;
  }
  if ((classOf(text.charCodeAt(pos)) & NAME) !== 0) return '';
  const word = text.slice(at, pos);
  return KEYWORDS.has(word) ? word : '';
}

/** True when `word` starts a statement and so cannot be a name in a list. */
export function isKeyword(word: string): boolean {
  return word.charCodeAt(word.length - 1) === 0x5f && KEYWORDS.has(word);
}

/** True when `word`, first on its line, starts a statement or looks as if it did (capitals, `_` at the end). */
export function looksLikeStatement(word: string): boolean {
  const first = word.charCodeAt(0);
  return KEYWORDS.has(word) || (first >= 0x41 && first <= 0x5a && word.charCodeAt(word.length - 1) === 0x5f);
}

/** True when only blanks stand between `at` and the start of its line. */
export function startsLine(text: string, at: number): boolean {
  let pos = at - 1;
  for (; pos >= 0; pos--) {
    const code = text.charCodeAt(pos);
    if (code === LF || code === CR) return true;
    if ((classOf(code) & BLANK) === 0) return false;
  }
  return true;
}

/** Takes the semicolon that closes a statement. A missing one is reported when the next statement, or nothing, follows. */
export function close(r: Reading): 'read' | 'failed' {
  if (take(r, SEMICOLON)) return 'read';
  const at = r.pos;
  if (at < r.end && !(keywordAt(r.text, at) !== '' && startsLine(r.text, at))) return fail(r, at, 'a semicolon');
  report(r, 'statement-not-closed', at, r.keyword);
  r.cannotKeep = true;
  return 'read';
}

/** True when nothing but blanks, or a comma, follows `at` on its line: what stands before it is a list, not garbage. */
export function endsLine(text: string, at: number): boolean {
  let pos = at;
  for (; pos < text.length; pos++) {
    const code = text.charCodeAt(pos);
    if (code === LF || code === CR || code === COMMA) return true;
    if ((classOf(code) & BLANK) === 0) return false;
  }
  return true;
}
