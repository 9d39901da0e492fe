// pdfmake has no types that this project could use; whoever compiles this file, from any layer, needs ours.
// eslint-disable-next-line @typescript-eslint/triple-slash-reference -- an ambient module cannot be imported
/// <reference path="./pdf/pdfmake.d.ts" />
import type { Content, PageSection } from 'pdfmake';
import {
  LIGHT,
  stampTimeMs,
  visibleText,
  type PageFormat,
  type Section,
  type SpecDocument,
} from '../document/index.ts';
import { writePages, type EngineFonts } from './pdf/engine.ts';
import { FACES, readFaces, settableText, type FaceMetrics, type PdfFonts } from './pdf/faces.ts';
import { furnitureOf, type Furniture } from './pdf/furniture.ts';
import { MONO, SANS } from './pdf/line-nodes.ts';
import { pageGeometry } from './pdf/page.ts';
import { step, type ExportWatch } from './progress.ts';
import { sectionNodes } from './pdf/section.ts';
import { BODY_PT } from './pdf/setting.ts';
import { titleNodes } from './pdf/title-page.ts';

export type { PdfFonts } from './pdf/faces.ts';
export { FontError } from './pdf/true-type.ts';

/** Sections that follow one another on the same paper. */
interface PaperRun {
  readonly format: PageFormat;
  readonly sections: { readonly section: Section; readonly number: number }[];
}

function paperRuns(document: SpecDocument): readonly PaperRun[] {
  const runs: PaperRun[] = [{ format: document.page, sections: [] }];
  document.sections.forEach((section, at) => {
    const last = runs.at(-1);
    const format = section.page ?? document.page;
    const numbered = { section, number: at + 1 };
    if (last !== undefined && last.format.paper === format.paper && last.format.orientation === format.orientation) {
      last.sections.push(numbered);
    } else {
      runs.push({ format, sections: [numbered] });
    }
  });
  return runs;
}

async function pageSection(
  run: PaperRun,
  opening: 'title' | 'none',
  document: SpecDocument,
  metrics: FaceMetrics,
  furniture: Furniture,
  watch: ExportWatch,
): Promise<PageSection> {
  const page = pageGeometry(run.format, furniture.headPt, furniture.footPt);
  const ground = { metrics, page };
  const stack: Content[] = opening === 'title' ? [...titleNodes(document, ground)] : [];
  for (const { section, number } of run.sections) {
    const breaks = (section.startsPage === true || section.page !== undefined) && stack.length > 0;
    if (breaks) stack.push({ text: '', fontSize: 0.1, pageBreak: 'before' });
    stack.push(...sectionNodes(section, number, ground));
    await step(watch, { doing: 'sections', done: number, total: document.sections.length });
  }
  return {
    section: { stack },
    pageSize: run.format.paper,
    pageOrientation: run.format.orientation,
    pageMargins: page.margins,
  };
}

/**
 * A document as PDF, set in the given faces. On every page: the mark in words on a bar and across the page, title and
 * revision at the head, the first caution, digest, date and page x of y at the foot. Headers of tables are repeated, long
 * names wrap, wide tables are split; nothing is clipped. The same document and faces give the same bytes: the only clock is
 * the stamp. Nothing is fetched and no file is read. Throws FontError for bytes that are no TrueType font, ExportCancelled
 * when the watch says so between two sections or pages.
 */
export async function renderPdf(document: SpecDocument, fonts: PdfFonts, watch: ExportWatch = {}): Promise<Uint8Array> {
  const metrics = readFaces(fonts);
  const runs = paperRuns(document);
  const narrowestPt = Math.min(...runs.map((run) => pageGeometry(run.format, 0, 0).roomPt));
  const furniture = furnitureOf(document, metrics, narrowestPt);
  const printable = runs.filter((run, at) => at === 0 || run.sections.length > 0);
  const madeOn = new Date(stampTimeMs(document.stamp));
  const content: PageSection[] = [];
  for (const [at, run] of printable.entries()) {
    content.push(await pageSection(run, at === 0 ? 'title' : 'none', document, metrics, furniture, watch));
  }
  const page = pageGeometry(document.page, furniture.headPt, furniture.footPt);
  return writePages(
    {
      content,
      size: { width: page.widthPt, height: page.heightPt },
      pageSize: document.page.paper,
      pageOrientation: document.page.orientation,
      pageMargins: page.margins,
      defaultStyle: { font: SANS, fontSize: BODY_PT, color: LIGHT.ink, noWrap: true },
      header: (number, pages, size) => furniture.header(number, pages, size.width),
      footer: (number, pages, size) => furniture.footer(number, pages, size.width),
      ...(document.mark === null
        ? {}
        : {
            watermark: {
              text: settableText(visibleText(document.mark.text).replace(/\s+/g, ' '), 'bold', metrics),
              font: SANS,
              bold: true,
              color: LIGHT.stop,
              opacity: 0.09,
            },
          }),
      info: {
        title: `${document.title}, revision ${document.stamp.revision}`,
        subject: document.subtitle,
        creator: document.stamp.tool,
        creationDate: madeOn,
        modDate: madeOn,
      },
      language: 'en',
      displayTitle: true,
      compress: true,
    },
    engineFonts(fonts, metrics),
    watch,
  );
}

/** A font goes by its own PostScript name: drawings ask the PDF for it by that name again. */
function engineFonts(fonts: PdfFonts, metrics: FaceMetrics): EngineFonts {
  const name = (face: keyof PdfFonts): string => metrics[face].postScriptName;
  return {
    families: {
      [SANS]: { normal: name('regular'), bold: name('bold'), italics: name('italic'), bolditalics: name('bold') },
      [MONO]: { normal: name('mono'), bold: name('monoBold'), italics: name('mono'), bolditalics: name('monoBold') },
    },
    files: Object.fromEntries(FACES.map((face) => [name(face), fonts[face]])),
  };
}
