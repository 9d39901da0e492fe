import {
  cellText,
  columnAlign,
  columnDecimals,
  columnHeader,
  formatNumber,
  keyColumnsOf,
  visibleText,
  type Cell,
  type Column,
  type PageFormat,
  type Table,
} from '../../document/index.ts';
import { layBands, type Bands, type ColumnNeed } from '../column-bands.ts';
import { elementId, escaped, richHtml } from './text.ts';

/** A table as HTML with the style that it alone needs. */
export interface TableHtml {
  readonly html: string;
  readonly style: string;
}

/** Characters of table type side by side between the margins of a page. */
const PAGE_CHARACTERS = { A4: { portrait: 124, landscape: 186 }, A3: { portrait: 186, landscape: 270 } } as const;
const CELL_BLANK_CHARACTERS = 2;

function cellHtml(cell: Cell, column: Column, decimals: number): string {
  if (typeof cell === 'number') return escaped(formatNumber(cell, decimals));
  if (column.kind === 'check') {
    return cell === true
      ? '<span class="box" role="img" aria-label="ticked">☑</span>'
      : '<span class="box" role="img" aria-label="open box">☐</span>';
  }
  if (typeof cell === 'object' && cell !== null) return richHtml(cell);
  return richHtml(cellText(cell));
}

/** What each column asks for in characters, as far as that can be told without measuring type. */
function characterNeeds(table: Table): readonly ColumnNeed[] {
  return table.columns.map((column, at) => {
    const header = columnHeader(column).split(' ');
    let line = 0;
    // Headers are bold, and so a little wider.
    let word = Math.max(...header.map((part) => Math.ceil(part.length * 1.2)));
    for (const row of table.rows) {
      const cell = row.cells[at] ?? null;
      const text = typeof cell === 'number' ? String(cell) : visibleText(cellText(cell));
      line = Math.max(line, text.length);
      if (text.length > word)
        for (const part of text.split(/[\s._:/-]/)) word = Math.max(word, Math.min(part.length, 12));
    }
    const blank = column.kind === 'entry' ? column.weight : 0;
    const least = Math.max(word, blank) + CELL_BLANK_CHARACTERS;
    return {
      natural: Math.max(least, line + CELL_BLANK_CHARACTERS),
      wanted: Math.max(least, Math.min(line, column.weight) + CELL_BLANK_CHARACTERS),
      least,
    };
  });
}

/**
 * On paper a table that is too wide is laid in tiers: each row a box of cells that flow over several lines, the header too,
 * both with the same widths in hundredths of the page; the header row stays a header group and so is repeated.
 */
function tierStyle({ keys, bands }: Bands, id: string): string {
  const keyTotal = keys.widths.reduce((total, width) => total + width, 0);
  const first = bands[0];
  const total = keyTotal + (first?.widths.reduce((sum, width) => sum + width, 0) ?? 0);
  const percent = (width: number): string => `${Math.floor((width / total) * 9990) / 100}%`;
  const rules: string[] = [];
  const cell = (at: number): string => `#${id} :is(th,td):nth-child(${at + 1})`;
  keys.at.forEach((at, place) => rules.push(`${cell(at)}{order:-1;flex:0 0 ${percent(keys.widths[place] ?? 0)}}`));
  bands.forEach((band, number) => {
    band.at.forEach((at, place) => {
      const indent = number > 0 && place === 0 ? `;margin-left:${percent(keyTotal)}` : '';
      rules.push(`${cell(at)}{order:${number};flex:0 0 ${percent(band.widths[place] ?? 0)}${indent}}`);
    });
  });
  return `@media print{${rules.join('')}}`;
}

/** On the screen, where there is no page to fit, each column has the width that it asks for. */
function screenStyle(needs: readonly ColumnNeed[], id: string): string {
  const columns = needs.map(
    ({ wanted }, at) => `#${id} thead tr:last-child>:nth-child(${at + 1}){min-width:${Math.ceil(wanted)}ch}`,
  );
  return `@media screen{${columns.join('')}}`;
}

/** On paper, the widths of a table that fits: columns in hundredths of the table, the table in hundredths of the page. */
function flatStyle({ keys, bands }: Bands, id: string, room: number): string {
  const at = [...keys.at, ...(bands[0]?.at ?? [])];
  const widths = [...keys.widths, ...(bands[0]?.widths ?? [])];
  const total = widths.reduce((sum, width) => sum + width, 0);
  const percent = (share: number): string => `${Math.min(100, Math.round(share * 1000) / 10)}%`;
  const columns = at.map(
    (column, place) =>
      `#${id} thead tr:last-child>:nth-child(${column + 1}){width:${percent((widths[place] ?? 0) / total)}}`,
  );
  return `@media print{#${id} table{width:${percent(total / room)}}${columns.join('')}}`;
}

function groupRow(table: Table): string {
  if (!table.columns.some((column) => column.group !== undefined)) return '';
  const spans: { title: string; count: number }[] = [];
  for (const column of table.columns) {
    const title = column.group ?? '';
    const last = spans.at(-1);
    if (last !== undefined && last.title === title) last.count += 1;
    else spans.push({ title, count: 1 });
  }
  const cells = spans.map(({ title, count }) =>
    title === '' ? `<td colspan="${count}"></td>` : `<th scope="colgroup" colspan="${count}">${escaped(title)}</th>`,
  );
  return `<tr class="groups">${cells.join('')}</tr>`;
}

/** Class name of a column's header: its alignment only. */
function headerClass(column: Column): string {
  const align = columnAlign(column);
  return align === 'left' ? '' : ` class="${align}"`;
}

/** Class names of a column's cells. */
function columnClass(column: Column): string {
  const names: string[] = [];
  const align = columnAlign(column);
  if (align !== 'left') names.push(align);
  if (column.kind === 'code') names.push('mono');
  if (column.kind === 'number') names.push('num');
  if (column.kind === 'entry') names.push('entry');
  return names.length === 0 ? '' : ` class="${names.join(' ')}"`;
}

/**
 * A table for the page: caption, header with groups and units, a row header in the first key column, marks in words. It
 * scrolls sideways on the screen with its header and key in view, and goes over tiers on paper when it is too wide.
 */
export function tableHtml(table: Table, page: PageFormat): TableHtml {
  const id = elementId(table.id);
  const keys = keyColumnsOf(table);
  const lastKey = keys.at(-1) ?? 0;
  const decimals = columnDecimals(table);
  const caption = `<caption>${escaped(table.title)}</caption>`;
  const note = table.note === undefined ? '' : `<p class="note">${richHtml(table.note)}</p>`;
  if (table.rows.length === 0) {
    return {
      html: `<figure class="table" id="${id}"><figcaption>${escaped(table.title)}</figcaption><p class="empty">${escaped(table.whenEmpty ?? 'None.')}</p>${note}</figure>`,
      style: '',
    };
  }
  const classes = table.columns.map(columnClass);
  const headers = table.columns.map(
    (column) => `<th scope="col"${headerClass(column)}>${escaped(columnHeader(column))}</th>`,
  );
  const rows = table.rows.map((row) => {
    const cells = table.columns.map((column, at) => {
      const content = cellHtml(row.cells[at] ?? null, column, decimals[at] ?? 0);
      const mark =
        at === lastKey && row.mark !== undefined
          ? `<span class="mark ${row.mark.tone}">${escaped(row.mark.text)}</span>`
          : '';
      return at === keys[0]
        ? `<th scope="row"${classes[at] ?? ''}>${content}${mark}</th>`
        : `<td${classes[at] ?? ''}>${content}${mark}</td>`;
    });
    const anchor = row.id === undefined ? '' : ` id="${elementId(row.id)}"`;
    const tone = row.mark === undefined ? '' : ` class="${row.mark.tone}"`;
    return `<tr${anchor}${tone}>${cells.join('')}</tr>`;
  });
  const room = PAGE_CHARACTERS[page.paper][page.orientation];
  const needs = characterNeeds(table);
  const laid = layBands(table, needs, room);
  const isTiered = laid.bands.length > 1;
  const style = screenStyle(needs, id) + (isTiered ? tierStyle(laid, id) : flatStyle(laid, id, room));
  const kind = `${isTiered ? ' tiers' : ''}${keys[0] === 0 ? ' keyed' : ''}${table.columns.some((column) => column.kind === 'entry') ? ' entries' : ''}`;
  return {
    html:
      `<figure class="table${kind}" id="${id}"><div class="scroll" role="region" tabindex="0" aria-label="${escaped(table.title)}">` +
      `<table>${caption}<thead>${groupRow(table)}<tr>${headers.join('')}</tr></thead><tbody>\n${rows.join('\n')}\n</tbody></table></div>${note}</figure>`,
    style,
  };
}
