import type { Finding, Severity } from '../../../checks/index.ts';
import { SEVERITIES } from '../../../checks/index.ts';
import type { OptionSpace } from '../../../model/index.ts';

/** Which findings are shown, and which of them is current. */
export interface FindingsView {
  readonly shows: 'open' | 'waived' | 'waivers';
  /** Group of rules: the part of a rule's id before the slash; '' for all. */
  readonly group: string;
  /** Id of a function; '' for all. */
  readonly function: string;
  readonly text: string;
  /** A choice for some of the option axes. */
  readonly build: Readonly<Record<string, string>>;
  readonly current: string | null;
  readonly marked: ReadonlySet<string>;
}

export const FIRST_VIEW: FindingsView = {
  shows: 'open',
  group: '',
  function: '',
  text: '',
  build: {},
  current: null,
  marked: new Set(),
};

/** A finding with a key of its own and what the list says of its subject. */
export interface ListedFinding {
  readonly key: string;
  readonly finding: Finding;
  readonly title: string;
  readonly function: string | null;
  /** All that the text filter looks at, in lower case. */
  readonly searched: string;
}

export function groupOf(ruleId: string): string {
  return ruleId.slice(0, ruleId.indexOf('/'));
}

/** Findings with keys that stay the same over a re-check as long as what they say does. */
export function listFindings(
  findings: readonly Finding[],
  wordsOf: (subject: string) => { readonly title: string; readonly function: string | null },
): readonly ListedFinding[] {
  const seen = new Map<string, number>();
  return findings.map((finding) => {
    const base = `${finding.rule} ${finding.subject} ${finding.message}`;
    const count = (seen.get(base) ?? 0) + 1;
    seen.set(base, count);
    const { title, function: functionId } = wordsOf(finding.subject);
    return {
      key: count === 1 ? base : `${base} ${count}`,
      finding,
      title,
      function: functionId,
      searched: `${finding.rule} ${finding.subject} ${finding.message} ${title} ${functionId ?? ''}`.toLowerCase(),
    };
  });
}

/** The findings that pass the filters; `mask` is that of the builds asked for. */
export function filterFindings(
  listed: readonly ListedFinding[],
  { shows, group, function: functionId, text, build }: FindingsView,
  options: OptionSpace,
): readonly ListedFinding[] {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  const chosen = Object.entries(build).filter(([, choice]) => choice !== '');
  const mask =
    chosen.length === 0
      ? options.all
      : options.maskOf(Object.fromEntries(chosen.map(([axis, choice]) => [axis, [choice]])));
  return listed.filter(
    (entry) =>
      (entry.finding.waived !== null) === (shows === 'waived') &&
      (group === '' || groupOf(entry.finding.rule) === group) &&
      (functionId === '' || entry.function === functionId) &&
      (chosen.length === 0 || (entry.finding.mask & mask) !== 0n) &&
      words.every((word) => entry.searched.includes(word)),
  );
}

/** Findings of one severity and one rule. */
export interface RuleBlock {
  readonly severity: Severity;
  readonly rule: string;
  readonly entries: readonly ListedFinding[];
}

/** Grouped by severity, worst first, then by rule in the order of the findings. */
export function blocksOf(listed: readonly ListedFinding[]): readonly RuleBlock[] {
  return SEVERITIES.flatMap((severity) => {
    const rules = new Map<string, ListedFinding[]>();
    for (const entry of listed) {
      if (entry.finding.severity !== severity) continue;
      const known = rules.get(entry.finding.rule);
      if (known) known.push(entry);
      else rules.set(entry.finding.rule, [entry]);
    }
    return [...rules].map(([rule, entries]) => ({ severity, rule, entries }));
  });
}

/**
 * The entry to show as current: the same finding; else one of the same rule and subject (it says something else now); else
 * the one that took its position.
 */
export function currentOf(entries: readonly ListedFinding[], key: string | null, lastAt: number): ListedFinding | null {
  if (entries.length === 0) return null;
  const same = entries.find((entry) => entry.key === key);
  if (same) return same;
  const alike =
    key === null ? undefined : entries.find(({ finding }) => key.startsWith(`${finding.rule} ${finding.subject} `));
  return alike ?? entries[Math.min(Math.max(lastAt, 0), entries.length - 1)]!;
}

/** How often each rule group and function occurs, for the filters. */
export function countBy(
  listed: readonly ListedFinding[],
  keyOf: (entry: ListedFinding) => string | null,
): readonly (readonly [string, number])[] {
  const counts = new Map<string, number>();
  for (const entry of listed) {
    const key = keyOf(entry);
    if (key !== null) counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].sort(([a], [b]) => (a < b ? -1 : 1));
}
