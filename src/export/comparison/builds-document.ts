import type { BuildComparison, BuildDifference, BuildRow } from '../../compare/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { Column, Row, Section, SpecDocument } from '../document/index.ts';
import { cautionText, cautionsAt, counted, fileIdOf, stampOf, type SpecIssue } from '../record/index.ts';

/** Axes as columns, then the counts of each build. */
function matrixColumns(pairing: Pairing): readonly Column[] {
  return [
    ...(pairing.map.options ?? []).map(({ id, title }, at): Column => ({
      key: `o${at}`,
      title: title ?? id,
      kind: 'text',
      weight: 12,
      role: 'key',
    })),
    { key: 'routes', title: 'Routes', kind: 'number', weight: 7 },
    { key: 'needs', title: 'Needs', kind: 'number', weight: 7 },
    { key: 'open', title: 'Not met', kind: 'number', weight: 7 },
    { key: 'conductors', title: 'Conductors', kind: 'number', weight: 10 },
    { key: 'stop', title: 'Stop', kind: 'number', weight: 6 },
    { key: 'fix', title: 'Fix', kind: 'number', weight: 6 },
    { key: 'look', title: 'Look', kind: 'number', weight: 6 },
    { key: 'waived', title: 'Waived', kind: 'number', weight: 7 },
  ];
}

function matrixRow({ combination, routes, needs, needsMet, conductors, counts }: BuildRow): Row {
  return {
    cells: [
      ...combination.values(),
      routes,
      needs,
      needs - needsMet,
      conductors,
      counts.stop,
      counts.fix,
      counts.look,
      counts.waived,
    ],
    ...(counts.stop > 0 ? { mark: { tone: 'stop', text: 'stop' } } : {}),
  };
}

/** Every build of a map with what it holds and what the checks find in it. */
export function buildMatrixDocument(pairing: Pairing, rows: readonly BuildRow[], issue: SpecIssue): SpecDocument {
  return {
    ...frame(pairing, issue, 'builds', 'Builds of the map'),
    sections: [
      {
        id: 'builds',
        title: 'Builds',
        intro:
          'Each row is one build that the options make and the map does not declare impossible. The counts are of what holds in that build.',
        blocks: [
          {
            kind: 'table',
            id: 'matrix',
            title: 'Builds and findings',
            columns: matrixColumns(pairing),
            rows: rows.map(matrixRow),
          },
        ],
      },
    ],
  };
}

/** What differs between two builds: for whoever fits or supports one and knows the other. */
export function buildComparisonDocument(pairing: Pairing, comparison: BuildComparison, issue: SpecIssue): SpecDocument {
  const { first, second, differences, metDifferently } = comparison;
  const kinds = [...new Set(differences.map(({ what }) => what))];
  return {
    ...frame(pairing, issue, fileIdOf('between', first.name, second.name), 'What differs between two builds'),
    subtitle: `${pairing.map.title}: ${first.name}, against ${second.name}`,
    sections: [
      {
        id: 'summary',
        title: 'At a glance',
        blocks: [
          {
            kind: 'keyValues',
            entries: [
              { label: 'First build', value: first.name },
              { label: 'Second build', value: second.name },
              ...kinds.map((what) => {
                const of = differences.filter((entry) => entry.what === what);
                const inFirst = of.filter((entry) => entry.in === 'first').length;
                return {
                  label: `${what}s`,
                  value: `${inFirst} in the first only, ${of.length - inFirst} in the second only`,
                };
              }),
              { label: 'Needs met by other routes', value: counted(metDifferently.length, 'need') },
            ],
          },
        ],
      },
      {
        id: 'met-differently',
        title: 'Needs of both builds that other routes meet',
        blocks: [
          {
            kind: 'table',
            id: 'met',
            title: 'Met by other routes',
            columns: [
              { key: 'need', title: 'Need', kind: 'code', weight: 40, role: 'key' },
              { key: 'first', title: 'In the first by', kind: 'code', weight: 36 },
              { key: 'second', title: 'In the second by', kind: 'code', weight: 36 },
            ],
            rows: metDifferently.map(({ need, first: one, second: other }) => ({
              cells: [need, one.join(', ') || 'nothing', other.join(', ') || 'nothing'],
            })),
          },
        ],
      },
      ...kinds.map((what): Section => differenceSection(what, differences, comparison)),
    ],
  };
}

function differenceSection(
  what: string,
  differences: readonly BuildDifference[],
  { first, second }: BuildComparison,
): Section {
  return {
    id: `only-${fileIdOf(what)}`,
    title: `${what[0]!.toUpperCase()}${what.slice(1)}s of one build only`,
    blocks: [
      {
        kind: 'table',
        id: `table-${fileIdOf(what)}`,
        title: `${what[0]!.toUpperCase()}${what.slice(1)}s`,
        columns: [
          { key: 'in', title: 'Only in', kind: 'text', weight: 30 },
          { key: 'subject', title: 'Subject', kind: 'code', weight: 36, role: 'key' },
          { key: 'words', title: 'What it is', kind: 'text', weight: 70 },
        ],
        rows: differences
          .filter((entry) => entry.what === what)
          .map((entry) => ({
            cells: [entry.in === 'first' ? first.name : second.name, entry.subject, entry.words],
          })),
      },
    ],
  };
}

function frame(pairing: Pairing, issue: SpecIssue, name: string, title: string): Omit<SpecDocument, 'sections'> {
  return {
    id: fileIdOf(pairing.map.id, name),
    title,
    subtitle: pairing.map.title,
    stamp: stampOf(pairing, issue),
    facts: [{ label: 'Pairing', value: `${pairing.map.title} (${pairing.map.id})` }],
    cautions: [...cautionsAt('every export').map(({ text }) => text), cautionText('variants page')],
    mark: null,
    page: { paper: 'A4', orientation: 'landscape' },
  };
}
