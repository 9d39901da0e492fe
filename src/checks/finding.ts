import { sha256Hex } from '../model/index.ts';
import { SEVERITIES, type Finding } from './rule.ts';

/**
 * What a waiver answers: SHA-256 over rule, subject, values and options of a finding. Wording does not count; a value that
 * changed does.
 */
export function findingDigest(finding: Pick<Finding, 'rule' | 'subject' | 'values' | 'options'>): string {
  const facts = [
    finding.rule,
    finding.subject,
    finding.values.map(({ name, value, unit }) => [name, String(value), unit]),
    finding.options,
  ];
  return sha256Hex(JSON.stringify(facts));
}

const RANK = new Map(SEVERITIES.map((severity, index) => [severity, index]));

/** Worst first, then by rule, subject and message. */
export function compareFindings(a: Finding, b: Finding): number {
  return (
    RANK.get(a.severity)! - RANK.get(b.severity)! ||
    compareText(a.rule, b.rule) ||
    compareText(a.subject, b.subject) ||
    compareText(a.message, b.message)
  );
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

export interface FindingCounts {
  readonly stop: number;
  readonly fix: number;
  readonly look: number;
  /** Findings of any severity which a valid waiver answers; they are in none of the other counts. */
  readonly waived: number;
}

export function countFindings(findings: readonly Finding[]): FindingCounts {
  const counts = { stop: 0, fix: 0, look: 0, waived: 0 };
  for (const { severity, waived } of findings) counts[waived === null ? severity : 'waived'] += 1;
  return counts;
}

/** A name is the same whatever its case and the blanks around it. */
export function samePerson(a: string, b: string): boolean {
  const plain = (name: string): string => name.trim().replaceAll(/\s+/g, ' ').toLowerCase();
  return plain(a) === plain(b);
}
