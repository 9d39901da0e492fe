import {
  findRule,
  findingDigest,
  standingOfWaivers,
  type Finding,
  type NamedValue,
  type WaiverStanding,
} from '../../checks/index.ts';
import type { PlacedStep } from './change-steps.ts';
import { compareConcerns, compareText, concernOfFinding, NO_CONCERN, type Concern, type Concerns } from './concern.ts';
import { digested } from './facts-digest.ts';

/** A step for every waiver, whatever it answers now. */
export function waiverSteps(concerns: Concerns, findings: readonly Finding[]): readonly PlacedStep[] {
  return standingOfWaivers(concerns.pairing.map.waivers ?? [], findings).map(({ waiver, standing }) => {
    const answered = answeredBy(standing);
    const concern = worst([
      concerns.ofSubject(waiver.subject),
      ...answered.map((one) => concernOfFinding(concerns, one)),
    ]);
    const { rule, subject, reason, by, secondBy, on } = waiver;
    return {
      concern,
      step: digested({
        id: `waiver:${rule} ${subject}`,
        kind: 'waiver',
        harm: concern.harm,
        functionId: concern.functionId,
        title: `Waiver: ${findRule(rule)?.title ?? rule}`,
        says: [STANDING_WORDS[standing.kind], ...answered.map(({ message }) => message)],
        facts: [
          row('rule', rule),
          row('subject', subject),
          row('standing', standing.kind),
          row('reason', reason),
          row('by', by),
          row('second name', secondBy ?? 'none'),
          row('on', on),
          ...answered.flatMap(({ values }) => values),
        ],
        elements: [],
        changes: [],
        findings: answered,
        waiver,
        subjects: [subject],
        more: answered.map(findingDigest),
      }),
    };
  });
}

function row(name: string, value: string): NamedValue {
  return { name, value, unit: '' };
}

function worst(concerns: readonly Concern[]): Concern {
  return concerns.reduce((found, one) => (compareConcerns(one, found) < 0 ? one : found), NO_CONCERN);
}

function answeredBy(standing: WaiverStanding): readonly Finding[] {
  switch (standing.kind) {
    case 'answers':
    case 'one-name':
      return [standing.finding];
    case 'lapsed':
      return standing.now;
    case 'spent':
      return [];
  }
}

const STANDING_WORDS: Readonly<Record<WaiverStanding['kind'], string>> = {
  answers: 'It answers a finding, which does not count as open.',
  'one-name': 'It does not count: a stop wants two names.',
  lapsed: 'It has lapsed: the facts which it answered have changed.',
  spent: 'It answers nothing any more: the rule finds nothing there.',
};

/** A step for every open stop and fix; findings of one rule about one subject stand together. */
export function findingSteps(concerns: Concerns, findings: readonly Finding[]): readonly PlacedStep[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    if (finding.waived !== null || finding.severity === 'look') continue;
    const id = `finding:${finding.rule} ${finding.subject}`;
    const group = groups.get(id);
    if (group) group.push(finding);
    else groups.set(id, [finding]);
  }
  return [...groups].map(([id, group]) => {
    const sorted = [...group].sort((a, b) => compareText(findingDigest(a), findingDigest(b)));
    const concern = worst(sorted.map((finding) => concernOfFinding(concerns, finding)));
    const [{ rule, severity, subject, why }] = sorted as [Finding];
    return {
      concern,
      step: digested({
        id,
        kind: 'finding',
        harm: concern.harm,
        functionId: concern.functionId,
        title: findRule(rule)?.title ?? rule,
        says: [...sorted.map(({ message }) => message), why],
        facts: [
          row('severity', severity),
          row('rule', rule),
          row('subject', subject),
          ...sorted.flatMap(({ values, options }) => [
            ...values,
            ...(options.length === 0 ? [] : [row('builds', options.join('; '))]),
          ]),
        ],
        elements: [],
        changes: [],
        findings: sorted,
        waiver: null,
        subjects: [subject],
        more: sorted.map(findingDigest),
      }),
    };
  });
}
