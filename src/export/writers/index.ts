/** The writers: one document in the forms that people and machines read. */
import { checkDocument, DocumentFaultError, type SpecDocument } from '../document/index.ts';
import { renderCsv } from './csv.ts';
import { renderHtml } from './html.ts';
import { renderJson } from './json.ts';
import { renderPdf, type PdfFonts } from './pdf.ts';
import { step, type ExportWatch } from './progress.ts';
import { renderXlsx } from './xlsx.ts';

export { renderHtml } from './html.ts';
export { renderPdf, FontError, type PdfFonts } from './pdf.ts';
export { ExportCancelled, type ExportProgress, type ExportWatch } from './progress.ts';
export { renderXlsx } from './xlsx.ts';
export { renderCsv, type CsvFile, type CsvOptions } from './csv.ts';
export { renderJson, SPEC_FORMAT, SPEC_VERSION } from './json.ts';
export { fileNamePart, freeName } from './file-name.ts';
export { guardFormula } from './formula-guard.ts';

/** The forms in which a document can be handed over. */
export const SPEC_FORMATS = ['html', 'pdf', 'xlsx', 'csv', 'json'] as const;
export type SpecFormat = (typeof SPEC_FORMATS)[number];

export interface RenderedFile {
  /** Name without a folder: lower-case letters, digits, hyphens and the ending. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What a form needs from outside the core. Only PDF asks for fonts, and only when it is written. */
export interface RenderResources {
  readonly pdfFonts: () => Promise<PdfFonts>;
  /** Follows the export and may call it off; only PDF takes long enough to tell how far it is. */
  readonly watch?: ExportWatch;
}

/**
 * Writes a document in one form, after looking for faults in it. All forms but CSV are one file; CSV is one a table and one
 * for the facts. The same document gives the same bytes. Throws DocumentFaultError, listing every fault, for a document that
 * cannot be written, FontError for fonts that cannot be used, and ExportCancelled when the watch calls it off.
 */
export async function renderDocument(
  document: SpecDocument,
  format: SpecFormat,
  resources: RenderResources,
): Promise<{ readonly files: readonly RenderedFile[] }> {
  const faults = checkDocument(document);
  if (faults.length > 0) throw new DocumentFaultError(faults);
  const { watch = {} } = resources;
  await step(watch, { doing: 'sections', done: 0, total: document.sections.length });
  const text = new TextEncoder();
  switch (format) {
    case 'html':
      return { files: [{ name: `${document.id}.html`, bytes: text.encode(renderHtml(document)) }] };
    case 'pdf':
      return {
        files: [{ name: `${document.id}.pdf`, bytes: await renderPdf(document, await resources.pdfFonts(), watch) }],
      };
    case 'xlsx':
      return { files: [{ name: `${document.id}.xlsx`, bytes: renderXlsx(document) }] };
    case 'csv': {
      const files = renderCsv(document, { byteOrderMark: 'with' });
      return { files: files.map((file) => ({ name: file.name, bytes: text.encode(file.text) })) };
    }
    case 'json':
      return { files: [{ name: `${document.id}.json`, bytes: text.encode(renderJson(document)) }] };
  }
}
