/**
 * What setting type needs of a TrueType font: which characters it has and how wide they are.
 * Source: OpenType 1.9 specification, tables head, hhea, hmtx, cmap (formats 4 and 12), name.
 */

export interface FontMetrics {
  /** Name by which a PDF knows the font (name id 6). */
  readonly postScriptName: string;
  /** Advance of a character in thousandths of the type size; `null` when the font does not have it. */
  readonly advance: (codePoint: number) => number | null;
  /** Baseline below the top of a line, and the height of a line, by the type size (hhea ascender, descender, line gap). */
  readonly ascent: number;
  readonly lineHeight: number;
}

/** Thrown when bytes handed over as a font are not a TrueType font that can be read. */
export class FontError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'FontError';
  }
}

interface Tables {
  readonly view: DataView;
  readonly offsetOf: (tag: string) => number;
}

function tableDirectory(bytes: Uint8Array): Tables {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const offsets = new Map<string, number>();
  const count = view.getUint16(4);
  for (let at = 0; at < count; at++) {
    const record = 12 + at * 16;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map((byte) => view.getUint8(record + byte)));
    offsets.set(tag, view.getUint32(record + 8));
  }
  return {
    view,
    offsetOf: (tag) => {
      const offset = offsets.get(tag);
      if (offset === undefined) throw new FontError(`The font has no ${tag} table; a TrueType font (.ttf) is needed.`);
      return offset;
    },
  };
}

function readFormat4(view: DataView, start: number, glyphs: Map<number, number>): void {
  const segments = view.getUint16(start + 6) / 2;
  const ends = start + 14;
  const starts = ends + segments * 2 + 2;
  const deltas = starts + segments * 2;
  const ranges = deltas + segments * 2;
  for (let segment = 0; segment < segments; segment++) {
    const first = view.getUint16(starts + segment * 2);
    const last = view.getUint16(ends + segment * 2);
    const delta = view.getUint16(deltas + segment * 2);
    const range = view.getUint16(ranges + segment * 2);
    for (let code = first; code <= last && code !== 0xffff; code++) {
      const found = range === 0 ? code : view.getUint16(ranges + segment * 2 + range + (code - first) * 2);
      const glyph = found === 0 ? 0 : (found + delta) & 0xffff;
      if (glyph !== 0) glyphs.set(code, glyph);
    }
  }
}

function readFormat12(view: DataView, start: number, glyphs: Map<number, number>): void {
  const groups = view.getUint32(start + 12);
  for (let group = 0; group < groups; group++) {
    const record = start + 16 + group * 12;
    const first = view.getUint32(record);
    const last = Math.min(view.getUint32(record + 4), 0x10ffff);
    const glyph = view.getUint32(record + 8);
    for (let code = first; code <= last; code++) glyphs.set(code, glyph + code - first);
  }
}

function characterMap({ view, offsetOf }: Tables): Map<number, number> {
  const cmap = offsetOf('cmap');
  const glyphs = new Map<number, number>();
  for (let at = 0; at < view.getUint16(cmap + 2); at++) {
    const record = cmap + 4 + at * 8;
    const platform = view.getUint16(record);
    if (platform !== 0 && platform !== 3) continue;
    const start = cmap + view.getUint32(record + 4);
    const format = view.getUint16(start);
    if (format === 4) readFormat4(view, start, glyphs);
    if (format === 12) readFormat12(view, start, glyphs);
  }
  if (glyphs.size === 0) throw new FontError('The font has no Unicode character map that can be read.');
  return glyphs;
}

function postScriptName({ view, offsetOf }: Tables): string {
  const name = offsetOf('name');
  const strings = name + view.getUint16(name + 4);
  for (let at = 0; at < view.getUint16(name + 2); at++) {
    const record = name + 6 + at * 12;
    if (view.getUint16(record) !== 3 || view.getUint16(record + 6) !== 6) continue;
    const length = view.getUint16(record + 8);
    const start = strings + view.getUint16(record + 10);
    let text = '';
    for (let byte = 0; byte < length; byte += 2) text += String.fromCharCode(view.getUint16(start + byte));
    return text;
  }
  throw new FontError('The font does not name itself (name id 6, platform 3).');
}

/** Reads the metrics of a TrueType font. Throws FontError when the bytes are not one. */
export function readFontMetrics(bytes: Uint8Array): FontMetrics {
  try {
    const tables = tableDirectory(bytes);
    const { view, offsetOf } = tables;
    const unitsPerEm = view.getUint16(offsetOf('head') + 18);
    const longMetrics = view.getUint16(offsetOf('hhea') + 34);
    const hhea = offsetOf('hhea');
    const [ascent, descent, gap] = [4, 6, 8].map((at) => view.getInt16(hhea + at) / unitsPerEm) as [
      number,
      number,
      number,
    ];
    const hmtx = offsetOf('hmtx');
    const glyphs = characterMap(tables);
    const advance = (codePoint: number): number | null => {
      const glyph = glyphs.get(codePoint);
      if (glyph === undefined) return null;
      return (view.getUint16(hmtx + Math.min(glyph, longMetrics - 1) * 4) * 1000) / unitsPerEm;
    };
    return { postScriptName: postScriptName(tables), advance, ascent, lineHeight: ascent - descent + gap };
  } catch (error) {
    if (error instanceof RangeError) throw new FontError('The font is cut short or not a TrueType font (.ttf).');
    throw error;
  }
}
