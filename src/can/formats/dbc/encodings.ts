/**
 * Bytes ↔ text for DBC files: UTF-8 with and without byte order mark, UTF-16 with one, and Windows code page 1252, which
 * most files use. Written here because the core runs where no decoder for it is promised.
 * Source of the 0x80–0x9F rows: WHATWG Encoding Standard, index windows-1252 (undefined bytes map to the C1 controls,
 * so that every byte comes back).
 */

export type DbcEncoding = 'ascii' | 'utf-8' | 'utf-8-bom' | 'utf-16le' | 'utf-16be' | 'windows-1252';

const WINDOWS_1252_HIGH = [
  0x20ac, 0x81, 0x201a, 0x192, 0x201e, 0x2026, 0x2020, 0x2021, 0x2c6, 0x2030, 0x160, 0x2039, 0x152, 0x8d, 0x17d, 0x8f,
  0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x2dc, 0x2122, 0x161, 0x203a, 0x153, 0x9d, 0x17e, 0x178,
] as const;

const REPLACEMENT = 0xfffd;
const CHUNK = 4096;

export interface DecodedText {
  readonly text: string;
  readonly encoding: DbcEncoding;
  /** True when the bytes do not follow the encoding which their mark announces. */
  readonly broken: boolean;
}

/**
 * Decodes the bytes of a DBC file. Without a byte order mark: UTF-8 when all of it is valid UTF-8, else code page 1252.
 * `forced` overrides the choice. A bad sequence is read as U+FFFD and sets `broken`; nothing throws.
 */
export function decodeDbcBytes(bytes: Uint8Array, forced?: DbcEncoding): DecodedText {
  const encoding = forced ?? detectEncoding(bytes);
  switch (encoding) {
    case 'ascii':
    case 'windows-1252':
      return { text: decodeSingleByte(bytes), encoding, broken: false };
    case 'utf-8':
      return { ...decodeUtf8(bytes, 0), encoding };
    case 'utf-8-bom':
      return { ...decodeUtf8(bytes, hasUtf8Mark(bytes) ? 3 : 0), encoding };
    case 'utf-16le':
    case 'utf-16be':
      return { ...decodeUtf16(bytes, encoding === 'utf-16be' ? 1 : 0), encoding };
  }
}

function hasUtf8Mark(bytes: Uint8Array): boolean {
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
}

function detectEncoding(bytes: Uint8Array): DbcEncoding {
  if (hasUtf8Mark(bytes)) return 'utf-8-bom';
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  let at = 0;
  while (at < bytes.length && (bytes[at] as number) < 0x80) at++;
  if (at === bytes.length) return 'ascii';
  while (at < bytes.length) {
    const length = sequenceLength(bytes, at);
    if (length === 0) return 'windows-1252';
    at += length;
  }
  return 'utf-8';
}

/** Length of the valid UTF-8 sequence at `at`, 0 when there is none (Unicode Standard, table 3-7). */
function sequenceLength(bytes: Uint8Array, at: number): number {
  const first = bytes[at] as number;
  if (first < 0x80) return 1;
  const length =
    first >= 0xc2 && first <= 0xdf ? 2 : first >= 0xe0 && first <= 0xef ? 3 : first >= 0xf0 && first <= 0xf4 ? 4 : 0;
  if (length === 0 || at + length > bytes.length) return 0;
  const second = bytes[at + 1] as number;
  const lowest = first === 0xe0 ? 0xa0 : first === 0xf0 ? 0x90 : 0x80;
  const highest = first === 0xed ? 0x9f : first === 0xf4 ? 0x8f : 0xbf;
  if (second < lowest || second > highest) return 0;
  for (let i = 2; i < length; i++) if (((bytes[at + i] as number) & 0xc0) !== 0x80) return 0;
  return length;
}

/** Text of the first `count` units. A plain array is passed on about twice as fast as a typed one. */
function textOf(units: number[], count: number): string {
  return String.fromCharCode.apply(null, count === units.length ? units : units.slice(0, count));
}

function decodeSingleByte(bytes: Uint8Array): string {
  const units = new Array<number>(CHUNK).fill(0);
  let text = '';
  for (let from = 0; from < bytes.length; from += CHUNK) {
    const count = Math.min(CHUNK, bytes.length - from);
    for (let i = 0; i < count; i++) {
      const byte = bytes[from + i] as number;
      units[i] = byte < 0x80 || byte >= 0xa0 ? byte : (WINDOWS_1252_HIGH[byte - 0x80] as number);
    }
    text += textOf(units, count);
  }
  return text;
}

function decodeUtf8(bytes: Uint8Array, start: number): { text: string; broken: boolean } {
  const units = new Array<number>(CHUNK + 1).fill(0);
  let used = 0;
  let text = '';
  let broken = false;
  for (let at = start; at < bytes.length;) {
    const length = sequenceLength(bytes, at);
    let point = REPLACEMENT;
    if (length === 1) point = bytes[at] as number;
    else if (length === 2) point = (((bytes[at] as number) & 0x1f) << 6) | ((bytes[at + 1] as number) & 0x3f);
    else if (length > 2) {
      point = (bytes[at] as number) & (length === 3 ? 0x0f : 0x07);
      for (let i = 1; i < length; i++) point = (point << 6) | ((bytes[at + i] as number) & 0x3f);
    } else broken = true;
    at += length === 0 ? 1 : length;
    if (point > 0xffff) {
      units[used++] = 0xd800 + ((point - 0x10000) >> 10);
      units[used++] = 0xdc00 + ((point - 0x10000) & 0x3ff);
    } else units[used++] = point;
    if (used >= CHUNK) {
      text += textOf(units, used);
      used = 0;
    }
  }
  return { text: text + textOf(units, used), broken };
}

function decodeUtf16(bytes: Uint8Array, highByte: 0 | 1): { text: string; broken: boolean } {
  const units = new Array<number>(CHUNK).fill(0);
  let used = 0;
  let text = '';
  for (let at = 0; at + 1 < bytes.length; at += 2) {
    const first = bytes[at] as number;
    const second = bytes[at + 1] as number;
    const unit = highByte === 1 ? (first << 8) | second : (second << 8) | first;
    if (at === 0 && unit === 0xfeff) continue;
    units[used++] = unit;
    if (used === CHUNK) {
      text += textOf(units, used);
      used = 0;
    }
  }
  return { text: text + textOf(units, used), broken: bytes.length % 2 === 1 };
}

export interface EncodedText {
  readonly bytes: Uint8Array;
  /** Characters which the encoding cannot spell; each is written as `?`. */
  readonly lost: readonly string[];
}

/** The bytes of `text` in an encoding, with its byte order mark where it has one. What cannot be spelt is listed in `lost`. */
export function encodeDbcText(text: string, encoding: DbcEncoding): EncodedText {
  switch (encoding) {
    case 'ascii':
    case 'windows-1252':
      return encodeSingleByte(text, encoding === 'ascii' ? 0x80 : 0x100);
    case 'utf-8':
    case 'utf-8-bom':
      return { bytes: encodeUtf8(text, encoding === 'utf-8-bom' ? [0xef, 0xbb, 0xbf] : []), lost: [] };
    case 'utf-16le':
    case 'utf-16be':
      return { bytes: encodeUtf16(text, encoding === 'utf-16be' ? 1 : 0), lost: [] };
  }
}

function encodeSingleByte(text: string, limit: number): EncodedText {
  const bytes = new Uint8Array(text.length);
  let used = 0;
  const lost = new Set<string>();
  for (const character of text) {
    const point = character.codePointAt(0) as number;
    const high = point >= 0x80 ? (WINDOWS_1252_HIGH as readonly number[]).indexOf(point) : -1;
    const byte = high >= 0 ? 0x80 + high : point >= 0x80 && point < 0xa0 ? limit : point;
    if (byte >= limit) lost.add(character);
    bytes[used++] = byte < limit ? byte : 0x3f;
  }
  return { bytes: bytes.slice(0, used), lost: [...lost] };
}

function encodeUtf8(text: string, mark: readonly number[]): Uint8Array {
  const bytes = new Uint8Array(mark.length + 3 * text.length); // a pair of units makes 4 bytes, a single one at most 3
  bytes.set(mark);
  let used = mark.length;
  for (const character of text) {
    let point = character.codePointAt(0) as number;
    if (point >= 0xd800 && point <= 0xdfff) point = REPLACEMENT; // half of a pair alone
    if (point < 0x80) bytes[used++] = point;
    else {
      const more = point < 0x800 ? 1 : point < 0x10000 ? 2 : 3;
      bytes[used++] = ([0, 0xc0, 0xe0, 0xf0][more] as number) | (point >> (6 * more));
      for (let i = more - 1; i >= 0; i--) bytes[used++] = 0x80 | ((point >> (6 * i)) & 0x3f);
    }
  }
  return bytes.slice(0, used);
}

function encodeUtf16(text: string, highByte: 0 | 1): Uint8Array {
  const bytes = new Uint8Array(2 * text.length + 2);
  for (let i = -1; i < text.length; i++) {
    const unit = i < 0 ? 0xfeff : text.charCodeAt(i);
    bytes[2 * i + 3 - highByte] = unit >> 8;
    bytes[2 * i + 2 + highByte] = unit & 0xff;
  }
  return bytes;
}
