import { useMemo } from 'react';
import { STEP_STATUSES, walkStanding, type WalkStanding } from '../../../compare/index.ts';
import { usePlaceMemory } from '../../parts/place-memory.ts';
import '../../parts/place.css';
import { compareWith, useReview, type ReviewState } from '../../actions/reviewing.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { baseFromDisk, baseFromFile, chooseBase, sampleAncestor } from './base.ts';
import { Builds } from './Builds.tsx';
import { Compare } from './Compare.tsx';
import { StatusMark } from './marks.tsx';
import { RecordButton } from './RecordButton.tsx';
import './review.css';
import { SignOffPanel } from './SignOffPanel.tsx';
import { TextDiff } from './TextDiff.tsx';
import { FIRST_MEMORY, STATUS_WORDS, VIEWS, type ReviewMemory } from './view.ts';
import { Walk } from './Walk.tsx';

/** What a colleague has to see of this map, what differs from the revision passed before, and who signs for it. */
export default function Review() {
  const documents = useWorkbench((state) => state.open!.history.documents);
  const review = useReview();
  const [memory, change] = usePlaceMemory<ReviewMemory>('review', () => FIRST_MEMORY);
  const { walked } = review;
  const failure = useWorkbench((state) => state.checked?.failure ?? null) ?? review.failure;
  const standing = useMemo(
    () => (walked === null ? null : walkStanding(walked, documents.map.review ?? [])),
    [walked, documents.map.review],
  );
  return (
    <div className="review">
      <div className="place-tools" role="toolbar" aria-label="Review">
        <div className="segments" role="group" aria-label="What is shown">
          {VIEWS.map(([id, title]) => (
            <button key={id} type="button" aria-pressed={memory.view === id} onClick={() => change({ view: id })}>
              {title}
            </button>
          ))}
        </div>
        <BaseChoice review={review} />
        <span className="push">
          {standing === null ? null : <Counts standing={standing} />}
          <RecordButton standing={standing} />
        </span>
      </div>
      <div className="review-view">
        {failure !== null ? (
          <p className="bad review-wait" role="alert">
            The walk could not be worked out: {failure}
          </p>
        ) : memory.view === 'text' ? (
          <TextDiff base={review.base} />
        ) : memory.view === 'builds' ? (
          <Builds />
        ) : memory.view === 'sign-off' ? (
          <SignOffPanel standing={standing} />
        ) : standing === null || walked === null ? (
          <p className="loading review-wait" role="status">
            Working out the walk …
          </p>
        ) : memory.view === 'walk' ? (
          <Walk standing={standing} memory={memory} change={change} />
        ) : (
          <Compare standing={standing} walked={walked} memory={memory} change={change} />
        )}
      </div>
    </div>
  );
}

/** How the steps stand, each count beside the shape it counts. */
function Counts({ standing }: { readonly standing: WalkStanding }) {
  return (
    <span className="walk-counts" role="group" aria-label="How the steps stand">
      {STEP_STATUSES.filter((status) => standing.counts[status] > 0).map((status) => (
        <span key={status} data-count={status}>
          <StatusMark status={status} /> {standing.counts[status]} <span className="soft">{STATUS_WORDS[status]}</span>
        </span>
      ))}
    </span>
  );
}

/** Which earlier revision this one is compared with, and how to take one. */
export function BaseChoice({ review }: { readonly review: ReviewState }) {
  const store = useWorkbenchStore();
  const ancestor = useWorkbench(sampleAncestor);
  const onDisk = useWorkbench((state) => state.open?.onDisk ?? null);
  const isDirty = useWorkbench((state) => state.open?.history.documents !== state.open?.onDisk);
  const { base, walked } = review;
  return (
    <span className="base-choice" role="group" aria-label="The earlier revision">
      {base === null ? (
        <span className="soft">Compared with nothing:</span>
      ) : (
        <span>
          <span className="soft">Compared with revision</span> <strong>{base.documents.map.revision}</strong>{' '}
          <span className="mono soft" title={base.from}>
            {base.from.split(/[\\/]/).at(-1)}
          </span>
          {walked?.base === base ? null : <span role="status"> …</span>}
        </span>
      )}
      <button type="button" className="button small" onClick={() => void chooseBase(store)}>
        {base === null ? 'Choose the earlier revision…' : 'Another…'}
      </button>
      {base === null && ancestor !== null ? (
        <button type="button" className="button small" onClick={() => void baseFromFile(store, ancestor)}>
          The sample it was made from
        </button>
      ) : null}
      {base === null && isDirty && onDisk !== null ? (
        <button type="button" className="button small" onClick={() => baseFromDisk(store)}>
          The file as opened
        </button>
      ) : null}
      {base === null ? null : (
        <button type="button" className="button small" onClick={() => compareWith(store, null)}>
          None
        </button>
      )}
    </span>
  );
}
