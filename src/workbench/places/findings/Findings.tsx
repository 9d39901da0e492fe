import { useMemo, useRef, useState } from 'react';
import type { Finding } from '../../../checks/index.ts';
import { select, show } from '../../actions/navigate.ts';
import { LeaveOutSheet } from '../../parts/LeaveOutSheet.tsx';
import { usePlaceMemory } from '../../parts/place-memory.ts';
import { RowList } from '../../parts/RowList.tsx';
import { subjectWords } from '../../parts/subject.ts';
import '../../parts/place.css';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { FilterBar } from './FilterBar.tsx';
import { FindingDetail } from './FindingDetail.tsx';
import { WaiverList } from './WaiverList.tsx';
import { WaiveSheet } from './WaiveSheet.tsx';
import './findings.css';
import { leavesOut, mend } from './mending.ts';
import { rowsOf } from './rows.tsx';
import { FIRST_VIEW, blocksOf, currentOf, filterFindings, listFindings, type FindingsView } from './view.ts';
import { lift, waiverOf } from './waiving.ts';

const NONE: readonly Finding[] = [];

/** What is wrong: every finding with its reason and sources, to go to, to mend or to waive. */
export default function Findings() {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const checked = useWorkbench((state) => state.checked);
  const selection = useWorkbench((state) => state.selection);
  const [view, change] = usePlaceMemory<FindingsView>('findings', () => FIRST_VIEW);
  const [waiving, setWaiving] = useState<readonly Finding[] | null>(null);
  const [leaving, setLeaving] = useState<readonly string[] | null>(null);
  const textField = useRef<HTMLInputElement>(null);
  const [lastAt, setLastAt] = useState(0);

  const pairing = pairingOf(documents);
  const findings = checked?.findings ?? NONE;
  const listed = useMemo(
    () => listFindings(findings, (subject) => subjectWords(pairing, subject)),
    [findings, pairing],
  );
  const ofKind = useMemo(
    () => listed.filter(({ finding }) => (finding.waived !== null) === (view.shows === 'waived')),
    [listed, view.shows],
  );
  const blocks = useMemo(() => blocksOf(filterFindings(listed, view, pairing.options)), [listed, view, pairing]);
  const entries = useMemo(() => blocks.flatMap((block) => block.entries), [blocks]);

  const current = currentOf(entries, view.current, lastAt);
  const at = current ? entries.indexOf(current) : lastAt;
  if (at !== lastAt) setLastAt(at);
  // What was selected in another place is shown here when something was found on it.
  const [followed, setFollowed] = useState<string | null>(null);
  if (selection !== followed) {
    setFollowed(selection);
    const found = entries.find(({ finding }) => finding.subject === selection);
    if (found && current?.finding.subject !== selection) change({ current: found.key });
  }
  const chosen = (): readonly Finding[] => {
    const marked = entries.filter(({ key }) => view.marked.has(key)).map(({ finding }) => finding);
    return marked.length > 0 ? marked : current ? [current.finding] : [];
  };
  /** What can be mended at once is; only where nothing can is a reason asked for leaving needs out. */
  const mendThese = (wanted: readonly Finding[]): void => {
    const atOnce = wanted.filter((finding) => leavesOut(finding.mend).length === 0);
    const left = wanted.flatMap((finding) => leavesOut(finding.mend));
    if (left.length > 0 && atOnce.every((finding) => finding.mend === null)) setLeaving(left);
    else {
      mend(store, atOnce);
      change({ marked: new Set() });
    }
  };
  const mendChosen = (): void => mendThese(chosen());
  const rows = useMemo(
    () =>
      rowsOf(blocks, (mendable) =>
        mend(
          store,
          mendable.map(({ finding }) => finding),
        ),
      ),
    [blocks, store],
  );

  const onKey = (key: string): boolean => {
    if (key === '/') textField.current?.focus();
    else if (!current) return false;
    else if (key === 'Enter') {
      const words = subjectWords(pairing, current.finding.subject);
      show(store, words.selects ?? current.finding.subject, words.places[0]!);
    } else if (key === 'm' && view.shows === 'open') mendChosen();
    else if (key === 'w' && view.shows === 'open') setWaiving(chosen());
    else if (key === 'l' && view.shows === 'waived') {
      const waiver = waiverOf(documents.map, current.finding);
      if (waiver) lift(store, waiver);
    } else if (key === 'a') {
      const { rule } = current.finding;
      change({ marked: new Set(entries.filter(({ finding }) => finding.rule === rule).map((entry) => entry.key)) });
    } else return false;
    return true;
  };

  const counts = {
    open: listed.filter(({ finding }) => finding.waived === null).length,
    waived: checked?.counts.waived ?? 0,
    waivers: documents.map.waivers?.length ?? 0,
  };
  const markedCount = entries.filter(({ key }) => view.marked.has(key)).length;
  return (
    <div className="list-place">
      <FilterBar
        view={view}
        change={change}
        listed={ofKind}
        counts={counts}
        axes={documents.map.options ?? []}
        textField={textField}
      />
      {view.shows === 'waivers' ? (
        <WaiverList map={documents.map} pairing={pairing} findings={findings} />
      ) : entries.length === 0 ? (
        <Nothing view={view} counts={counts} checked={checked !== null} failure={checked?.failure ?? null} />
      ) : (
        <>
          <div className="place-list">
            <RowList
              label="Findings"
              rows={rows}
              current={current?.key ?? null}
              onCurrent={(key) => {
                change({ current: key });
                select(store, entries.find((entry) => entry.key === key)?.finding.subject ?? null);
              }}
              marked={view.marked}
              onMarked={(marked) => change({ marked })}
              onKey={onKey}
            />
          </div>
          <div className="place-side" tabIndex={0} role="region" aria-label="Details">
            {markedCount > 1 ? (
              <Marked
                count={markedCount}
                mendable={
                  chosen().filter((finding) => finding.mend !== null && leavesOut(finding.mend).length === 0).length
                }
                onMend={mendChosen}
                onWaive={() => setWaiving(chosen())}
                onClear={() => change({ marked: new Set() })}
              />
            ) : null}
            {current ? (
              <FindingDetail
                finding={current.finding}
                pairing={pairing}
                documents={documents}
                onMend={() => mendThese([current.finding])}
                onWaive={() => setWaiving([current.finding])}
              />
            ) : null}
          </div>
        </>
      )}
      {leaving === null ? null : (
        <LeaveOutSheet
          needs={leaving}
          onClose={() => {
            setLeaving(null);
            change({ marked: new Set() });
          }}
        />
      )}
      {waiving === null ? null : (
        <WaiveSheet
          findings={waiving}
          onClose={() => {
            setWaiving(null);
            change({ marked: new Set() });
          }}
        />
      )}
    </div>
  );
}

function Marked({
  count,
  mendable,
  onMend,
  onWaive,
  onClear,
}: {
  readonly count: number;
  readonly mendable: number;
  readonly onMend: () => void;
  readonly onWaive: () => void;
  readonly onClear: () => void;
}) {
  return (
    <div className="marked-bar" role="group" aria-label={`${count} findings marked`}>
      <strong>{count} marked</strong>
      {mendable > 0 ? (
        <button type="button" className="button primary" onClick={onMend}>
          Mend {mendable}
        </button>
      ) : null}
      <button type="button" className="button" onClick={onWaive}>
        Waive {count}…
      </button>
      <button type="button" className="button quiet" onClick={onClear}>
        Clear
      </button>
    </div>
  );
}

function Nothing({
  view,
  counts,
  checked,
  failure,
}: {
  readonly view: FindingsView;
  readonly counts: Readonly<Record<FindingsView['shows'], number>>;
  readonly checked: boolean;
  readonly failure: string | null;
}) {
  if (failure !== null)
    return (
      <div className="empty">
        <p className="bad">The checks failed: {failure}</p>
        <p>Undo the last change, or look at the document in the Text place; saving is still possible.</p>
      </div>
    );
  if (!checked)
    return (
      <p className="loading" role="status">
        Checking …
      </p>
    );
  if (view.shows === 'waived')
    return (
      <div className="empty">
        <p>No finding is waived{counts.waived > 0 ? ' among those the filters leave' : ''}.</p>
      </div>
    );
  return (
    <div className="empty">
      {counts.open > 0 ? (
        <p>None of the {counts.open} open findings passes the filters.</p>
      ) : (
        <>
          <p>
            The rules found nothing that is open. That says what was checked, not that the vehicle is in order: go
            through the map with a colleague, and test on the bench what is built from it.
          </p>
        </>
      )}
    </div>
  );
}
