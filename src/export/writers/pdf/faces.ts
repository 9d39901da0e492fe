import { readFontMetrics, type FontMetrics } from './true-type.ts';

/** The faces of a PDF as TrueType bytes; the caller brings them, the core reads no files. */
export interface PdfFonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
  readonly italic: Uint8Array;
  readonly mono: Uint8Array;
  readonly monoBold: Uint8Array;
}

export type Face = keyof PdfFonts;

/** The same faces as what type-setting needs of them. */
export type FaceMetrics = Readonly<Record<Face, FontMetrics>>;

export const FACES: readonly Face[] = ['regular', 'bold', 'italic', 'mono', 'monoBold'];

/** Height of a line by its type size, and of the baseline below its top (DejaVu: hhea ascender and descender). */
export const LINE_HEIGHT = 1.165;

/** Reads the metrics of all faces. Throws FontError when one is not a TrueType font. */
export function readFaces(fonts: PdfFonts): FaceMetrics {
  return {
    regular: readFontMetrics(fonts.regular),
    bold: readFontMetrics(fonts.bold),
    italic: readFontMetrics(fonts.italic),
    mono: readFontMetrics(fonts.mono),
    monoBold: readFontMetrics(fonts.monoBold),
  };
}

const WITHOUT_FIXED_PITCH: Readonly<Record<Face, Face>> = {
  regular: 'regular',
  bold: 'bold',
  italic: 'regular',
  mono: 'regular',
  monoBold: 'bold',
};

/** A character as it will be set: its own face or a stand-in, and its advance in thousandths of the size. */
export interface SetCharacter {
  readonly text: string;
  readonly face: Face;
  readonly advance: number;
}

/**
 * How a character is set in a face: itself; from the proportional face when the wanted one lacks it; or its code, `⟨U+4E2D⟩`,
 * when none has it, so that no character vanishes into an empty box. A tab is two blanks.
 */
export function setCharacter(character: string, face: Face, metrics: FaceMetrics): readonly SetCharacter[] {
  if (character === '\t') return ['\u00A0', '\u00A0'].flatMap((blank) => setCharacter(blank, face, metrics));
  const code = character.codePointAt(0) ?? 0;
  const own = metrics[face].advance(code);
  if (own !== null) return [{ text: character, face, advance: own }];
  const other = WITHOUT_FIXED_PITCH[face];
  const lent = metrics[other].advance(code);
  if (lent !== null) return [{ text: character, face: other, advance: lent }];
  const spelt = `<U+${code.toString(16).toUpperCase().padStart(4, '0')}>`;
  return Array.from(spelt, (text) => ({ text, face, advance: metrics[face].advance(text.charCodeAt(0)) ?? 600 }));
}

/** The text with every character that no face has spelt out, for places that are not set line by line. */
export function settableText(text: string, face: Face, metrics: FaceMetrics): string {
  return Array.from(text, (character) => setCharacter(character, face, metrics))
    .flat()
    .map((set) => set.text)
    .join('');
}
