import type { DocumentDefinition, FontFiles, LaidPage, PageRenderer, PageSize, PdfDocument } from 'pdfmake';
import { step, type ExportWatch } from '../progress.ts';
import type { PdfFonts } from './faces.ts';
import { isRowDrawing } from './row-drawing.ts';
import { RowPen } from './row-pen.ts';

/** Pages between two looks at the watch. */
const PAGES_A_STEP = 20;

/** What a document is set in: font files by family, and their bytes by file name. */
export interface EngineFonts {
  readonly families: Readonly<Record<string, FontFiles>>;
  readonly files: Readonly<Record<string, PdfFonts[keyof PdfFonts]>>;
}

export interface EngineDocument extends DocumentDefinition {
  /** Size of the pages where a part of the content names none; points. */
  readonly size: PageSize;
}

/**
 * Lays a definition with pdfmake's own layout and writes it page by page. It does what pdfmake's `createPdf` does, and two things more:
 * rows of tables are drawn by the row pen, and a page is let go once it is written. Nothing is fetched, no file is read.
 * @throws ExportCancelled when the watch says so between two pages.
 */
export async function writePages(
  definition: EngineDocument,
  fonts: EngineFonts,
  watch: ExportWatch,
): Promise<Uint8Array> {
  const parts = await engineParts();
  for (const [name, bytes] of Object.entries(fonts.files)) parts.files.writeFileSync(name, bytes);
  const families = structuredCloneOf(fonts.families);
  const document = new parts.PDFDocument(families, {}, {}, {}, pdfOptions(definition), parts.files, () => false);
  const [left, top, right, bottom] = definition.pageMargins;
  const builder = new parts.LayoutBuilder(
    { ...definition.size, orientation: definition.pageOrientation },
    { left, top, right, bottom },
    new parts.RowMeasure(),
  );
  builder.registerTableLayouts(parts.tableLayouts);
  const { content, defaultStyle, header, footer, watermark } = definition;
  const pages = builder.layoutDocument(content, document, {}, defaultStyle, undefined, header, footer, watermark);
  const chunks: Uint8Array[] = [];
  const ended = new Promise<void>((resolve) => {
    document.on('data', (chunk) => chunks.push(chunk));
    document.on('end', () => resolve());
  });
  await drawPages(document, pages, new parts.Renderer(document), watch);
  document.end();
  await ended;
  return joined(chunks);
}

async function drawPages(
  document: PdfDocument,
  pages: readonly LaidPage[],
  renderer: PageRenderer,
  watch: ExportWatch,
) {
  document._pdfMakePages = pages;
  const pen = new RowPen(document);
  for (const [at, page] of pages.entries()) {
    if (at % PAGES_A_STEP === 0) await step(watch, { doing: 'pages', done: at, total: pages.length });
    document.addPage({ size: [page.pageSize.width, page.pageSize.height] });
    for (const { type, item } of page.items) {
      if (type === 'vector') renderer.renderVector(item);
      else if (type === 'line') renderer.renderLine(item, item.x, item.y);
      else if (type === 'svg') {
        if (isRowDrawing(item.svg)) pen.draw(item.svg, item.x, item.y);
        else renderer.renderSVG(item);
      }
    }
    if (page.watermark) renderer.renderWatermark(page);
    page.items = [];
  }
  await step(watch, { doing: 'pages', done: pages.length, total: pages.length });
}

/** As pdfmake itself would set them. */
function pdfOptions({ size, compress, language, displayTitle, info }: EngineDocument): object {
  const capital = (key: string): string => key.charAt(0).toUpperCase() + key.slice(1);
  return {
    size: [size.width, size.height],
    pdfVersion: '1.3',
    tagged: false,
    displayTitle,
    compress,
    lang: language,
    fontLayoutCache: true,
    bufferPages: false,
    autoFirstPage: false,
    info: {
      Producer: 'pdfmake',
      ...Object.fromEntries(Object.entries(info).map(([key, value]) => [capital(key), value])),
    },
    font: null,
  };
}

/** pdfmake puts bytes in place of file names there. */
function structuredCloneOf(families: EngineFonts['families']): EngineFonts['families'] {
  return Object.fromEntries(Object.entries(families).map(([family, files]) => [family, { ...files }]));
}

function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chunk of chunks) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}

async function engineParts() {
  const [pdfmake, document, layout, renderer, measure, layouts] = await Promise.all([
    import('pdfmake'),
    import('pdfmake/js/PDFDocument.js'),
    import('pdfmake/js/LayoutBuilder.js'),
    import('pdfmake/js/Renderer.js'),
    import('pdfmake/js/SVGMeasure.js'),
    import('pdfmake/js/tableLayouts.js'),
  ]);
  const SVGMeasure = classOf(measure.default);
  /** A row knows its own size; it is no drawing that pdfmake could read. */
  class RowMeasure extends SVGMeasure {
    override measureSVG(svg: unknown) {
      return isRowDrawing(svg) ? { width: svg.widthPt, height: svg.heightPt } : super.measureSVG(svg);
    }
    override writeDimensions(svg: unknown, size: { readonly width: number; readonly height: number }) {
      return isRowDrawing(svg) ? svg : super.writeDimensions(svg, size);
    }
  }
  return {
    files: pdfmake.default.virtualfs,
    PDFDocument: classOf(document.default),
    LayoutBuilder: classOf(layout.default),
    Renderer: classOf(renderer.default),
    RowMeasure,
    tableLayouts: layouts.tableLayouts,
  };
}

/** A CommonJS module with a default export, whether the one who loads it unwraps it or not. */
function classOf<T>(loaded: T): T {
  return typeof loaded === 'function' ? loaded : (loaded as { readonly default: T }).default;
}
