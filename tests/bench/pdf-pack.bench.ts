import pdfmake from 'pdfmake';
import { renderPdf, wiringSpec, type PdfFonts } from '../../src/export/index.ts';
import { loadPdfFonts } from '../../src/host/index.ts';
import { largePairing } from '../wiring/large-pairing.ts';
import type { BenchRow } from './measure.ts';

const CIRCUITS = 500;
const COLUMNS = 14;

/** Issue "Wiring": a pack of 2,000 circuits in under 20 s. Here a quarter of it against the plainest table that pdfmake sets. */
export async function rows(): Promise<BenchRow[]> {
  const fonts = await loadPdfFonts();
  const pairing = largePairing(CIRCUITS);
  const issue = { today: '2026-01-31', version: '0', digest: 'd'.repeat(64), arrangement: 'pages' } as const;
  const [planMs, document] = timed(() => wiringSpec(pairing, [], issue));
  const tables = document.sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) => (block.kind === 'table' ? [block] : [])),
  );
  const cells = tables.reduce((sum, { rows: list, columns }) => sum + list.length * columns.length, 0);
  await renderPdf({ ...document, sections: document.sections.slice(0, 2) }, fonts);
  const begun = performance.now();
  const pdf = await renderPdf(document, fonts);
  const packMs = performance.now() - begun;
  const plainMs = await plainTable(fonts, cells);
  const pages =
    Buffer.from(pdf)
      .toString('latin1')
      .match(/\/Type \/Page\b(?!s)/g)?.length ?? 0;
  return [
    {
      work: `PDF of the wiring pack of ${CIRCUITS} circuits (${cells} cells on ${pages} pages)`,
      against: 'a plain pdfmake table of as many cells',
      ratio: packMs / plainMs,
      target: 1.25,
      better: 'lower',
      note: `${(packMs / 1000).toFixed(1)} s; its document is planned and put together in ${(planMs / 1000).toFixed(1)} s`,
    },
  ];
}

function timed<T>(work: () => T): readonly [ms: number, result: T] {
  const begun = performance.now();
  const result = work();
  return [performance.now() - begun, result];
}

/** Milliseconds for one table of short words in one face: no set lines, no drawings, no links. */
async function plainTable({ regular }: PdfFonts, cells: number): Promise<number> {
  pdfmake.setUrlAccessPolicy(() => false);
  pdfmake.setLocalAccessPolicy(() => false);
  pdfmake.virtualfs.writeFileSync('plain.ttf', regular);
  const face = 'plain.ttf';
  pdfmake.setFonts({ plain: { normal: face, bold: face, italics: face, bolditalics: face } });
  const begun = performance.now();
  await pdfmake
    .createPdf({
      pageSize: 'A3',
      pageOrientation: 'landscape',
      defaultStyle: { font: 'plain', fontSize: 7 },
      content: [
        {
          table: {
            headerRows: 1,
            dontBreakRows: true,
            widths: Array.from({ length: COLUMNS }, () => 70),
            body: Array.from({ length: Math.ceil(cells / COLUMNS) }, (_, row) =>
              Array.from({ length: COLUMNS }, (_cell, at) => ({ text: `w${row % 900}-${at}`, noWrap: true })),
            ),
          },
        },
      ],
    })
    .getBuffer();
  return performance.now() - begun;
}
