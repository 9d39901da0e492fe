import { useMemo, useRef, useState } from 'react';
import { goTo, select, show } from '../../actions/navigate.ts';
import { usePlaceMemory } from '../../parts/place-memory.ts';
import '../../parts/place.css';
import { LeaveOutSheet } from '../../parts/LeaveOutSheet.tsx';
import { RowList } from '../../parts/RowList.tsx';
import { derivationOf, pairingOf } from '../../state/derived.ts';
import { progressOf } from '../../state/progress.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { AcceptBar } from './AcceptBar.tsx';
import { FilterBar } from './FilterBar.tsx';
import { LeftOutList } from './LeftOutList.tsx';
import { NeedDetail } from './NeedDetail.tsx';
import { Nothing } from './Nothing.tsx';
import { RoutedDetail } from './RoutedDetail.tsx';
import { acceptMany, acceptOne } from './accepting.ts';
import { metRows, openRows } from './rows.tsx';
import { useProposals } from './use-proposals.ts';
import {
  isAcceptable,
  FIRST_VIEW,
  blocksOf,
  filterNeeds,
  listNeeds,
  type ListedNeed,
  type WorklistView,
} from './view.ts';
import './worklist.css';

/** The entry to show as current: the same need, else the one that took its position. */
function currentOf(entries: readonly ListedNeed[], ref: string | null, lastAt: number): ListedNeed | null {
  if (entries.length === 0) return null;
  return entries.find(({ need }) => need.ref === ref) ?? entries[Math.min(Math.max(lastAt, 0), entries.length - 1)]!;
}

/** What is still to do: needs that nothing meets yet, with what is proposed for each and why. */
export default function Worklist() {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const selection = useWorkbench((state) => state.selection);
  const [view, change] = usePlaceMemory<WorklistView>('worklist', () => FIRST_VIEW);
  const [leaving, setLeaving] = useState<readonly string[] | null>(null);
  const textField = useRef<HTMLInputElement>(null);
  const [lastAt, setLastAt] = useState(0);

  const pairing = pairingOf(documents);
  const derivation = derivationOf(pairing);
  const progress = progressOf(pairing, derivation);
  const proposals = useProposals(documents);

  const routed = useMemo(() => {
    const open = new Set(progress.open.map(({ ref }) => ref));
    return [...derivation.needs.values()].filter(({ ref }) => !open.has(ref) && pairing.routesTo.has(ref));
  }, [progress, derivation, pairing]);
  const listed = useMemo(
    () => listNeeds(pairing, view.shows === 'met' ? routed : progress.open, proposals.needs),
    [pairing, view.shows, routed, progress, proposals.needs],
  );
  const blocks = useMemo(() => blocksOf(filterNeeds(listed, view)), [listed, view]);
  const entries = useMemo(() => blocks.flatMap((block) => block.entries), [blocks]);
  const rows = useMemo(
    () => (view.shows === 'met' ? metRows(blocks, pairing) : openRows(blocks, pairing)),
    [view.shows, blocks, pairing],
  );

  const current = currentOf(entries, view.current, lastAt);
  const at = current ? entries.indexOf(current) : lastAt;
  if (at !== lastAt) setLastAt(at);
  // What was selected in another place is shown here when it is in the list.
  const [followed, setFollowed] = useState<string | null>(null);
  if (selection !== followed) {
    setFollowed(selection);
    if (current?.need.ref !== selection && entries.some(({ need }) => need.ref === selection))
      change({ current: selection, proposal: 0 });
  }

  const marked = entries.filter(({ need }) => view.marked.has(need.ref));
  const proposal = current?.proposals?.proposals[view.proposal] ?? current?.proposals?.proposals[0];
  const acceptCurrent = (): void => {
    if (current && proposal) acceptOne(store, current.need, proposal);
    change({ proposal: 0 });
  };
  const acceptMarked = (): void => {
    void acceptMany(
      store,
      marked.filter((entry) => isAcceptable(entry, 0)).map(({ need }) => need.ref),
      0,
    );
    change({ marked: new Set() });
  };
  const leaveChosen = (): void => {
    if (marked.length > 0) setLeaving(marked.map(({ need }) => need.ref));
    else if (current) setLeaving([current.need.ref]);
  };
  const onKey = (key: string): boolean => {
    if (key === '/') textField.current?.focus();
    else if (!current) return false;
    else if (view.shows === 'met') {
      if (key !== 'Enter') return false;
      const route = pairing.routesTo.get(current.need.ref)?.[0];
      if (route) show(store, `route:${route.id}`, 'loom');
    } else if (key === 'Enter' || key === 'a') {
      if (marked.length > 0) acceptMarked();
      else acceptCurrent();
    } else if (key === 'o') leaveChosen();
    else if (key === 'g') show(store, current.need.ref, 'loom');
    else if (/^[1-5]$/.test(key)) {
      const count = current.proposals?.proposals.length ?? 0;
      if (Number(key) <= count) change({ proposal: Number(key) - 1 });
    } else return false;
    return true;
  };

  const counts = {
    open: progress.open.length,
    'left-out': documents.map.leftOut?.length ?? 0,
    met: routed.length,
  };
  return (
    <div className="list-place worklist">
      <FilterBar
        view={view}
        change={change}
        listed={listed}
        counts={counts}
        needs={progress.needs}
        pairing={pairing}
        textField={textField}
      />
      {view.shows === 'left-out' ? (
        <LeftOutList entries={documents.map.leftOut ?? []} pairing={pairing} />
      ) : entries.length === 0 ? (
        <Nothing shows={view.shows} needs={progress.needs} open={counts.open} onPlace={(place) => goTo(store, place)} />
      ) : (
        <>
          <div className="place-list">
            {view.shows === 'open' ? (
              <AcceptBar
                entries={entries}
                marked={marked}
                least={view.least}
                onLeast={(least) => change({ least })}
                stale={proposals.stale}
                failure={proposals.failure}
                lacksInterface={documents.map.interfaceModules.length === 0}
                onAcceptMarked={acceptMarked}
                onLeaveOut={leaveChosen}
                onClear={() => change({ marked: new Set() })}
              />
            ) : null}
            <RowList
              label={view.shows === 'open' ? 'Open needs' : 'Routed needs'}
              rows={rows}
              current={current?.need.ref ?? null}
              onCurrent={(ref) => {
                change({ current: ref, proposal: 0 });
                select(store, ref);
              }}
              marked={view.marked}
              onMarked={(next) => change({ marked: next })}
              onKey={onKey}
            />
          </div>
          <div className="place-side" tabIndex={0} role="region" aria-label="Details">
            {current && view.shows === 'open' ? (
              <NeedDetail
                need={current.need}
                found={current.proposals}
                pairing={pairing}
                chosen={view.proposal}
                onChoose={(index) => change({ proposal: index })}
                onAccept={acceptCurrent}
                onLeaveOut={() => setLeaving([current.need.ref])}
              />
            ) : null}
            {current && view.shows === 'met' ? <RoutedDetail need={current.need} pairing={pairing} /> : null}
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
    </div>
  );
}
