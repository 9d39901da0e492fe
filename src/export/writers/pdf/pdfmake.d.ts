/** The part of pdfmake 0.3 that this project uses. Its published types are not installed: they bring Node's types with them. */
declare module 'pdfmake' {
  export type Margin = readonly [left: number, top: number, right: number, bottom: number];

  export interface Style {
    readonly font?: string;
    readonly fontSize?: number;
    readonly bold?: boolean;
    readonly italics?: boolean;
    readonly color?: string;
    readonly alignment?: 'left' | 'right' | 'center';
    readonly lineHeight?: number;
    readonly noWrap?: boolean;
    readonly preserveLeadingSpaces?: boolean;
    readonly preserveTrailingSpaces?: boolean;
    readonly fillColor?: string;
  }

  interface Node extends Style {
    readonly id?: string;
    readonly width?: number | 'auto' | '*';
    readonly margin?: Margin;
    readonly unbreakable?: boolean;
    readonly pageBreak?: 'before' | 'after';
    readonly colSpan?: number;
    readonly border?: readonly [boolean, boolean, boolean, boolean];
  }

  export interface TextSpan extends Style {
    readonly text?: string;
    readonly pageReference?: string;
    readonly linkToDestination?: string;
  }

  export interface TextNode extends Node {
    readonly text?: string | readonly TextSpan[];
    readonly pageReference?: string;
    readonly linkToDestination?: string;
    readonly outline?: boolean;
    readonly outlineText?: string;
    readonly outlineParentId?: string;
    readonly outlineExpanded?: boolean;
  }

  export type Vector =
    | {
        readonly type: 'line';
        readonly x1: number;
        readonly y1: number;
        readonly x2: number;
        readonly y2: number;
        readonly lineWidth?: number;
        readonly lineColor?: string;
        readonly dash?: { readonly length: number; readonly space?: number };
      }
    | {
        readonly type: 'rect';
        readonly x: number;
        readonly y: number;
        readonly w: number;
        readonly h: number;
        readonly lineWidth?: number;
        readonly lineColor?: string;
        readonly color?: string;
      };

  export interface TableLayout {
    readonly hLineWidth?: (line: number) => number;
    readonly vLineWidth?: (line: number) => number;
    readonly hLineColor?: (line: number) => string;
    readonly vLineColor?: (line: number) => string;
    readonly paddingLeft?: (column: number) => number;
    readonly paddingRight?: (column: number) => number;
    readonly paddingTop?: (row: number) => number;
    readonly paddingBottom?: (row: number) => number;
    readonly fillColor?: (row: number) => string | null;
  }

  export interface TableNode extends Node {
    readonly table: {
      readonly widths: readonly (number | 'auto' | '*')[];
      readonly headerRows?: number;
      readonly keepWithHeaderRows?: number;
      readonly dontBreakRows?: boolean;
      readonly heights?: (row: number) => number | 'auto';
      readonly body: readonly (readonly Content[])[];
    };
    readonly layout?: TableLayout;
  }

  export type Content =
    | TextNode
    | TableNode
    | (Node & { readonly stack: readonly Content[] })
    | (Node & { readonly columns: readonly Content[]; readonly columnGap?: number })
    | (Node & { readonly canvas: readonly Vector[] })
    | (Node & { readonly svg: string | object; readonly fit?: readonly [number, number] });

  export interface PageSize {
    readonly width: number;
    readonly height: number;
  }

  export interface PageSection {
    readonly section: Content;
    readonly pageSize?: PageSize | 'A3' | 'A4';
    readonly pageOrientation?: 'portrait' | 'landscape';
    readonly pageMargins?: Margin;
  }

  export interface DocumentDefinition {
    readonly content: readonly PageSection[];
    readonly pageSize: 'A3' | 'A4';
    readonly pageOrientation: 'portrait' | 'landscape';
    readonly pageMargins: Margin;
    readonly defaultStyle: Style;
    readonly header: (page: number, pages: number, size: PageSize) => Content;
    readonly footer: (page: number, pages: number, size: PageSize) => Content;
    readonly watermark?: Style & { readonly text: string; readonly opacity: number; readonly angle?: number };
    readonly info: Readonly<Record<string, string | Date>>;
    readonly language: string;
    readonly displayTitle: boolean;
    readonly compress: boolean;
  }

  export interface FontFiles {
    normal: string;
    bold: string;
    italics: string;
    bolditalics: string;
  }

  export interface VirtualFiles {
    writeFileSync: (name: string, bytes: Uint8Array) => void;
  }

  interface PdfMake {
    readonly virtualfs: VirtualFiles;
    setFonts: (fonts: Readonly<Record<string, FontFiles>>) => void;
    setUrlAccessPolicy: (mayFetch: (url: string) => boolean) => void;
    setLocalAccessPolicy: (mayRead: (path: string) => boolean) => void;
    createPdf: (definition: object) => { getBuffer: () => Promise<Uint8Array> };
  }

  /** Thousandths of the type size. */
  export interface GlyphPosition {
    readonly xAdvance: number;
    readonly advanceWidth: number;
    readonly xOffset: number;
    readonly yOffset: number;
  }

  export interface PdfFont {
    readonly id: string;
    ref: () => unknown;
    encode: (text: string) => readonly [glyphs: readonly string[], positions: readonly GlyphPosition[]];
    lineHeight: (sizePt: number) => number;
  }

  /** The document that is written: pdfkit's, with pdfmake's fonts. */
  export interface PdfDocument {
    readonly page: { readonly height: number; readonly fonts: Record<string, unknown> };
    _pdfMakePages?: unknown;
    addPage: (options: { size: readonly [number, number] }) => void;
    provideFont: (family: string, bold: boolean, italics: boolean) => PdfFont;
    addContent: (operators: string) => PdfDocument;
    addNamedDestination: (name: string, fit: 'XYZ', x: number, y: number, zoom: null) => void;
    goTo: (x: number, y: number, width: number, height: number, name: string) => void;
    opacity: (share: number) => PdfDocument;
    save: () => PdfDocument;
    restore: () => PdfDocument;
    lineWidth: (width: number) => PdfDocument;
    dash: (length: number, options: { space: number }) => PdfDocument;
    moveTo: (x: number, y: number) => PdfDocument;
    lineTo: (x: number, y: number) => PdfDocument;
    strokeColor: (color: string, opacity: number) => PdfDocument;
    stroke: () => PdfDocument;
    on: (event: 'data' | 'end', listener: (chunk: Uint8Array) => void) => void;
    end: () => void;
  }

  /** Something laid on a page. */
  export interface PageItem {
    readonly type: string;
    readonly item: { readonly x: number; readonly y: number; readonly svg?: unknown };
  }

  export interface LaidPage {
    readonly pageSize: PageSize;
    items: readonly PageItem[];
    readonly watermark?: unknown;
  }

  /** Writes what was laid on a page. */
  export interface PageRenderer {
    renderVector: (vector: unknown) => void;
    renderLine: (line: unknown, x: number, y: number) => void;
    renderSVG: (svg: unknown) => void;
    renderWatermark: (page: LaidPage) => void;
  }

  const pdfmake: PdfMake;
  export default pdfmake;
}

/** The parts that pdfmake is made of; the package exports no names for them. */
declare module 'pdfmake/js/PDFDocument.js' {
  import type { FontFiles, PdfDocument, VirtualFiles } from 'pdfmake';
  const PDFDocument: new (
    fonts: Readonly<Record<string, FontFiles>>,
    images: object,
    patterns: object,
    attachments: object,
    options: object,
    files: VirtualFiles,
    mayReadFile: (path: string) => boolean,
  ) => PdfDocument;
  export default PDFDocument;
}

declare module 'pdfmake/js/LayoutBuilder.js' {
  import type { DocumentDefinition, LaidPage, PageSize, PdfDocument } from 'pdfmake';
  const LayoutBuilder: new (
    page: PageSize & { readonly orientation: 'portrait' | 'landscape' },
    margins: { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number },
    svgMeasure: object,
  ) => {
    registerTableLayouts: (layouts: object) => void;
    layoutDocument: (
      content: DocumentDefinition['content'],
      document: PdfDocument,
      styles: object,
      defaultStyle: DocumentDefinition['defaultStyle'],
      background: undefined,
      header: DocumentDefinition['header'],
      footer: DocumentDefinition['footer'],
      watermark: DocumentDefinition['watermark'],
    ) => LaidPage[];
  };
  export default LayoutBuilder;
}

declare module 'pdfmake/js/Renderer.js' {
  import type { PageRenderer, PdfDocument } from 'pdfmake';
  const Renderer: new (document: PdfDocument) => PageRenderer;
  export default Renderer;
}

declare module 'pdfmake/js/SVGMeasure.js' {
  interface Measure {
    measureSVG(svg: unknown): { readonly width: number; readonly height: number };
    writeDimensions(svg: unknown, size: { readonly width: number; readonly height: number }): unknown;
  }
  const SVGMeasure: new () => Measure;
  export default SVGMeasure;
}

declare module 'pdfmake/js/tableLayouts.js' {
  export const tableLayouts: object;
}
