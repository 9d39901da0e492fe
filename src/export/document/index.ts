/** The neutral document model: what a spec says, without a look. The writers print it. */
export {
  type SpecDocument,
  type Section,
  type PageFormat,
  type Stamp,
  type Mark,
  tablesOf,
  allFacts,
  stampTimeMs,
} from './document.ts';
export { type Block, type KeyValues, type List, type Caution, type Figure, cautionWord } from './block.ts';
export {
  type Table,
  type Column,
  type ColumnKind,
  type Row,
  type RowMark,
  type Cell,
  keyColumnsOf,
  columnHeader,
  columnAlign,
  hasRowMarks,
  cellText,
} from './table.ts';
export { type RichText, type Run, strong, emphasis, mono, ref, runText, runsOf, plainText } from './text.ts';
export { type Drawing, type Shape, type Stroke, type Paint, type PathStep, type Point } from './drawing.ts';
export { type SvgLook, drawingSvg, escapeXml } from './svg.ts';
export { type Palette, LIGHT, DARK } from './palette.ts';
export { columnDecimals, decimalsOf, formatNumber } from './column-number.ts';
export { visibleText } from './visible-text.ts';
export { type DocumentFault, DocumentFaultError, checkDocument } from './check-document.ts';
