import type { SpecRequest } from '../../../host/interface/contract.ts';

type Format = SpecRequest['format'];

/** A document for the people who build: what it is, for whom, in which forms. */
export interface SpecCard {
  readonly id: string;
  readonly title: string;
  readonly reader: string;
  readonly holds: string;
  readonly formats: readonly Format[];
  /** The form shown as preview. */
  readonly preview: 'html' | 'dbc' | 'c';
}

export const SPEC_CARDS: readonly SpecCard[] = [
  {
    id: 'wiring',
    title: 'Wiring spec',
    reader: 'for the harness builder',
    holds: 'from–to list, connector and cavity tables, splices, feeds and grounds, materials, labels, test sheet',
    formats: ['pdf', 'html', 'xlsx', 'csv', 'json'],
    preview: 'html',
  },
  {
    id: 'translation',
    title: 'Translation spec',
    reader: 'for the firmware author',
    holds: 'messages received and sent, every route as sentence, table and formula, timing, loss behaviour, protection',
    formats: ['pdf', 'html', 'xlsx', 'csv', 'json'],
    preview: 'html',
  },
  {
    id: 'interface-dbc',
    title: 'DBC of what the interface module sends',
    reader: 'for bench and measuring tools',
    holds: 'one DBC file a bus, with the interface module as sender',
    formats: ['dbc'],
    preview: 'dbc',
  },
  {
    id: 'firmware',
    title: 'Firmware of the interface module',
    reader: 'for the firmware author',
    holds:
      'portable C99 for one build (the first when none is chosen): a unit a side, a small core, a test harness; an archive',
    formats: ['c'],
    preview: 'c',
  },
  {
    id: 'review',
    title: 'Review record',
    reader: 'for the file, and whoever passes the map',
    holds: 'what was looked at in order of harm, who answered what to which facts, open points, findings, waivers',
    formats: ['pdf', 'html', 'json'],
    preview: 'html',
  },
];

export const FORMAT_WORDS: Readonly<Record<Format, string>> = {
  html: 'HTML page',
  pdf: 'PDF',
  xlsx: 'XLSX workbook',
  csv: 'CSV tables',
  json: 'JSON',
  dbc: 'DBC',
  c: 'C source',
};
