import { describe, expect, it } from 'vitest';
import { applyEdits, pair, type PairingDocuments } from '../../src/model/index.ts';
import { RULES } from '../../src/checks/rules/index.ts';
import { check } from '../../src/checks/run.ts';
import type { Example } from '../../src/checks/rule.ts';

function run({ map, host, donor }: PairingDocuments) {
  return check(pair(map, host, donor)).findings;
}

function subjectsOf(example: Example, rule: string): string[] {
  return run(example.documents)
    .filter((finding) => finding.rule === rule)
    .map(({ subject }) => subject)
    .sort();
}

describe.each(RULES.map((rule) => ({ id: rule.id, rule })))('$id', ({ rule }) => {
  it('finds in its failing example exactly what it says it finds', () => {
    const example = rule.examples.failing();
    expect(example.expect.length).toBeGreaterThan(0);
    expect(subjectsOf(example, rule.id)).toEqual([...example.expect].sort());
  });

  it('finds nothing in its passing example', () => {
    const example = rule.examples.passing();
    expect(example.expect).toEqual([]);
    expect(subjectsOf(example, rule.id)).toEqual([]);
  });

  it('has no other rule stop the failing example unless it says so, nor the passing one', () => {
    const example = rule.examples.failing();
    const stops = (documents: PairingDocuments) => [
      ...new Set(
        run(documents)
          .filter(({ severity, waived }) => severity === 'stop' && waived === null)
          .map((finding) => finding.rule),
      ),
    ];
    expect(
      stops(example.documents)
        .filter((id) => id !== rule.id)
        .sort(),
    ).toEqual([...(example.alsoStops ?? [])].sort());
    const passing = rule.examples.passing();
    expect(stops(passing.documents).sort()).toEqual([...(passing.alsoStops ?? [])].sort());
  });

  it('offers mends that mend', () => {
    const { documents } = rule.examples.failing();
    for (const finding of run(documents).filter((found) => found.rule === rule.id)) {
      if (finding.mend === null) continue;
      const after = run(applyEdits(documents, finding.mend.edits));
      const same = after.filter(
        ({ rule: id, subject, message }) =>
          id === rule.id && subject === finding.subject && message === finding.message,
      );
      expect(same, `${finding.mend.title} mends ${finding.message}`).toEqual([]);
    }
  });
});
