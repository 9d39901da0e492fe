import type { Finding } from '../../checks/index.ts';
import {
  reviewWalk,
  walkStanding,
  type Comparison,
  type Harm,
  type StandingAnswer,
  type StandingStep,
  type StepKind,
  type StepStatus,
  type WalkElement,
  type WalkStanding,
} from '../../compare/index.ts';
import { mapDigest, platformDigest, type Pairing } from '../../model/index.ts';
import { mono, ref, type Block, type Row, type RowMark, type Section, type SpecDocument } from '../document/index.ts';
import {
  buildParts,
  buildScope,
  cautionText,
  cautionsAt,
  counted,
  fileIdOf,
  findingBlocks,
  markOf,
  pairingFacts,
  recordSection,
  stampOf,
  type SpecIssue,
} from '../record/index.ts';

const KIND_WORDS: Readonly<Record<StepKind, string>> = {
  'interlock-path': 'interlock path',
  'motion-value': 'value of motion control',
  change: 'change',
  finding: 'finding',
  waiver: 'waiver',
};

const HARM_WORDS: Readonly<Record<Harm, string>> = {
  interlock: 'interlock',
  'motion-control': 'motion control',
  stop: 'stop finding',
  'regulated-display': 'regulated display',
  comfort: 'comfort',
  other: 'no function',
};

const STATUS_WORDS: Readonly<Record<StepStatus, string>> = {
  objection: 'objection',
  question: 'question',
  stale: 'answered before the facts changed',
  open: 'nobody has answered',
  agreed: 'agreed',
};

const MARKS: Readonly<Partial<Record<StepStatus, RowMark>>> = {
  objection: { tone: 'stop', text: 'objection' },
  question: { tone: 'caution', text: 'question' },
  stale: { tone: 'caution', text: 'look again' },
};

/**
 * The record of a review: what was put in front of the reviewers, what they answered to which facts, what is still open, the
 * findings and waivers, the digests, and lines for names. `findings` are those of a run over the same pairing; `comparison` is that
 * with the revision passed before, where there is one. It records a review; it does not pass a map.
 * @throws UnknownBuildError when `issue.build` names a build the map does not have.
 */
export function reviewRecord(
  pairing: Pairing,
  findings: readonly Finding[],
  issue: SpecIssue,
  comparison?: Comparison,
): SpecDocument {
  const scope = buildScope(pairing, issue.build);
  const standing = walkStanding(reviewWalk(pairing, findings, comparison), pairing.map.review ?? []);
  return {
    id: fileIdOf(pairing.map.id, 'review', ...buildParts(issue)),
    title: 'Review record',
    subtitle: pairing.map.title,
    stamp: stampOf(pairing, issue),
    facts: [...pairingFacts(pairing, scope), ...comparedWith(comparison), { label: 'Walk', value: summary(standing) }],
    cautions: [
      'This record says what was looked at, by whom, and what they answered. It does not say that the map is right or the vehicle fit for the road.',
      ...cautionsAt('every export').map(({ text }) => text),
      cautionText('safety rows'),
      cautionText('start page'),
    ],
    mark: markOf(findings),
    page: { paper: 'A4', orientation: 'landscape' },
    sections: [
      summarySection(standing, comparison),
      openSection(standing),
      walkSection(standing),
      ...interlockSections(standing),
      {
        id: 'findings',
        title: 'Findings and waivers',
        startsPage: true,
        blocks: findingBlocks(pairing, findings, scope),
      },
      recordSection(pairing, ['Drafted by', 'Reviewed by', 'Second reviewer', 'Released by']),
    ],
  };
}

function comparedWith(comparison: Comparison | undefined): SpecDocument['facts'] {
  if (!comparison) return [{ label: 'Compared with', value: 'no earlier revision' }];
  const { map, host, donor } = comparison.before;
  return [
    { label: 'Compared with', value: `${map.title}, revision ${map.revision}` },
    { label: 'Earlier map, digest', value: [mono(mapDigest(map))] },
    { label: 'Earlier host, digest', value: [mono(platformDigest(host.platform))] },
    { label: 'Earlier donor, digest', value: [mono(platformDigest(donor.platform))] },
  ];
}

function summary({ steps, counts }: WalkStanding): string {
  return `${counted(steps.length, 'step')}: ${counts.agreed} agreed, ${counts.question} questions, ${counts.objection} objections, ${counts.stale} to look at again, ${counts.open} without an answer`;
}

function summarySection(standing: WalkStanding, comparison: Comparison | undefined): Section {
  const { steps } = standing;
  const people = new Set(steps.flatMap(({ answers }) => answers.map(({ answer }) => answer.by)));
  const kinds = [...new Set(steps.map(({ step }) => step.kind))];
  const of = (kind: StepKind, status: StepStatus): number =>
    steps.filter(({ step, status: is }) => step.kind === kind && is === status).length;
  return {
    id: 'summary',
    title: 'What was looked at',
    intro:
      'The walk leads through what can hurt somebody first: every interlock path with what each element’s failure does, every value of motion control with its protection and loss behaviour, everything that changed, every open stop and fix, every waiver. Nothing counts as agreed before a person has said so, and an answer counts for the facts that it was given to.',
    blocks: [
      {
        kind: 'table',
        id: 'walk-counts',
        title: 'Steps by kind and standing',
        columns: [
          { key: 'kind', title: 'Kind of step', kind: 'text', weight: 26, role: 'key' },
          { key: 'steps', title: 'Steps', kind: 'number', weight: 8 },
          { key: 'agreed', title: 'Agreed', kind: 'number', weight: 8 },
          { key: 'question', title: 'Question', kind: 'number', weight: 9 },
          { key: 'objection', title: 'Objection', kind: 'number', weight: 9 },
          { key: 'stale', title: 'Look again', kind: 'number', weight: 10 },
          { key: 'open', title: 'Open', kind: 'number', weight: 8 },
        ],
        rows: kinds.map((kind) => ({
          cells: [
            KIND_WORDS[kind],
            steps.filter(({ step }) => step.kind === kind).length,
            ...(['agreed', 'question', 'objection', 'stale', 'open'] as const).map((status) => of(kind, status)),
          ],
        })),
      },
      {
        kind: 'keyValues',
        entries: [
          { label: 'Answered by', value: people.size === 0 ? 'nobody yet' : [...people].sort().join(', ') },
          {
            label: 'Changes since',
            value:
              comparison === undefined
                ? 'not compared with an earlier revision'
                : `${counted(comparison.changes.length, 'change')} since revision ${comparison.before.map.revision}; findings: ${comparison.findingsNew.length} new, ${comparison.findingsGone.length} gone; ${counted(comparison.waiversLapsed.length, 'waiver')} lapsed`,
          },
          {
            label: 'Answers to other steps',
            value: `${standing.elsewhere.length}: what they were about is gone, or another revision was compared with`,
          },
        ],
      },
    ],
  };
}

function answerWords({ answer, stale }: StandingAnswer): string {
  const text = answer.text === undefined || answer.text === '' ? '' : `: ${answer.text}`;
  return `${answer.verdict}, ${answer.by}, ${answer.on}${stale ? ' (to earlier facts)' : ''}${text}`;
}

function answersCell({ answers }: StandingStep): string {
  return answers.length === 0 ? '–' : answers.map(answerWords).join('\n');
}

function stepRow(standing: StandingStep): Row {
  const { step, status } = standing;
  const mark = MARKS[status];
  return {
    cells: [
      HARM_WORDS[step.harm],
      KIND_WORDS[step.kind],
      [
        step.kind === 'interlock-path' ? ref(step.title, anchorOf(standing)) : step.title,
        ...(step.subjects[0] === undefined ? [] : ['\n', mono(step.subjects[0])]),
      ],
      (step.kind === 'finding' ? step.says.slice(0, 1) : step.says).join(' ') || '–',
      STATUS_WORDS[status],
      answersCell(standing),
    ],
    ...(mark === undefined ? {} : { mark }),
  };
}

const STEP_COLUMNS = [
  { key: 'harm', title: 'Concerns', kind: 'text', weight: 14 },
  { key: 'kind', title: 'Step', kind: 'text', weight: 14 },
  { key: 'title', title: 'Of', kind: 'text', weight: 26, role: 'key' },
  { key: 'says', title: 'What was shown', kind: 'text', weight: 60 },
  { key: 'standing', title: 'Standing', kind: 'text', weight: 14 },
  { key: 'answers', title: 'Answers', kind: 'text', weight: 34 },
] as const;

function openSection({ steps }: WalkStanding): Section {
  return {
    id: 'open-points',
    title: 'Open points',
    blocks: [
      {
        kind: 'table',
        id: 'open',
        title: 'Objections, questions, answers to look at again, steps without an answer',
        columns: STEP_COLUMNS,
        rows: (['objection', 'question', 'stale', 'open'] as const).flatMap((wanted) =>
          steps.filter(({ status }) => status === wanted).map(stepRow),
        ),
        whenEmpty: 'Every step is agreed, to the facts as they are.',
      },
    ],
  };
}

function walkSection({ steps }: WalkStanding): Section {
  return {
    id: 'walk',
    title: 'The walk, step by step',
    startsPage: true,
    blocks: [
      {
        kind: 'table',
        id: 'steps',
        title: 'Every step, in order of harm',
        columns: [...STEP_COLUMNS, { key: 'digest', title: 'Digest of the facts', kind: 'code', weight: 18 }],
        rows: steps.map((standing): Row => {
          const row = stepRow(standing);
          return { ...row, cells: [...row.cells, standing.step.digest.slice(0, 16)] };
        }),
        whenEmpty: 'There is nothing to lead through: the map has no route, no finding and no waiver.',
      },
    ],
  };
}

function anchorOf({ step }: StandingStep): string {
  return fileIdOf('path', step.id);
}

/** One section with a heading and a table for each interlock path. */
function interlockSections({ steps }: WalkStanding): readonly Section[] {
  const paths = steps.filter(({ step }) => step.kind === 'interlock-path');
  if (paths.length === 0) return [];
  return [
    {
      id: 'interlocks',
      title: 'Interlock paths, element by element',
      startsPage: true,
      intro:
        'What the reader has when one element fails, from the documents alone. “Against the safe state” wants an answer: another barrier, a test, or another way. What the documents do not decide reads undecided.',
      blocks: paths.flatMap((standing): Block[] => [
        { kind: 'heading', level: 2, text: standing.step.title, id: anchorOf(standing) },
        { kind: 'paragraph', text: standing.step.says.join(' ') },
        elementTable(standing),
      ]),
    },
  ];
}

const STANDING_WORDS = {
  safe: 'safe state',
  against: 'against the safe state',
  undecided: 'undecided',
} as const;

function elementTable(standing: StandingStep): Block {
  const rows = standing.step.elements.flatMap((element): Row[] =>
    element.failures.length === 0
      ? [{ cells: [element.title, element.ref, role(element), '–', '–', '–'] }]
      : element.failures.map(({ how, effect, standing: is }) => ({
          cells: [element.title, element.ref, role(element), how, effect, STANDING_WORDS[is]],
          ...(is === 'against' ? { mark: { tone: 'caution', text: 'against' } as const } : {}),
        })),
  );
  return {
    kind: 'table',
    id: `${anchorOf(standing)}-elements`,
    title: `Elements of ${standing.step.title}`,
    columns: [
      { key: 'element', title: 'Element', kind: 'text', weight: 26, role: 'key' },
      { key: 'ref', title: 'Reference', kind: 'code', weight: 20 },
      { key: 'role', title: 'Does', kind: 'text', weight: 18 },
      { key: 'how', title: 'Fails by', kind: 'text', weight: 16 },
      { key: 'effect', title: 'What follows', kind: 'text', weight: 56 },
      { key: 'standing', title: 'Against its safe state', kind: 'text', weight: 14 },
    ],
    rows,
    whenEmpty: 'The documents name no element of it.',
  };
}

function role({ role: does, programmable, why }: WalkElement): string {
  return `${does}${programmable ? ', programmable' : ''}: ${why}`;
}
