import type { Finding } from '../../checks/index.ts';
import type { Pairing } from '../../model/index.ts';
import type { Mark, Stamp } from '../document/index.ts';

/** What one issue of a spec is made with, beside the pairing and its findings. */
export interface SpecIssue {
  /** The day printed on every page: `2026-01-31`. */
  readonly today: string;
  /** Version of the program. */
  readonly version: string;
  /** Digest of the map in full, 64 hexadecimal digits. */
  readonly digest: string;
  /** A choice for some or all option axes; an axis that is not named stays open. Absent: every build. */
  readonly build?: Readonly<Record<string, string>>;
  /**
   * `pages` (default): a message, a connector, a route after another, as people read. `sheets`: one table for all of them,
   * its first column naming which, as spreadsheets and programs want it.
   */
  readonly arrangement?: 'pages' | 'sheets';
}

export function stampOf(pairing: Pairing, issue: SpecIssue): Stamp {
  return {
    revision: pairing.map.revision,
    digest: issue.digest,
    date: issue.today,
    tool: `Crossloom ${issue.version}`,
  };
}

/** The mark that stands on every page while a `stop` finding is open, in whatever build; null when none is. */
export function markOf(findings: readonly Finding[]): Mark | null {
  const stops = findings.filter(({ severity, waived }) => severity === 'stop' && waived === null);
  if (stops.length === 0) return null;
  const rules = [...new Set(stops.map(({ rule }) => rule))];
  const named = rules.length > 3 ? `${rules.slice(0, 3).join(', ')} and ${rules.length - 3} more` : rules.join(', ');
  return {
    text: 'NOT FOR BUILD',
    reason: `${stops.length === 1 ? 'One finding' : `${stops.length} findings`} of severity stop open: ${named}.`,
  };
}

/** The builds chosen, as parts of a file name: a pack for one build must not overwrite that for all. */
export function buildParts({ build }: SpecIssue): readonly string[] {
  return Object.entries(build ?? {}).map(([axis, choice]) => `${axis}-${choice}`);
}

/** A file id: lower-case letters and digits joined by hyphens. */
export function fileIdOf(...parts: readonly string[]): string {
  const text = parts
    .join('-')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '');
  return text === '' ? 'map' : text.slice(0, 120).replace(/-+$/, '');
}
