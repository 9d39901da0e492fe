import type { NamedValue } from '../../checks/index.ts';
import { findFunction } from '../../model/index.ts';
import type { Change } from '../change.ts';
import type { Comparison } from '../compare.ts';
import { compareConcerns, compareText, NO_CONCERN, type Concern, type Concerns } from './concern.ts';
import { digested, sortedJson } from './facts-digest.ts';
import type { WalkStep } from './step.ts';

/** A step and whom it concerns, for the order of the walk. */
export interface PlacedStep {
  readonly step: WalkStep;
  readonly concern: Concern;
}

/** Changes that say little one by one and stand together: layout of the harness, facts of the map, a message with its signals. */
function groupOf({ what, subject }: Change): string {
  switch (what) {
    case 'circuit':
      return 'change:circuits';
    case 'conductor':
      return 'change:conductors';
    case 'harness node':
    case 'harness segment':
    case 'added connector':
      return 'change:harness';
    case 'map':
      return 'change:map';
    case 'message':
    case 'signal':
      return `change:${subject.split('.')[0]!}`;
    case 'left-out':
    case 'function class':
    case 'waiver':
      return `change:${what}:${subject}`;
    default:
      return `change:${subject}`;
  }
}

const GROUP_TITLES: Readonly<Record<string, string>> = {
  'change:circuits': 'What was decided about circuits',
  'change:conductors': 'Conductors of the added harness',
  'change:harness': 'Layout of the added harness',
  'change:map': 'The map itself: title, revision, what it requires',
};

/** The record of a review is no thing to review; a waiver that is there has a step of its own. */
function isReviewed({ what, kind }: Change): boolean {
  if (what === 'review answer' || what === 'sign-off') return false;
  return what !== 'waiver' || kind === 'removed';
}

/** A step for everything that differs from the base revision. */
export function changeSteps(comparison: Comparison, after: Concerns, before: Concerns): readonly PlacedStep[] {
  const groups = new Map<string, Change[]>();
  for (const change of comparison.changes.filter(isReviewed)) {
    const key = groupOf(change);
    const group = groups.get(key);
    if (group) group.push(change);
    else groups.set(key, [change]);
  }
  return [...groups].map(([id, changes]) => {
    const sorted = [...changes].sort(compareChanges);
    const concern = sorted
      .flatMap((change) => concernsOfChange(change, after, before))
      .reduce((worst, one) => (compareConcerns(one, worst) < 0 ? one : worst), NO_CONCERN);
    const several = sorted.length > 1;
    return {
      concern,
      step: digested({
        id,
        kind: 'change',
        harm: concern.harm,
        functionId: concern.functionId,
        title: titleOf(id, sorted, concern),
        says: sorted.flatMap(({ subject, consequences }) =>
          consequences.map((words) => (several ? `${subject}: ${words}` : capital(words))),
        ),
        facts: sorted.flatMap((change) => changeFacts(change, several)),
        elements: [],
        changes: sorted,
        findings: [],
        waiver: null,
        // Where no field tells what differs, what follows from it does.
        more: sorted.map(({ fields, consequences, kind }) =>
          fields.length === 0 && kind === 'changed' ? consequences : [],
        ),
        subjects: [...new Set(sorted.map(({ subject }) => subject))],
      }),
    };
  });
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function compareChanges(a: Change, b: Change): number {
  return compareText(a.subject, b.subject) || compareText(a.what, b.what) || compareText(sortedJson(a), sortedJson(b));
}

const SAYS_ITS_FUNCTION: ReadonlySet<string> = new Set(['route', 'wire', 'left-out', 'function class']);

function titleOf(id: string, changes: readonly Change[], { functionId }: Concern): string {
  const group = GROUP_TITLES[id];
  if (group !== undefined) return `${group}: ${countsText(changes)}`;
  const [{ kind, what, subject }] = changes as [Change];
  if (changes.length > 1) return `Message ${subject.split('.')[0]!}: ${countsText(changes)}`;
  const about = findFunction(functionId ?? undefined)?.title;
  return `${capital(what)} ${kind}${about === undefined || !SAYS_ITS_FUNCTION.has(what) ? '' : `: ${about}`}`;
}

function countsText(changes: readonly Change[]): string {
  return (['added', 'removed', 'renamed', 'changed'] as const)
    .map((kind) => [changes.filter((change) => change.kind === kind).length, kind] as const)
    .filter(([count]) => count > 0)
    .map(([count, kind]) => `${count} ${kind}`)
    .join(', ');
}

function concernsOfChange(change: Change, after: Concerns, before: Concerns): readonly Concern[] {
  if (change.what === 'map') return [];
  if (change.what === 'fates')
    return change.fields.flatMap(({ path }) => {
      const module = `module:${path.replace(/^fates\./, '')}`;
      return [after.ofSubject(module), before.ofSubject(module)];
    });
  const subject =
    change.what === 'circuit'
      ? change.subject.replace(/^harness:/, 'circuit:')
      : change.what === 'waiver'
        ? change.subject.slice(change.subject.indexOf(' ') + 1)
        : change.subject;
  return [after.ofSubject(subject), before.ofSubject(change.was ?? subject)];
}

/** Longest text of a value in a row; the digest takes the whole. */
const LONGEST = 400;

function changeFacts(change: Change, several: boolean): readonly NamedValue[] {
  const prefix = several ? `${change.subject} ` : '';
  const row = (name: string, value: string): NamedValue => ({
    name: `${prefix}${name}`.trim(),
    value: value.length > LONGEST ? `${value.slice(0, LONGEST)}…` : value,
    unit: '',
  });
  if (change.kind === 'added' || change.kind === 'removed') {
    if (change.from === undefined && change.to === undefined) return [row(change.kind, change.consequences.join('; '))];
    const whole = change.kind === 'added' ? change.to : change.from;
    return several
      ? [row(change.kind, said(whole))]
      : Object.entries(whole ?? {}).map(([key, value]) => row(key, said(value)));
  }
  const renamed = change.kind === 'renamed' ? [row('name', `${change.was ?? '?'} → ${change.subject}`)] : [];
  return [
    ...renamed,
    ...change.fields.map(({ path, from, to }) => row(path === '' ? 'whole' : path, `${said(from)} → ${said(to)}`)),
  ];
}

/** A value of a document as text for people: no quotes around plain words, nothing for what is not there. */
export function said(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value !== 'object' || value === null) return String(value);
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map(said).join(', ');
  return Object.entries(value)
    .filter(([, inner]) => inner !== undefined)
    .map(([key, inner]) => `${key} ${typeof inner === 'object' && inner !== null ? `(${said(inner)})` : said(inner)}`)
    .join('; ');
}
