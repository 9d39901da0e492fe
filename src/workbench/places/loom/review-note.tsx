/** What reviewers ask or object to on one strand. */
export interface ReviewDoubt {
  readonly objections: number;
  readonly questions: number;
  /** Some of it was said of facts that have changed since. */
  readonly stale: boolean;
}

/** The same for people who hear it. */
export function reviewWords({ objections, questions, stale }: ReviewDoubt): string {
  const parts = [
    ...(objections === 0 ? [] : [objections === 1 ? '1 objection' : `${objections} objections`]),
    ...(questions === 0 ? [] : [questions === 1 ? '1 question' : `${questions} questions`]),
  ];
  return `review: ${parts.join(' and ')}${stale ? ', stale' : ''}`;
}

/** A slip of paper pinned to a strand: “!” for an objection, “?” for a question; its edge is broken when it is stale. */
export function ReviewNote({
  doubt,
  x,
  y,
  scale,
}: {
  readonly doubt: ReviewDoubt;
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}) {
  const count = doubt.objections + doubt.questions;
  return (
    <g
      className="review-note"
      data-verdict={doubt.objections > 0 ? 'objection' : 'question'}
      data-stale={doubt.stale || undefined}
      transform={`translate(${x} ${y}) scale(${scale})`}
    >
      <path d="M-7 -8H4L8 -4V8H-7Z" />
      <path className="fold" d="M4 -8V-4H8" />
      <text y={4.4}>{doubt.objections > 0 ? '!' : '?'}</text>
      {count > 1 ? (
        <text className="note-count" x={12} y={4}>
          {count}
        </text>
      ) : null}
    </g>
  );
}
