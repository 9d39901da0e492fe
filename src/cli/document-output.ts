import { resolve } from 'node:path';
import { renderDocument, type SpecDocument, type SpecFormat } from '../export/index.ts';
import { UnusableInput, loadPdfFonts, writeAtomically } from '../host/index.ts';
import type { Terminal } from './terminal.ts';

/** Prints a document in one form: into a file where one is named, else to standard output. */
export async function putDocument(
  document: SpecDocument,
  format: SpecFormat,
  out: string | undefined,
  terminal: Terminal,
): Promise<void> {
  if (out === undefined && format === 'pdf' && terminal.colour)
    throw new UnusableInput('a PDF is not for the screen: name a file with --out');
  const { files } = await renderDocument(document, format, { pdfFonts: loadPdfFonts });
  for (const { bytes } of files) {
    if (out === undefined) terminal.out(bytes);
    else {
      await writeAtomically(resolve(terminal.cwd, out), bytes);
      terminal.err(`wrote ${out}\n`);
    }
  }
}
