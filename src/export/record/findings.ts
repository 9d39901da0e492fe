import { standingOfWaivers, type Finding, type Severity } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { Block, Column, Row, RowMark, Table } from '../document/index.ts';
import type { BuildScope } from './builds.ts';
import { counted } from './words.ts';

const FINDING_COLUMNS: readonly Column[] = [
  { key: 'severity', title: 'Severity', kind: 'text', weight: 8 },
  { key: 'rule', title: 'Rule', kind: 'code', weight: 26, role: 'key' },
  { key: 'subject', title: 'Subject', kind: 'code', weight: 26 },
  { key: 'message', title: 'What was found', kind: 'text', weight: 46 },
  { key: 'values', title: 'Values', kind: 'text', weight: 24 },
  { key: 'builds', title: 'Builds', kind: 'text', weight: 16 },
];

const WAIVER_COLUMNS: readonly Column[] = [
  { key: 'rule', title: 'Rule', kind: 'code', weight: 26, role: 'key' },
  { key: 'subject', title: 'Subject', kind: 'code', weight: 24 },
  { key: 'standing', title: 'Standing', kind: 'text', weight: 16 },
  { key: 'message', title: 'What was found', kind: 'text', weight: 34 },
  { key: 'reason', title: 'Reason given', kind: 'text', weight: 34 },
  { key: 'by', title: 'By', kind: 'text', weight: 16 },
  { key: 'on', title: 'On', kind: 'code', weight: 10 },
];

/** Findings which concern the builds covered and which nobody has answered. */
export function openFindings(findings: readonly Finding[], scope: BuildScope): readonly Finding[] {
  return findings.filter(({ waived, mask }) => waived === null && scope.holds(mask));
}

/** What the checks found and nobody has answered, and what somebody has, with the name and the reason. */
export function findingBlocks(pairing: Pairing, findings: readonly Finding[], scope: BuildScope): readonly Block[] {
  const open = openFindings(findings, scope);
  const count = (severity: Severity): number => open.filter((finding) => finding.severity === severity).length;
  return [
    {
      kind: 'paragraph',
      text: `${counted(count('stop'), 'finding')} of severity stop, ${count('fix')} of fix, ${count('look')} of look open. A check says what it looked at; that it found nothing does not show that the vehicle is in order.`,
    },
    {
      kind: 'table',
      id: 'open-findings',
      title: 'Findings still open',
      columns: FINDING_COLUMNS,
      rows: open.map((finding) => findingRow(finding, scope)),
      whenEmpty: 'No finding is open in the builds covered.',
    },
    waiverTable(pairing, findings),
  ];
}

function findingRow(finding: Finding, scope: BuildScope): Row {
  const { rule, severity, subject, message, values, mask } = finding;
  return {
    cells: [
      severity,
      rule,
      subject,
      message,
      values.map(({ name, value, unit }) => `${name} ${value}${unit === '' ? '' : ` ${unit}`}`).join('; ') || '–',
      scope.words(mask),
    ],
    ...(severity === 'look'
      ? {}
      : { mark: { tone: severity === 'stop' ? 'stop' : 'caution', text: severity } as RowMark }),
  };
}

/** Every waiver of the map, with what it answers now. */
function waiverTable(pairing: Pairing, findings: readonly Finding[]): Table {
  const rows = standingOfWaivers(pairing.map.waivers ?? [], findings).map(({ waiver, standing }): Row => {
    const said =
      standing.kind === 'answers'
        ? 'answers its finding'
        : standing.kind === 'one-name'
          ? 'lacks the second name'
          : standing.kind === 'lapsed'
            ? 'lapsed: the facts changed'
            : 'spent: nothing is found any more';
    return {
      cells: [
        waiver.rule,
        waiver.subject,
        said,
        standing.kind === 'answers' || standing.kind === 'one-name' ? standing.finding.message : '–',
        waiver.reason,
        waiver.secondBy === undefined ? waiver.by : `${waiver.by}; ${waiver.secondBy}`,
        waiver.on,
      ],
      ...(standing.kind === 'answers' ? {} : { mark: { tone: 'caution', text: 'does not count' } as RowMark }),
    };
  });
  return {
    kind: 'table',
    id: 'waivers',
    title: 'Findings answered by a waiver',
    columns: WAIVER_COLUMNS,
    rows,
    whenEmpty: 'The map has no waiver.',
  };
}
