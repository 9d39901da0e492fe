import { useMemo, useRef, type RefObject } from 'react';
import type { StandingStep, StepKind, WalkStanding } from '../../../compare/index.ts';
import { select, show } from '../../actions/navigate.ts';
import { RowList, type ListRow } from '../../parts/RowList.tsx';
import { subjectWords } from '../../parts/subject.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { AnswerBar, type AnswerBarHandle } from './AnswerBar.tsx';
import { StatusMark } from './marks.tsx';
import { StepDetail } from './StepDetail.tsx';
import {
  KIND_WORDS,
  currentStep,
  filterSteps,
  harmBlocks,
  nextToDo,
  type HarmBlock,
  type ReviewMemory,
} from './view.ts';

const NONE: ReadonlySet<string> = new Set();

/** The walk: every step in order of harm, one after another, with the reviewer's answer. */
export function Walk({
  standing,
  memory,
  change,
}: {
  readonly standing: WalkStanding;
  readonly memory: ReviewMemory;
  readonly change: (change: Partial<ReviewMemory>) => void;
}) {
  const store = useWorkbenchStore();
  const pairing = pairingOf(useWorkbench((state) => state.open!.history.documents));
  const bar = useRef<AnswerBarHandle>(null);
  const list = useRef<HTMLDivElement>(null);
  const search = useRef<HTMLInputElement>(null);
  const listed = useMemo(() => {
    const kept = filterSteps(standing.steps, memory);
    // The step being looked at stays in the list when its answer takes it out of what is to do.
    const fitting = filterSteps(standing.steps, { ...memory, shows: 'all' });
    const current = fitting.find(({ step }) => step.id === memory.current);
    return current === undefined || kept.includes(current)
      ? kept
      : fitting.filter((one) => one === current || kept.includes(one));
  }, [standing.steps, memory]);
  const rows = useMemo(() => rowsOf(harmBlocks(listed)), [listed]);
  const current = currentStep(listed, memory.current);

  const goTo = (next: StandingStep | null): void => {
    if (!next) return;
    change({ current: next.step.id });
    select(store, next.step.subjects[0] ?? null);
  };
  const focusList = (): void => list.current?.querySelector<HTMLElement>('.row-list')?.focus();
  const onKey = (key: string): boolean => {
    if (key === '/') search.current?.focus();
    else if (key === 'n' || key === 'N') goTo(nextToDo(listed, current?.step.id ?? null));
    else if (!current) return false;
    else if (key === 'a' || key === 'A') bar.current?.agree();
    else if (key === 'q' || key === 'Q') bar.current?.ask('question');
    else if (key === 'o' || key === 'O') bar.current?.ask('objection');
    else if (key === 'Enter') {
      const subject = current.step.subjects[0] ?? 'map';
      const words = subjectWords(pairing, subject);
      show(store, words.selects ?? subject, words.places[0]!);
    } else return false;
    return true;
  };

  return (
    <div className="walk">
      <div className="walk-list" ref={list}>
        <WalkFilter standing={standing} memory={memory} change={change} search={search} onLeave={focusList} />
        {listed.length === 0 ? (
          <p className="soft walk-nothing">No step passes the filters.</p>
        ) : (
          <RowList
            label="Steps of the review"
            rows={rows}
            current={current?.step.id ?? null}
            onCurrent={(id) => goTo(listed.find(({ step }) => step.id === id) ?? null)}
            marked={NONE}
            onMarked={() => undefined}
            onKey={onKey}
          />
        )}
      </div>
      {current === null ? null : (
        <div className="walk-side">
          <div key={current.step.id} className="walk-step" tabIndex={0} role="region" aria-label="Details">
            <StepDetail standing={current} />
          </div>
          <AnswerBar
            key={`answer ${current.step.id}`}
            ref={bar}
            standing={current}
            onLeave={focusList}
            onAnswered={() => {
              focusList();
              goTo(nextToDo(listed, current.step.id));
            }}
          />
        </div>
      )}
    </div>
  );
}

function WalkFilter({
  standing,
  memory,
  change,
  search,
  onLeave,
}: {
  readonly standing: WalkStanding;
  readonly memory: ReviewMemory;
  readonly change: (change: Partial<ReviewMemory>) => void;
  readonly search: RefObject<HTMLInputElement | null>;
  readonly onLeave: () => void;
}) {
  const { counts, steps } = standing;
  const shows = [
    ['all', `All ${steps.length}`],
    ['to-do', `To do ${counts.open + counts.stale}`],
    ['doubts', `Doubts ${counts.question + counts.objection}`],
  ] as const;
  return (
    <div className="walk-filter" role="search" aria-label="Filter the steps">
      <div className="segments" role="group" aria-label="Which steps">
        {shows.map(([id, title]) => (
          <button key={id} type="button" aria-pressed={memory.shows === id} onClick={() => change({ shows: id })}>
            {title}
          </button>
        ))}
      </div>
      <select
        className="field"
        aria-label="Kind of step"
        value={memory.kind}
        onChange={(event) => change({ kind: event.target.value as StepKind | '' })}
      >
        <option value="">every kind</option>
        {(Object.entries(KIND_WORDS) as [StepKind, string][]).map(([kind, words]) => (
          <option key={kind} value={kind}>
            {words} ({steps.filter(({ step }) => step.kind === kind).length})
          </option>
        ))}
      </select>
      <input
        ref={search}
        type="search"
        className="field"
        placeholder="Filter by text  /"
        aria-label="Filter by text"
        value={memory.text}
        onChange={(event) => change({ text: event.target.value })}
        onKeyDown={(event) => {
          if (event.key === 'Enter' || event.key === 'Escape') onLeave();
        }}
      />
    </div>
  );
}

function rowsOf(blocks: readonly HarmBlock[]): readonly ListRow[] {
  return blocks.flatMap((block): ListRow[] => [
    {
      key: `heading ${block.harm}`,
      isHeading: true,
      height: 2.5,
      draw: () => (
        <div className="harm-heading" title={block.words}>
          <span>{block.title}</span>
          <span className="count">{block.toDo === 0 ? 'done' : `${block.toDo} to do`}</span>
        </div>
      ),
    },
    ...block.steps.map((standing) => ({
      key: standing.step.id,
      isHeading: false,
      height: 2.9,
      draw: () => <StepRow standing={standing} />,
    })),
  ]);
}

function StepRow({ standing }: { readonly standing: StandingStep }) {
  const { step, status } = standing;
  const open = step.findings.filter(({ waived }) => waived === null);
  const isFinding = step.kind === 'finding';
  return (
    <div className="step-row">
      <StatusMark status={status} />
      <span className="step-title">{step.title}</span>
      <span className="step-ref mono soft">{step.subjects[0]}</span>
      <span className="step-tags">
        {open[0] === undefined ? null : (
          <span className="severity" data-severity={open[0].severity}>
            {isFinding ? open[0].severity : open.length}
          </span>
        )}
        <span className="kind-tag">{KIND_WORDS[step.kind]}</span>
      </span>
    </div>
  );
}
