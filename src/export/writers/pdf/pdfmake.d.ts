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
    | (Node & { readonly svg: string; readonly fit?: readonly [number, number] });

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

  interface FontFiles {
    normal: string;
    bold: string;
    italics: string;
    bolditalics: string;
  }

  interface PdfMake {
    readonly virtualfs: { writeFileSync: (name: string, bytes: Uint8Array) => void };
    setFonts: (fonts: Record<string, FontFiles>) => void;
    setUrlAccessPolicy: (allow: (url: string) => boolean) => void;
    /** There on the server side only. */
    setLocalAccessPolicy?: (allow: (path: string) => boolean) => void;
    createPdf: (definition: DocumentDefinition) => { getBuffer: () => Promise<Uint8Array> };
  }

  const pdfmake: PdfMake;
  export default pdfmake;
}
