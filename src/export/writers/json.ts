import {
  plainText,
  type Block,
  type Cell,
  type Column,
  type Row,
  type Section,
  type SpecDocument,
  type Table,
} from '../document/index.ts';

/** Name and version of the machine-readable form; the version rises when a reader of the older one would be misled. */
export const SPEC_FORMAT = 'crossloom-spec';
export const SPEC_VERSION = 1;

type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

function columnJson(column: Column): Json {
  return {
    key: column.key,
    title: column.title,
    kind: column.kind,
    ...(column.unit === undefined ? {} : { unit: column.unit }),
    ...(column.group === undefined ? {} : { group: column.group }),
  };
}

function cellJson(cell: Cell): Json {
  return typeof cell === 'object' && cell !== null ? plainText(cell) : cell;
}

function rowJson(row: Row, columns: readonly Column[]): Json {
  return {
    ...(row.id === undefined ? {} : { id: row.id }),
    ...(row.mark === undefined ? {} : { mark: { tone: row.mark.tone, text: row.mark.text } }),
    cells: Object.fromEntries(columns.map((column, at) => [column.key, cellJson(row.cells[at] ?? null)])),
  };
}

function tableJson(table: Table): Json {
  return {
    kind: 'table',
    id: table.id,
    title: table.title,
    ...(table.note === undefined ? {} : { note: plainText(table.note) }),
    columns: table.columns.map(columnJson),
    rows: table.rows.map((row) => rowJson(row, table.columns)),
  };
}

function blockJson(block: Block): Json | null {
  switch (block.kind) {
    case 'paragraph':
      return { kind: block.kind, text: plainText(block.text) };
    case 'heading':
      return {
        kind: block.kind,
        ...(block.id === undefined ? {} : { id: block.id }),
        level: block.level,
        text: block.text,
      };
    case 'keyValues':
      return {
        kind: block.kind,
        ...(block.title === undefined ? {} : { title: block.title }),
        entries: block.entries.map((entry) => ({ label: entry.label, value: plainText(entry.value) })),
      };
    case 'table':
      return tableJson(block);
    case 'list':
      return { kind: block.kind, style: block.style, entries: block.entries.map(plainText) };
    case 'caution':
      return { kind: block.kind, tone: block.tone, text: plainText(block.text) };
    case 'figure':
      return {
        kind: block.kind,
        id: block.id,
        title: block.title,
        ...(block.note === undefined ? {} : { note: plainText(block.note) }),
        description: block.drawing.description,
      };
    case 'code':
    case 'formula':
      return { kind: block.kind, ...(block.title === undefined ? {} : { title: block.title }), text: block.text };
    case 'pageBreak':
      return null;
  }
}

function sectionJson(section: Section): Json {
  return {
    id: section.id,
    title: section.title,
    ...(section.intro === undefined ? {} : { intro: plainText(section.intro) }),
    blocks: section.blocks.map(blockJson).filter((block) => block !== null),
  };
}

/**
 * A document for machines: JSON, 2-space, fixed key order, one trailing newline. `format` and `version` come first; a table
 * has `columns` (key, title, kind, unit) and `rows` with `cells` by column key, numbers in full precision, texts exactly as
 * in the map (no guard, nothing replaced). A figure is its title and description; its lines are in the HTML and PDF.
 */
export function renderJson(document: SpecDocument): string {
  const { revision, digest, date, tool } = document.stamp;
  const content: Json = {
    format: SPEC_FORMAT,
    version: SPEC_VERSION,
    id: document.id,
    title: document.title,
    subtitle: document.subtitle,
    revision,
    digest,
    date,
    tool,
    mark: document.mark === null ? null : { text: document.mark.text, reason: document.mark.reason },
    cautions: document.cautions,
    facts: document.facts.map((fact) => ({ label: fact.label, value: plainText(fact.value) })),
    sections: document.sections.map(sectionJson),
  };
  return `${JSON.stringify(content, null, 2)}\n`;
}
