import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { PdfFonts } from '../export/index.ts';

const FILES: Readonly<Record<keyof PdfFonts, string>> = {
  regular: 'DejaVuSansCondensed.ttf',
  bold: 'DejaVuSansCondensed-Bold.ttf',
  italic: 'DejaVuSansCondensed-Oblique.ttf',
  mono: 'DejaVuSansMono.ttf',
  monoBold: 'DejaVuSansMono-Bold.ttf',
};

/** Thrown when the fonts that the PDF writer needs are not installed beside the program. */
export class PdfFontsMissingError extends Error {
  constructor(cause: unknown) {
    super(
      'The fonts for PDF were not found: the package dejavu-fonts-ttf is missing. Install the program’s packages again.',
      {
        cause,
      },
    );
    this.name = 'PdfFontsMissingError';
  }
}

/**
 * The faces of the PDF writer from the package dejavu-fonts-ttf, wherever it is installed.
 * Throws PdfFontsMissingError when the package or one of its files cannot be read.
 */
export async function loadPdfFonts(): Promise<PdfFonts> {
  try {
    const folder = join(dirname(createRequire(import.meta.url).resolve('dejavu-fonts-ttf/package.json')), 'ttf');
    const read = (face: keyof PdfFonts): Promise<Uint8Array> => readFile(join(folder, FILES[face]));
    const [regular, bold, italic, mono, monoBold] = await Promise.all([
      read('regular'),
      read('bold'),
      read('italic'),
      read('mono'),
      read('monoBold'),
    ]);
    return { regular, bold, italic, mono, monoBold };
  } catch (cause) {
    throw new PdfFontsMissingError(cause);
  }
}
