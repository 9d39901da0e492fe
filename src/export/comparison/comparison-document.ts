import { createContext, newMemory, type Finding } from '../../checks/index.ts';
import type { Change, Comparison } from '../../compare/index.ts';
import { findFunction, mapDigest, platformDigest, type Pairing } from '../../model/index.ts';
import { mono, type Block, type Row, type Section, type SpecDocument, type Table } from '../document/index.ts';
import { cautionText, cautionsAt, counted, fileIdOf, stampOf, type SpecIssue } from '../record/index.ts';
import { CHANGE_COLUMNS, changeRow } from './change-rows.ts';

/**
 * Two revisions compared by meaning, as a document for the colleague who passed the earlier one: what changed, in order of harm, what
 * follows from it, and which findings are new or gone. `issue` is that of the later revision.
 */
export function comparisonDocument(comparison: Comparison, issue: SpecIssue): SpecDocument {
  const { before, after, changes } = comparison;
  const groups = grouped(comparison);
  return {
    id: fileIdOf(after.map.id, 'compared', before.map.revision, after.map.revision),
    title: 'Comparison of two revisions',
    subtitle: after.map.title,
    stamp: stampOf(after, issue),
    facts: [
      ...revisionFacts('Earlier', before),
      ...revisionFacts('Later', after),
      { label: 'Content', value: summary(comparison) },
    ],
    cautions: [...cautionsAt('every export').map(({ text }) => text), cautionText('safety rows')],
    mark: null,
    page: { paper: 'A4', orientation: 'landscape' },
    sections: [
      {
        id: 'summary',
        title: 'At a glance',
        intro:
          changes.length === 0
            ? 'Nothing differs in meaning. The order and layout of the files do not count.'
            : 'Compared by meaning: the order and layout of the files do not count. What is listed here is what differs, and what follows from it as far as it can be computed; that nothing follows is not said.',
        blocks: [
          {
            kind: 'keyValues',
            entries: [
              ...groups.map(({ title, changes: list }) => ({ label: title, value: counted(list.length, 'change') })),
              { label: 'Findings', value: findingCounts(comparison) },
              { label: 'Needs', value: `${comparison.needsNew.length} new, ${comparison.needsGone.length} gone` },
            ],
          },
        ],
      },
      ...groups.flatMap((group): Section[] =>
        group.changes.length === 0
          ? []
          : [{ id: group.id, title: group.title, intro: group.intro, blocks: [changeTable(group)] }],
      ),
      findingsSection(comparison),
    ],
  };
}

function revisionFacts(word: string, { map, host, donor }: Pairing): SpecDocument['facts'] {
  return [
    { label: `${word} revision`, value: `${map.title}, revision ${map.revision}` },
    { label: `${word} map, digest`, value: [mono(mapDigest(map))] },
    { label: `${word} host, digest`, value: [mono(platformDigest(host.platform))] },
    { label: `${word} donor, digest`, value: [mono(platformDigest(donor.platform))] },
  ];
}

function findingCounts({ findingsNew, findingsGone, findingsStill, waiversLapsed }: Comparison): string {
  return `${findingsNew.length} new, ${findingsGone.length} gone, ${findingsStill.length} still open; ${counted(waiversLapsed.length, 'waiver')} lapsed`;
}

function summary(comparison: Comparison): string {
  return `${counted(comparison.changes.length, 'change')}; findings: ${findingCounts(comparison)}`;
}

interface Group {
  readonly id: string;
  readonly title: string;
  readonly intro: string;
  readonly changes: readonly Change[];
}

const RECORDS: ReadonlySet<string> = new Set(['waiver', 'review answer', 'sign-off', 'document', 'map', 'platform']);
const HARNESS: ReadonlySet<string> = new Set([
  'conductor',
  'circuit',
  'added connector',
  'harness part',
  'harness node',
  'harness segment',
]);
const PLATFORM: ReadonlySet<string> = new Set([
  'bus',
  'module',
  'message',
  'signal',
  'wire',
  'connector',
  'feed',
  'ground',
]);

/** The changes in order of harm: those of interlocks and motion first, records last. */
function grouped(comparison: Comparison): readonly Group[] {
  const harmful = harmOf(comparison);
  const rest = comparison.changes.filter((change) => !harmful.has(change));
  const those = (wanted: (change: Change) => boolean): Change[] => rest.filter(wanted);
  return [
    {
      id: 'harm',
      title: 'Routes of interlocks and motion control',
      intro: 'A mistake in one of these can hurt somebody. Each must be examined and proved on the vehicle.',
      changes: comparison.changes.filter((change) => harmful.has(change)),
    },
    {
      id: 'routes',
      title: 'Other routes',
      intro: 'Displays, comfort, and what has no function named.',
      changes: those(({ what }) => what === 'route'),
    },
    {
      id: 'pairing',
      title: 'Interface modules, options, what is left out',
      intro: 'What the interface modules send, which builds there are, which modules stay.',
      changes: those(({ what }) => what !== 'route' && !RECORDS.has(what) && !HARNESS.has(what) && !PLATFORM.has(what)),
    },
    {
      id: 'platforms',
      title: 'Platforms',
      intro: 'What the descriptions of the two vehicles say differently.',
      changes: those(({ what }) => PLATFORM.has(what)),
    },
    {
      id: 'harness',
      title: 'Added harness',
      intro: 'Conductors that come, go or are built differently, whatever caused it, and the harness as drawn.',
      changes: those(({ what }) => HARNESS.has(what)),
    },
    {
      id: 'records',
      title: 'Records',
      intro: 'Titles, documents, waivers, review answers, sign-offs.',
      changes: those(({ what }) => RECORDS.has(what)),
    },
  ];
}

/** Changes of routes whose function is an interlock or controls motion, before or after. */
function harmOf({ before, after, changes }: Comparison): ReadonlySet<Change> {
  const contexts = [before, after].map((pairing) => createContext(pairing, newMemory(pairing)));
  const harms = (subject: string): boolean =>
    contexts.some((context) => {
      const route = context.pairing.routes.get(subject.slice('route:'.length));
      const entry = route && findFunction(context.functionIdOf(route) ?? '');
      if (!entry) return false;
      const { criticality } = context.classOf(entry);
      return criticality === 'interlock' || criticality === 'motion-control';
    });
  return new Set(
    changes.filter(({ what, subject, was }) => what === 'route' && (harms(subject) || (was !== null && harms(was)))),
  );
}

function changeTable({ id, title, changes }: Group): Table {
  return {
    kind: 'table',
    id: `changes-${id}`,
    title: `Changes: ${title.toLowerCase()}`,
    columns: CHANGE_COLUMNS,
    rows: changes.map(changeRow),
  };
}

function findingTable(id: string, title: string, findings: readonly Finding[], whenEmpty: string): Table {
  return {
    kind: 'table',
    id,
    title,
    columns: [
      { key: 'severity', title: 'Severity', kind: 'text', weight: 8 },
      { key: 'rule', title: 'Rule', kind: 'code', weight: 26, role: 'key' },
      { key: 'subject', title: 'Subject', kind: 'code', weight: 26 },
      { key: 'message', title: 'What was found', kind: 'text', weight: 60 },
      { key: 'builds', title: 'Builds', kind: 'text', weight: 16 },
    ],
    rows: findings.map(({ severity, rule, subject, message, options }): Row => ({
      cells: [severity, rule, subject, message, options.length === 0 ? 'all' : options.join(' or ')],
      ...(severity === 'look' ? {} : { mark: { tone: severity === 'stop' ? 'stop' : 'caution', text: severity } }),
    })),
    whenEmpty,
  };
}

function listTable(id: string, title: string, column: string, entries: readonly string[]): Block {
  return {
    kind: 'table',
    id,
    title,
    columns: [{ key: 'subject', title: column, kind: 'code', weight: 80, role: 'key' }],
    rows: entries.map((entry) => ({ cells: [entry] })),
    whenEmpty: 'None.',
  };
}

function findingsSection(comparison: Comparison): Section {
  const { findingsNew, findingsGone, findingsStill, waiversLapsed, needsNew, needsGone } = comparison;
  return {
    id: 'findings',
    title: 'Findings and needs',
    startsPage: true,
    intro:
      'Both revisions were checked with the same rules. A finding counts as new when its facts are new, so one whose values changed stands under new and under gone.',
    blocks: [
      findingTable('findings-new', 'Findings new', findingsNew, 'No finding is new.'),
      findingTable('findings-gone', 'Findings gone', findingsGone, 'No finding is gone.'),
      findingTable('findings-still', 'Findings still open', findingsStill, 'No finding was open before and still is.'),
      listTable('waivers-lapsed', 'Waivers that answer nothing any more', 'Rule and subject', waiversLapsed),
      listTable('needs-new', 'Needs new', 'Need', needsNew),
      listTable('needs-gone', 'Needs gone', 'Need', needsGone),
    ],
  };
}
