import { sha256Hex } from '../../model/index.ts';
import type { StepDraft, WalkStep } from './step.ts';

/**
 * The step with the digest of its facts: rows, elements with their failures, and what changed. Wording around them does not
 * count, as with the digest of a finding.
 */
export function digested({ more, ...step }: StepDraft): WalkStep {
  const facts = [
    step.id,
    step.facts.map(({ name, value, unit }) => [name, String(value), unit]),
    step.elements.map(({ kind, ref, role, programmable, place, sources, failures }) => [
      kind,
      ref,
      role,
      programmable,
      place,
      sources,
      failures.map(({ how, reads, standing }) => [how, reads, standing]),
    ]),
    step.changes.map(({ kind, what, subject, was, fields, from, to }) => [kind, what, subject, was, fields, from, to]),
    more ?? null,
  ];
  return { ...step, digest: sha256Hex(sortedJson(facts)) };
}

/** JSON with the keys of every object in order, so that the same value has one spelling. */
export function sortedJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : inner,
  );
}
