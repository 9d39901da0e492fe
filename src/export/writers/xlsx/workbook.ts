import { zipSync, type Zippable } from 'fflate';
import { escapeXml, stampTimeMs, visibleText, type SpecDocument } from '../../document/index.ts';
import { columnLetters, quotedSheet, sharedTexts, sheetXml, type Sheet } from './sheet.ts';
import type { StyleBook } from './styles.ts';

const XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const OFFICE_RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE_RELATIONS = 'http://schemas.openxmlformats.org/package/2006/relationships';
const CONTENT = 'application/vnd.openxmlformats-officedocument.spreadsheetml';

function contentTypes(sheets: readonly Sheet[]): string {
  const part = (name: string, type: string): string => `<Override PartName="${name}" ContentType="${type}"/>`;
  return (
    `${XML}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>' +
    '<Default Extension="xml" ContentType="application/xml"/>' +
    part('/xl/workbook.xml', `${CONTENT}.sheet.main+xml`) +
    sheets.map((_, at) => part(`/xl/worksheets/sheet${at + 1}.xml`, `${CONTENT}.worksheet+xml`)).join('') +
    part('/xl/styles.xml', `${CONTENT}.styles+xml`) +
    part('/xl/sharedStrings.xml', `${CONTENT}.sharedStrings+xml`) +
    part('/docProps/core.xml', 'application/vnd.openxmlformats-package.core-properties+xml') +
    '</Types>'
  );
}

function relations(list: readonly { readonly id: string; readonly type: string; readonly target: string }[]): string {
  return (
    `${XML}<Relationships xmlns="${PACKAGE_RELATIONS}">` +
    list.map(({ id, type, target }) => `<Relationship Id="${id}" Type="${type}" Target="${target}"/>`).join('') +
    '</Relationships>'
  );
}

function definedNames(sheets: readonly Sheet[]): string {
  const names = sheets.flatMap((sheet, at) => {
    const quoted = quotedSheet(sheet.name);
    const rows = sheet.frozenRows === 0 ? [] : [`${quoted}!$1:$${sheet.frozenRows}`];
    const columns = sheet.frozenColumns === 0 ? [] : [`${quoted}!$A:$${columnLetters(sheet.frozenColumns - 1)}`];
    const titles = [...columns, ...rows].join(',');
    const filter =
      sheet.filter === null
        ? ''
        : `<definedName name="_xlnm._FilterDatabase" localSheetId="${at}" hidden="1">${escapeXml(
            `${quoted}!$A$${sheet.filter.firstRow}:$${columnLetters(sheet.filter.columns - 1)}$${sheet.filter.lastRow}`,
          )}</definedName>`;
    return titles === ''
      ? [filter]
      : [filter, `<definedName name="_xlnm.Print_Titles" localSheetId="${at}">${escapeXml(titles)}</definedName>`];
  });
  return names.join('') === '' ? '' : `<definedNames>${names.join('')}</definedNames>`;
}

function workbookXml(sheets: readonly Sheet[]): string {
  return (
    `${XML}<workbook xmlns="${MAIN}" xmlns:r="${OFFICE_RELATIONS}"><bookViews><workbookView/></bookViews><sheets>` +
    sheets
      .map((sheet, at) => `<sheet name="${escapeXml(sheet.name)}" sheetId="${at + 1}" r:id="rId${at + 1}"/>`)
      .join('') +
    `</sheets>${definedNames(sheets)}</workbook>`
  );
}

function coreProperties(document: SpecDocument): string {
  const moment = new Date(stampTimeMs(document.stamp)).toISOString().replace(/\.\d+Z$/, 'Z');
  return (
    `${XML}<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"` +
    ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/"' +
    ' xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">' +
    `<dc:title>${escapeXml(visibleText(`${document.title}, revision ${document.stamp.revision}`))}</dc:title>` +
    `<dc:creator>${escapeXml(visibleText(document.stamp.tool))}</dc:creator>` +
    `<dcterms:created xsi:type="dcterms:W3CDTF">${moment}</dcterms:created>` +
    `<dcterms:modified xsi:type="dcterms:W3CDTF">${moment}</dcterms:modified></cp:coreProperties>`
  );
}

/**
 * The sheets as a workbook: an Office Open XML package (ECMA-376), zipped with one fixed time, so that the same sheets give
 * the same bytes in every time zone.
 */
export function packWorkbook(document: SpecDocument, sheets: readonly Sheet[], styles: StyleBook): Uint8Array {
  const texts = sharedTexts();
  const sheetParts = sheets.map((sheet, at) => sheetXml(sheet, at, styles, texts));
  const office = (name: string): string => `${OFFICE_RELATIONS}/${name}`;
  const parts: readonly (readonly [string, string])[] = [
    ['[Content_Types].xml', contentTypes(sheets)],
    [
      '_rels/.rels',
      relations([
        { id: 'rId1', type: office('officeDocument'), target: 'xl/workbook.xml' },
        {
          id: 'rId2',
          type: 'http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties',
          target: 'docProps/core.xml',
        },
      ]),
    ],
    ['docProps/core.xml', coreProperties(document)],
    ['xl/workbook.xml', workbookXml(sheets)],
    [
      'xl/_rels/workbook.xml.rels',
      relations([
        ...sheets.map((_, at) => ({
          id: `rId${at + 1}`,
          type: office('worksheet'),
          target: `worksheets/sheet${at + 1}.xml`,
        })),
        { id: `rId${sheets.length + 1}`, type: office('styles'), target: 'styles.xml' },
        { id: `rId${sheets.length + 2}`, type: office('sharedStrings'), target: 'sharedStrings.xml' },
      ]),
    ],
    ['xl/styles.xml', styles.xml()],
    ['xl/sharedStrings.xml', texts.xml()],
    ...sheetParts.map((part, at) => [`xl/worksheets/sheet${at + 1}.xml`, part] as const),
  ];
  const encoder = new TextEncoder();
  // A zip entry has the local time of a clock on the wall; noon of a fixed day reads the same everywhere.
  const mtime = new Date(2000, 0, 1, 12, 0, 0);
  const files: Zippable = Object.fromEntries(parts.map(([name, xml]) => [name, [encoder.encode(xml), { mtime }]]));
  return zipSync(files, { level: 6 });
}
