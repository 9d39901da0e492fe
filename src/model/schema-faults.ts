import type { z } from 'zod';
import type { IntegrityFault } from './integrity.ts';

type Issue = z.core.$ZodIssue;

/** Turns zod's issues into faults in our words: unions give the branch that came nearest, unknown keys name themselves. */
export function faultsOfIssues(issues: readonly Issue[], root: unknown): IntegrityFault[] {
  return issues.flatMap((issue) => faultsOf(issue, [], root));
}

function faultsOf(issue: Issue, prefix: readonly (string | number)[], root: unknown): IntegrityFault[] {
  const path = [...prefix, ...issue.path.map((part) => (typeof part === 'symbol' ? String(part) : part))];
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        path: [...path, key],
        atKey: true,
        message: `the key "${key.slice(0, 80)}" is not known here`,
        mend: 'check its spelling, or take it out: nothing is read past an unknown key',
      }));
    case 'invalid_union': {
      const branches = issue.errors;
      if (branches.length === 0) {
        const discriminator = (issue as { discriminator?: string }).discriminator;
        return [
          {
            path: discriminator ? [...path, discriminator] : path,
            message: `this ${discriminator ?? 'value'} is none of those known`,
            mend: 'see the schema for the choices',
          },
        ];
      }
      const nearest = [...branches].sort((a, b) => distance(a) - distance(b))[0]!;
      return nearest.flatMap((inner) => faultsOf(inner, path, root));
    }
    case 'invalid_type':
      return [
        {
          path,
          message: missing(path, root) ? `"${String(path.at(-1))}" is missing` : `a ${issue.expected} is expected here`,
          mend: missing(path, root) ? `add "${String(path.at(-1))}" (${issue.expected})` : `write a ${issue.expected}`,
        },
      ];
    case 'invalid_value':
      return [
        {
          path,
          message: `this must be ${issue.values
            .map((value) => JSON.stringify(value))
            .slice(0, 40)
            .join(', ')}`,
          mend: 'use one of these',
        },
      ];
    case 'invalid_key':
      return issue.issues.flatMap((inner) => [{ path, atKey: true, message: inner.message, mend: 'rename the key' }]);
    default:
      return [{ path, message: issue.message, mend: null }];
  }
}

/** The branch with the fewest and deepest issues came nearest to fitting. */
function distance(issues: readonly Issue[]): number {
  const deepest = Math.max(0, ...issues.map(({ path }) => path.length));
  const unknown = issues.some(({ code }) => code === 'invalid_type' || code === 'invalid_value') ? 10 : 0;
  return issues.length + unknown - deepest * 5;
}

function missing(path: readonly (string | number)[], root: unknown): boolean {
  let value: unknown = root;
  for (const part of path) {
    if (typeof value !== 'object' || value === null) return true;
    value = (value as Record<string | number, unknown>)[part];
  }
  return value === undefined;
}
