import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { check, type Finding } from '../../src/checks/index.ts';
import { renderJson, type SpecDocument, type SpecIssue } from '../../src/export/index.ts';
import { CrossloomMap, Platform, pair, type Pairing } from '../../src/model/index.ts';

/** A row of a table as a program reads it: cells by column key. */
export type Cells = Readonly<Record<string, string | number | boolean | null>>;
export interface ReadTable {
  readonly id: string;
  readonly columns: readonly { readonly key: string; readonly kind: string; readonly unit?: string }[];
  readonly rows: readonly { readonly id?: string; readonly mark?: { readonly text: string }; readonly cells: Cells }[];
}

interface ReadBlock {
  readonly kind: string;
  readonly id?: string;
}

/** The machine-readable form of a document, parsed again: what a reader outside the program has. */
export function tablesIn(document: SpecDocument): ReadonlyMap<string, ReadTable> {
  const read = JSON.parse(renderJson(document)) as { sections: { blocks: ReadBlock[] }[] };
  const tables = read.sections.flatMap(({ blocks }) => blocks.filter(({ kind }) => kind === 'table'));
  return new Map(tables.map((table) => [table.id!, table as unknown as ReadTable]));
}

export function rowsOf(tables: ReadonlyMap<string, ReadTable>, id: string): readonly Cells[] {
  const table = tables.get(id);
  if (!table) throw new Error(`the document has no table ${id}; it has ${[...tables.keys()].join(', ')}`);
  return table.rows.map(({ cells }) => cells);
}

const samples = resolve(import.meta.dirname, '../../sample-maps');
const json = (name: string): unknown => JSON.parse(readFileSync(resolve(samples, name), 'utf8'));

/** The sample pairing, its map changed. */
export function samplePairing(change: (map: CrossloomMap) => CrossloomMap = (map) => map): Pairing {
  return pair(
    change(CrossloomMap.parse(json('ft6-orrin32.map.json'))),
    Platform.parse(json('halden-ft6.platform.json')),
    Platform.parse(json('orrin-32.platform.json')),
  );
}

export const ISSUE: SpecIssue = {
  today: '2026-01-31',
  version: '0.0.0',
  digest: 'a'.repeat(64),
  arrangement: 'sheets',
};

export function findingsOf(pairing: Pairing): readonly Finding[] {
  return check(pairing).findings;
}

/** A finding of severity stop, as a check would hand it over. */
export const STOP: Finding = {
  rule: 'routing/not-hard-wired',
  severity: 'stop',
  subject: 'route:park-neutral',
  message: 'for the test',
  why: 'for the test',
  values: [],
  options: [],
  mask: 1n,
  mend: null,
  waived: null,
};
