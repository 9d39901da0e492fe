import type { Block } from './block.ts';
import { stampTimeMs, type SpecDocument } from './document.ts';
import type { Drawing, Shape } from './drawing.ts';
import type { Table } from './table.ts';
import { runsOf, type RichText } from './text.ts';

/** One thing wrong with a document as built: where in it, and what. */
export interface DocumentFault {
  readonly where: string;
  readonly message: string;
}

/** Thrown by `renderDocument` for a document with faults: a mistake of the program that built it, not of the map. */
export class DocumentFaultError extends Error {
  readonly faults: readonly DocumentFault[];
  constructor(faults: readonly DocumentFault[]) {
    super(
      `The document cannot be written:\n${faults.map(({ where, message }) => `  ${where}: ${message}`).join('\n')}`,
    );
    this.name = 'DocumentFaultError';
    this.faults = faults;
  }
}

/** Most rows and columns of one table: what a spreadsheet page holds less its heading (ECMA-376 limits: 1,048,576 × 16,384). */
export const MOST_ROWS = 1_048_000;
export const MOST_COLUMNS = 256;

const FILE_ID = /^[a-z0-9]+(-[a-z0-9]+)*$/;
const COLUMN_KEY = /^[A-Za-z][A-Za-z0-9_.-]*$/;
const UNUSABLE_KEYS: ReadonlySet<string> = new Set([
  'constructor',
  'prototype',
  'toString',
  'valueOf',
  'hasOwnProperty',
]);
const FIXED_PAINTS: ReadonlySet<string> = new Set([
  'ink',
  'muted',
  'rule',
  'paper',
  'shade',
  'accent',
  'stop',
  'caution',
]);

interface Findings {
  readonly faults: DocumentFault[];
  readonly anchors: Set<string>;
  readonly refs: { readonly where: string; readonly to: string }[];
}

function claimAnchor(id: string, where: string, found: Findings): void {
  if (id === '') found.faults.push({ where, message: 'the id is empty' });
  else if (found.anchors.has(id))
    found.faults.push({ where, message: `the id “${id}” is taken already; ids are unique in a document` });
  found.anchors.add(id);
}

function noteRefs(text: RichText, where: string, found: Findings): void {
  for (const run of runsOf(text)) {
    if (typeof run !== 'string' && run.kind === 'ref') found.refs.push({ where, to: run.to });
  }
}

function checkColumns(table: Table, where: string, found: Findings): void {
  if (table.columns.length === 0 || table.columns.length > MOST_COLUMNS) {
    found.faults.push({ where, message: `${table.columns.length} columns; 1 to ${MOST_COLUMNS} can be written` });
  }
  const keys = new Set<string>();
  for (const column of table.columns) {
    const place = `${where}, column “${column.key}”`;
    if (!COLUMN_KEY.test(column.key) || UNUSABLE_KEYS.has(column.key)) {
      found.faults.push({ where: place, message: 'the key is not a letter followed by letters, digits, _ - or .' });
    }
    if (keys.has(column.key)) found.faults.push({ where: place, message: 'the key occurs twice' });
    keys.add(column.key);
    if (!(column.weight >= 2 && column.weight <= 80)) {
      found.faults.push({ where: place, message: `weight ${column.weight} is outside 2 to 80 characters` });
    }
    if (
      column.decimals !== undefined &&
      !(Number.isInteger(column.decimals) && column.decimals >= 0 && column.decimals <= 15)
    ) {
      found.faults.push({ where: place, message: `decimals ${column.decimals} is not a whole number from 0 to 15` });
    }
  }
}

function checkTable(table: Table, where: string, found: Findings): void {
  checkColumns(table, where, found);
  if (table.note !== undefined) noteRefs(table.note, where, found);
  if (table.rows.length > MOST_ROWS) {
    found.faults.push({ where, message: `${table.rows.length} rows; at most ${MOST_ROWS} can be written` });
  }
  table.rows.forEach((row, at) => {
    const place = `${where}, row ${at + 1}`;
    if (row.id !== undefined) claimAnchor(row.id, place, found);
    if (row.cells.length !== table.columns.length) {
      found.faults.push({ where: place, message: `${row.cells.length} cells for ${table.columns.length} columns` });
    }
    row.cells.forEach((cell, position) => {
      if (typeof cell === 'number' && !Number.isFinite(cell)) {
        found.faults.push({
          where: `${place}, column “${table.columns[position]?.key ?? position}”`,
          message: `${cell} is not a finite number`,
        });
      }
      if (typeof cell === 'object' && cell !== null) noteRefs(cell, place, found);
    });
  });
}

function numbersOf(shape: Shape): readonly number[] {
  switch (shape.kind) {
    case 'line':
      return [shape.from.x, shape.from.y, shape.to.x, shape.to.y];
    case 'polyline':
      return shape.points.flatMap((point) => [point.x, point.y]);
    case 'rect':
      return [shape.x, shape.y, shape.width, shape.height, shape.radius ?? 0];
    case 'circle':
      return [shape.centre.x, shape.centre.y, shape.radius];
    case 'path':
      return shape.steps.flatMap((step) => step.filter((part): part is number => typeof part === 'number'));
    case 'text':
      return [shape.at.x, shape.at.y, shape.size, shape.turnDegrees ?? 0];
    case 'group':
      return [shape.shift.x, shape.shift.y, ...shape.shapes.flatMap(numbersOf)];
  }
}

function paintsOf(shape: Shape): readonly string[] {
  switch (shape.kind) {
    case 'line':
      return [shape.stroke.paint];
    case 'text':
      return shape.paint === undefined ? [] : [shape.paint];
    case 'group':
      return shape.shapes.flatMap(paintsOf);
    case 'polyline':
    case 'rect':
    case 'circle':
    case 'path':
      return [shape.stroke?.paint, shape.fill].filter((paint) => paint !== undefined);
  }
}

function checkDrawing(drawing: Drawing, where: string, found: Findings): void {
  if (!(
    drawing.width > 0 &&
    drawing.height > 0 &&
    drawing.unitMm > 0 &&
    Number.isFinite(drawing.width * drawing.height * drawing.unitMm)
  )) {
    found.faults.push({ where, message: 'the drawing has no size: width, height and unitMm must be above 0' });
  }
  if (drawing.description.trim() === '') found.faults.push({ where, message: 'the drawing has no description' });
  for (const shape of drawing.shapes) {
    if (numbersOf(shape).some((value) => !Number.isFinite(value))) {
      found.faults.push({ where, message: `a ${shape.kind} has a coordinate that is not a finite number` });
    }
    for (const paint of paintsOf(shape)) {
      if (!FIXED_PAINTS.has(paint) && !/^#[0-9a-f]{6}$/i.test(paint)) {
        found.faults.push({ where, message: `“${paint}” is neither a named colour nor #rrggbb` });
      }
    }
  }
}

function checkBlock(block: Block, where: string, found: Findings): void {
  switch (block.kind) {
    case 'paragraph':
    case 'caution':
      noteRefs(block.text, where, found);
      break;
    case 'heading':
      if (block.id !== undefined) claimAnchor(block.id, where, found);
      break;
    case 'keyValues':
      for (const entry of block.entries) noteRefs(entry.value, where, found);
      break;
    case 'list':
      for (const entry of block.entries) noteRefs(entry, where, found);
      break;
    case 'table':
      claimAnchor(block.id, where, found);
      checkTable(block, `${where}, table “${block.id}”`, found);
      break;
    case 'figure':
      claimAnchor(block.id, where, found);
      if (block.note !== undefined) noteRefs(block.note, where, found);
      checkDrawing(block.drawing, `${where}, figure “${block.id}”`, found);
      break;
    case 'code':
    case 'formula':
    case 'pageBreak':
      break;
  }
}

/**
 * Everything that would keep the writers from printing a document, each fault with its place; empty when there is none.
 * It looks at: ids (unique, never empty), the file id, links to ids that exist, cells by the columns of their table,
 * finite numbers, colours, a readable date, at least one caution. Linear in the size of the document.
 */
export function checkDocument(document: SpecDocument): readonly DocumentFault[] {
  const found: Findings = { faults: [], anchors: new Set(), refs: [] };
  if (!FILE_ID.test(document.id)) {
    found.faults.push({
      where: 'id',
      message: `“${document.id}” is not lower-case letters and digits joined by hyphens`,
    });
  }
  if (Number.isNaN(stampTimeMs(document.stamp))) {
    found.faults.push({
      where: 'stamp.date',
      message: `“${document.stamp.date}” is not a date such as 2026-01-31 or 2026-01-31T09:30:00Z`,
    });
  }
  if (document.cautions.length === 0) {
    found.faults.push({ where: 'cautions', message: 'every document carries at least one caution' });
  }
  if (document.mark !== null && document.mark.text.trim() === '') {
    found.faults.push({ where: 'mark', message: 'the mark has no text; without a mark it is null' });
  }
  for (const fact of document.facts) noteRefs(fact.value, `fact “${fact.label}”`, found);
  for (const section of document.sections) {
    const where = `section “${section.id}”`;
    claimAnchor(section.id, where, found);
    if (section.intro !== undefined) noteRefs(section.intro, where, found);
    section.blocks.forEach((block, at) => checkBlock(block, `${where}, block ${at + 1} (${block.kind})`, found));
  }
  for (const { where, to } of found.refs) {
    if (!found.anchors.has(to))
      found.faults.push({ where, message: `a link leads to “${to}”, which is not in the document` });
  }
  return found.faults;
}
