import { subjectOfStep } from '../../compare/index.ts';
import type { ReviewAnswer } from '../../model/index.ts';
import { useReview } from '../actions/reviewing.ts';
import { useWorkbench } from '../state/store.ts';
import './review-notes.css';

const NONE: readonly ReviewAnswer[] = [];

/** What reviewers asked, objected to or agreed to about some subjects; nothing when they said nothing. */
export function ReviewNotes({ isAbout }: { readonly isAbout: (subject: string, step: string) => boolean }) {
  const answers = useWorkbench((state) => state.open?.history.documents.map.review ?? NONE);
  const own = answers.filter(({ step }) => isAbout(subjectOfStep(step), step));
  const { walked } = useReview(own.length > 0);
  if (own.length === 0) return null;
  const digests = new Map(walked?.steps.map(({ id, digest }) => [id, digest]));
  return (
    <section className="review-notes" aria-label="Review">
      <h3>Review</h3>
      <ul>
        {own.map(({ step, verdict, text, by, on, answers: answered }) => {
          const now = digests.get(step);
          return (
            <li key={`${step} ${by}`} data-verdict={verdict}>
              <span className="note-sign" aria-hidden="true">
                {verdict === 'agreed' ? '✓' : verdict === 'question' ? '?' : '!'}
              </span>
              <span>
                <strong>{verdict}</strong>
                {now !== undefined && now !== answered ? <span className="soft"> (stale)</span> : null}
                {text === undefined ? null : <> {text}</>}{' '}
                <span className="soft">
                  {by}, {on}
                </span>
              </span>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
