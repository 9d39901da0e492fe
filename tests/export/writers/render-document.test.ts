import { describe, expect, it } from 'vitest';
import { DocumentFaultError, renderDocument, SPEC_FORMATS, type SpecFormat } from '../../../src/export/index.ts';
import { loadPdfFonts } from '../../../src/host/pdf-fonts.ts';
import { sampleDocument } from './sample-document.ts';

const document = sampleDocument({ circuits: 40 });
const resources = { pdfFonts: loadPdfFonts };

describe('renderDocument', () => {
  it.each([
    ['html', 1, '<!DOCTYPE html>'],
    ['pdf', 1, '%PDF-'],
    // PKWARE APPNOTE 4.3.7: a zip entry starts with PK 3 4.
    ['xlsx', 1, 'PK\u0003\u0004'],
    ['csv', 8, '\u00EF\u00BB\u00BFFact,Value'],
    ['json', 1, '{\n  "format": "crossloom-spec"'],
  ] satisfies readonly (readonly [SpecFormat, number, string])[])(
    'writes %s as %i file(s)',
    async (format, count, start) => {
      const { files } = await renderDocument(document, format, resources);
      expect(files).toHaveLength(count);
      for (const file of files)
        expect(file.name).toMatch(new RegExp(`^sample-wiring-spec(--[a-z0-9-]+)?\\.${format}$`));
      expect(
        Buffer.from(files[0]?.bytes ?? [])
          .toString('latin1')
          .startsWith(start),
      ).toBe(true);
    },
  );

  it('asks for fonts only for PDF', async () => {
    const refused = { pdfFonts: () => Promise.reject(new Error('no fonts here')) };
    for (const format of SPEC_FORMATS.filter((one) => one !== 'pdf')) await renderDocument(document, format, refused);
    await expect(renderDocument(document, 'pdf', refused)).rejects.toThrow('no fonts here');
  });

  it('refuses a document with faults in every form, naming all of them', async () => {
    const faulty = { ...document, id: 'Not a file', cautions: [] };
    for (const format of SPEC_FORMATS) {
      const error: unknown = await renderDocument(faulty, format, resources).catch((caught: unknown) => caught);
      expect(error).toBeInstanceOf(DocumentFaultError);
      expect((error as DocumentFaultError).faults).toHaveLength(2);
    }
  });
});
