import { useMemo } from 'react';
import { findRule, type Finding } from '../../../checks/index.ts';
import type { StandingStep, WalkStanding } from '../../../compare/index.ts';
import type { Pairing } from '../../../model/index.ts';
import { select } from '../../actions/navigate.ts';
import type { Walked } from '../../actions/reviewing.ts';
import { RowList, type ListRow } from '../../parts/RowList.tsx';
import { subjectWords } from '../../parts/subject.ts';
import { derivationOf, pairingOf } from '../../state/derived.ts';
import { progressOf } from '../../state/progress.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { layLoom } from '../loom/layout.ts';
import '../loom/loom.css';
import { alignLooms, countChanges, differingOnly } from './align.ts';
import { ChangeMark } from './marks.tsx';
import { StepDetail } from './StepDetail.tsx';
import { TwoLooms } from './TwoLooms.tsx';
import type { ReviewMemory } from './view.ts';

const NONE: ReadonlySet<string> = new Set();
const NO_FINDINGS: readonly Finding[] = [];

/** One line of what differs: a change of the walk, a finding that came, went or stayed, a waiver that lapsed. */
type Entry =
  | { readonly kind: 'change'; readonly key: string; readonly standing: StandingStep }
  | { readonly kind: 'finding'; readonly key: string; readonly finding: Finding; readonly is: 'new' | 'gone' | 'still' }
  | { readonly kind: 'lapsed'; readonly key: string; readonly waiver: string };

/** Two revisions side by side on the loom, and under it everything that differs, in words. */
export function Compare({
  standing,
  walked,
  memory,
  change,
}: {
  readonly standing: WalkStanding;
  readonly walked: Walked;
  readonly memory: ReviewMemory;
  readonly change: (change: Partial<ReviewMemory>) => void;
}) {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const findings = useWorkbench((state) => state.checked?.findings ?? NO_FINDINGS);
  const { base, comparison, baseFindings } = walked;
  const after = pairingOf(documents);
  const before = base === null ? null : pairingOf(base.documents);
  const changes = comparison?.changes;
  const groups = useMemo(() => {
    if (before === null || changes === undefined) return [];
    return alignLooms(groupsOf(before, baseFindings), groupsOf(after, findings), changes);
  }, [before, after, baseFindings, findings, changes]);
  const shown = useMemo(() => (memory.onlyDifferent ? differingOnly(groups) : groups), [groups, memory.onlyDifferent]);
  const entries = useMemo(() => entriesOf(standing, walked), [standing, walked]);
  const rows = useMemo(() => rowsOf(entries, after), [entries, after]);

  if (base === null || before === null || comparison === null)
    return (
      <div className="empty">
        <p>
          Choose the earlier revision above: the map that was passed last. What was added, removed or changed since is
          then shown on the loom and in words, with the findings that came and went.
        </p>
      </div>
    );
  const current = entries.find(({ key }) => key === memory.compared) ?? entries[0] ?? null;
  const counts = countChanges(groups);
  const goTo = (entry: Entry | undefined): void => {
    if (!entry) return;
    change({ compared: entry.key });
    const subject = subjectOf(entry);
    if (subject !== null) select(store, subject);
  };
  /** The strand of what is current under the looms, and the other way round. */
  const rowOfEntry = current === null ? null : rowIdOf(current, groups);
  return (
    <div className="compare">
      <div className="compare-bar">
        <span className="compare-counts" role="group" aria-label="Strands that differ">
          {(['added', 'removed', 'changed', 'renamed'] as const).map((kind) =>
            counts[kind] === 0 ? null : (
              <span key={kind}>
                <ChangeMark change={kind} /> <strong>{counts[kind]}</strong>
              </span>
            ),
          )}
          <span className="soft">{counts.same} strands the same</span>
        </span>
        <label className="compare-toggle">
          <input
            type="checkbox"
            checked={memory.onlyDifferent}
            onChange={(event) => change({ onlyDifferent: event.target.checked })}
          />
          only what differs
        </label>
      </div>
      {shown.length === 0 ? (
        <p className="soft compare-same">No strand differs between the two revisions.</p>
      ) : (
        <TwoLooms
          groups={shown}
          before={before}
          after={after}
          current={rowOfEntry}
          onCurrent={(id) => goTo(entries.find((entry) => rowIdOf(entry, groups) === id))}
        />
      )}
      <div className="compare-lower">
        <div className="compare-list">
          {entries.length === 0 ? (
            <p className="soft walk-nothing">Nothing differs in meaning.</p>
          ) : (
            <RowList
              label="What differs"
              rows={rows}
              current={current?.key ?? null}
              onCurrent={(key) => goTo(entries.find((entry) => entry.key === key))}
              marked={NONE}
              onMarked={() => undefined}
              onKey={(key) => {
                if (key !== 'Enter' || current?.kind !== 'change') return false;
                change({ view: 'walk', current: current.standing.step.id, shows: 'all', kind: '', text: '' });
                return true;
              }}
            />
          )}
        </div>
        <div className="compare-detail" tabIndex={0} role="region" aria-label="Details">
          {current === null ? null : (
            <EntryDetail
              entry={current}
              onAnswer={(id) => change({ view: 'walk', current: id, shows: 'all', kind: '', text: '' })}
            />
          )}
        </div>
      </div>
    </div>
  );
}

function groupsOf(pairing: Pairing, findings: readonly Finding[]) {
  return layLoom(pairing, progressOf(pairing, derivationOf(pairing)).open, findings);
}

function entriesOf(standing: WalkStanding, { comparison }: Walked): readonly Entry[] {
  if (comparison === null) return [];
  const changes = standing.steps.filter(({ step }) => step.kind === 'change');
  const found = (list: readonly Finding[], is: 'new' | 'gone' | 'still'): readonly Entry[] =>
    list.map((finding, at) => ({
      kind: 'finding',
      key: `${is} ${at} ${finding.rule} ${finding.subject}`,
      finding,
      is,
    }));
  return [
    ...changes.map((one): Entry => ({ kind: 'change', key: one.step.id, standing: one })),
    ...found(comparison.findingsNew, 'new'),
    ...found(comparison.findingsGone, 'gone'),
    ...comparison.waiversLapsed.map((waiver): Entry => ({ kind: 'lapsed', key: `lapsed ${waiver}`, waiver })),
    ...found(comparison.findingsStill, 'still'),
  ];
}

function subjectOf(entry: Entry): string | null {
  switch (entry.kind) {
    case 'change':
      return entry.standing.step.subjects[0] ?? null;
    case 'finding':
      return entry.finding.subject;
    case 'lapsed':
      return entry.waiver.slice(entry.waiver.indexOf(' ') + 1);
  }
}

/** The line of the looms that shows an entry; null when none does. */
function rowIdOf(entry: Entry, groups: ReturnType<typeof alignLooms>): string | null {
  const subjects = entry.kind === 'change' ? entry.standing.step.subjects : [subjectOf(entry) ?? ''];
  for (const { rows } of groups) {
    for (const row of rows) {
      const ids = [row.before?.id, row.after?.id];
      if (subjects.some((subject) => ids.includes(subject))) return row.id;
    }
  }
  const messages = subjects.map((subject) => subject.replace(/^transmit:/, ''));
  for (const { rows } of groups) {
    for (const { id, after, change } of rows)
      if (change !== 'same' && after?.kind === 'strand' && messages.includes(after.route.to.split('.')[0]!)) return id;
  }
  return null;
}

const HEADINGS = {
  change: 'Changes',
  new: 'Findings new',
  gone: 'Findings gone',
  still: 'Findings still open',
  lapsed: 'Waivers lapsed',
} as const;

function rowsOf(entries: readonly Entry[], pairing: Pairing): readonly ListRow[] {
  const sectionOf = (entry: Entry): keyof typeof HEADINGS => (entry.kind === 'finding' ? entry.is : entry.kind);
  return (['change', 'new', 'gone', 'lapsed', 'still'] as const).flatMap((section): ListRow[] => {
    const own = entries.filter((entry) => sectionOf(entry) === section);
    if (own.length === 0) return [];
    return [
      {
        key: `heading ${section}`,
        isHeading: true,
        height: 2.2,
        draw: () => (
          <div className="harm-heading">
            <span>{HEADINGS[section]}</span>
            <span className="count">{own.length}</span>
          </div>
        ),
      },
      ...own.map((entry) => ({
        key: entry.key,
        isHeading: false,
        height: 2.9,
        draw: () => <EntryRow entry={entry} pairing={pairing} />,
      })),
    ];
  });
}

function EntryRow({ entry, pairing }: { readonly entry: Entry; readonly pairing: Pairing }) {
  if (entry.kind === 'change') {
    const { step } = entry.standing;
    const kinds = new Set(step.changes.map(({ kind }) => kind));
    return (
      <div className="entry-row">
        <ChangeMark change={kinds.size === 1 ? [...kinds][0]! : 'changed'} />
        <span className="step-title">{step.title}</span>
        <span className="step-ref soft">{step.says[0] ?? step.subjects.join(', ')}</span>
      </div>
    );
  }
  if (entry.kind === 'lapsed')
    return (
      <div className="entry-row">
        <span className="change-mark">lapsed</span>
        <span className="step-title">Waiver of {entry.waiver.split(' ')[0]}</span>
        <span className="step-ref soft">{subjectOf(entry)}</span>
      </div>
    );
  const { finding } = entry;
  return (
    <div className="entry-row">
      <span className="severity" data-severity={finding.severity}>
        {finding.severity}
      </span>
      <span className="step-title">{subjectWords(pairing, finding.subject).title}</span>
      <span className="step-ref soft">{finding.message}</span>
    </div>
  );
}

function EntryDetail({ entry, onAnswer }: { readonly entry: Entry; readonly onAnswer: (id: string) => void }) {
  if (entry.kind === 'change')
    return (
      <>
        <StepDetail standing={entry.standing} />
        <p className="compare-answer">
          <button type="button" className="button" onClick={() => onAnswer(entry.standing.step.id)}>
            Answer it in the walk <kbd>Enter</kbd>
          </button>
        </p>
      </>
    );
  if (entry.kind === 'lapsed')
    return (
      <article className="detail" aria-label="The waiver">
        <h2>A waiver answers nothing any more</h2>
        <p>
          <span className="mono">{entry.waiver}</span>: it answered a finding of the earlier revision. What it answered
          has changed or is gone; if something is still found there, it is open again.
        </p>
      </article>
    );
  const { finding, is } = entry;
  return (
    <article className="detail" aria-label="The finding">
      <header>
        <p>
          <span className="severity" data-severity={finding.severity}>
            {finding.severity}
          </span>{' '}
          <span className="mono soft">{finding.rule}</span> <strong>{is}</strong>
        </p>
        <h2>{findRule(finding.rule)?.title ?? finding.rule}</h2>
      </header>
      <p className="finding-message">{finding.message}</p>
      <p>{finding.why}</p>
      <p className="mono soft">{finding.subject}</p>
    </article>
  );
}
