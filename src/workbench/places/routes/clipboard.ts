import { isId, type Edit, type Pairing, type Route } from '../../../model/index.ts';
import { ROUTE_COLUMNS, type RouteColumn } from './columns.ts';

/** Rows of a spreadsheet's clipboard: tabs between cells, cells with line breaks or quotes in double quotes. */
export function readTable(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let quoted = false;
  const endCell = (): void => {
    row.push(cell);
    cell = '';
  };
  const endRow = (): void => {
    endCell();
    rows.push(row);
    row = [];
  };
  for (let at = 0; at < text.length; at += 1) {
    const letter = text[at]!;
    if (quoted) {
      if (letter !== '"') cell += letter;
      else if (text[at + 1] === '"') {
        cell += '"';
        at += 1;
      } else quoted = false;
    } else if (letter === '"' && cell === '') quoted = true;
    else if (letter === '\t') endCell();
    else if (letter === '\n') endRow();
    else if (letter !== '\r') cell += letter;
  }
  if (cell !== '' || row.length > 0) endRow();
  return rows;
}

function cellText(text: string): string {
  return /[\t\n\r"]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Routes as a spreadsheet takes them, with a row of titles. A text that a spreadsheet would run as a formula gets an apostrophe. */
export function writeTable(routes: readonly Route[], pairing: Pairing): string {
  const guard = (text: string): string => (/^[=+\-@]/.test(text) && Number.isNaN(Number(text)) ? `'${text}` : text);
  const lines = routes.map((route) =>
    ROUTE_COLUMNS.map((column) => cellText(guard(column.text(route, pairing)))).join('\t'),
  );
  return [ROUTE_COLUMNS.map(({ title }) => title).join('\t'), ...lines].join('\n');
}

export interface Pasted {
  readonly edits: readonly Edit[];
  readonly faults: readonly string[];
  readonly changed: number;
  readonly added: number;
}

/** The columns a row of titles names; null when it is no such row. */
function headings(row: readonly string[]): readonly (RouteColumn | null)[] | null {
  const named = row.map(
    (cell) =>
      ROUTE_COLUMNS.find(({ title, id }) =>
        [title.toLowerCase(), id.toLowerCase()].includes(cell.trim().toLowerCase()),
      ) ?? null,
  );
  return named.some((column) => column?.id === 'id') ? named : null;
}

/**
 * What a pasted table does. With titles (one of them `Route`), rows find their route by its id, and ids not known yet become new
 * routes. Without, cells go down and right from the active cell. A faulty cell is named and left out; the others are pasted.
 */
export function pasteTable(
  table: readonly (readonly string[])[],
  pairing: Pairing,
  shown: readonly Route[],
  active: { readonly row: number; readonly column: number },
): Pasted {
  const titled = table[0] ? headings(table[0]) : null;
  return titled ? pasteById(table.slice(1), titled, pairing) : pasteAt(table, pairing, shown, active);
}

function pasteAt(
  table: readonly (readonly string[])[],
  pairing: Pairing,
  shown: readonly Route[],
  active: { row: number; column: number },
): Pasted {
  const edits: Edit[] = [];
  const faults: string[] = [];
  const changed = new Set<string>();
  table.forEach((cells, down) => {
    const route = shown[active.row + down];
    if (!route) {
      faults.push(`row ${down + 1}: there is no route so far down`);
      return;
    }
    cells.forEach((text, right) => {
      const column = ROUTE_COLUMNS[active.column + right];
      if (column) setCell(route, column, text, pairing, edits, faults, changed);
    });
  });
  return { edits, faults, changed: changed.size, added: 0 };
}

function setCell(
  route: Route,
  column: RouteColumn,
  text: string,
  pairing: Pairing,
  edits: Edit[],
  faults: string[],
  changed: Set<string>,
): void {
  const plain = text.startsWith("'") ? text.slice(1) : text;
  if (plain === column.text(route, pairing)) return;
  if (!column.set) {
    faults.push(`${route.id}: ${column.title} is changed in the route editor`);
    return;
  }
  const result = column.set(route, plain, pairing);
  if ('fault' in result) faults.push(`${route.id}, ${column.title}: ${result.fault}`);
  else if (result.edits.length > 0) {
    edits.push(...result.edits);
    changed.add(route.id);
  }
}

function pasteById(
  rows: readonly (readonly string[])[],
  titled: readonly (RouteColumn | null)[],
  pairing: Pairing,
): Pasted {
  const edits: Edit[] = [];
  const faults: string[] = [];
  const changed = new Set<string>();
  const idAt = titled.findIndex((column) => column?.id === 'id');
  let added = 0;
  for (const cells of rows) {
    const id = (cells[idAt] ?? '').trim();
    if (id === '') continue;
    const known = pairing.routes.get(id);
    const route = known ?? newRoute(id, cells, titled, pairing, faults);
    if (!route) continue;
    if (!known) {
      edits.push({ do: 'insert', in: 'map', path: ['routes'], value: route as never });
      added += 1;
    }
    titled.forEach((column, at) => {
      if (column && column.id !== 'id' && cells[at] !== undefined)
        setCell(route, column, cells[at], pairing, edits, faults, changed);
    });
  }
  return { edits, faults, changed: [...changed].filter((id) => pairing.routes.has(id)).length, added };
}

/** A route that the table brings: it needs an id, sources and a target that exist. */
function newRoute(
  id: string,
  cells: readonly string[],
  titled: readonly (RouteColumn | null)[],
  pairing: Pairing,
  faults: string[],
): Route | null {
  const cell = (name: string): string => cells[titled.findIndex((column) => column?.id === name)]?.trim() ?? '';
  if (!isId(id)) {
    faults.push(`"${id}" cannot be the id of a route`);
    return null;
  }
  const from = cell('from')
    .split(/[\s,;]+/)
    .filter(Boolean);
  const missing = [...from, cell('to')].find((ref) => !pairing.find(ref));
  if (from.length === 0 || missing !== undefined) {
    faults.push(
      `${id}: ${missing === undefined || missing === '' ? 'a new route needs From and To' : `${missing} is not in the platform`}`,
    );
    return null;
  }
  return { id, from, to: cell('to'), carrier: 'interface', steps: [] };
}
