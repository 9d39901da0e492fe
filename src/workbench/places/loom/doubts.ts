import { subjectOfStep, type WalkStep } from '../../../compare/index.ts';
import type { ReviewAnswer } from '../../../model/index.ts';
import { isAboutRoute } from '../../parts/subject.ts';
import type { ReviewDoubt } from './review-note.tsx';
import type { LoomGroup, LoomRow } from './layout.ts';

/** The questions and objections of a map by the row of the loom they are pinned to. */
export function doubtsOfRows(
  groups: readonly LoomGroup[],
  answers: readonly ReviewAnswer[],
  steps: readonly WalkStep[],
): ReadonlyMap<string, ReviewDoubt> {
  const doubts = new Map<string, ReviewDoubt>();
  const open = answers.filter(({ verdict }) => verdict !== 'agreed');
  if (open.length === 0) return doubts;
  const digests = new Map(steps.map(({ id, digest }) => [id, digest]));
  const rows = groups.flatMap((group) => group.rows);
  for (const { step, answers: answered, verdict } of open) {
    const now = digests.get(step);
    const isStale = now !== undefined && now !== answered;
    for (const row of rowsOfSubject(rows, subjectOfStep(step))) {
      const before = doubts.get(row.id) ?? { objections: 0, questions: 0, stale: false };
      doubts.set(row.id, {
        objections: before.objections + (verdict === 'objection' ? 1 : 0),
        questions: before.questions + (verdict === 'question' ? 1 : 0),
        stale: before.stale || isStale,
      });
    }
  }
  return doubts;
}

function rowsOfSubject(rows: readonly LoomRow[], subject: string): readonly LoomRow[] {
  return rows.filter((row) => (row.kind === 'loose' ? row.end.ref === subject : isAboutRoute(subject, row.route)));
}
