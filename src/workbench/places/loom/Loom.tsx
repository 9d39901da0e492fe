import { useCallback, useDeferredValue, useEffect, useMemo, useRef } from 'react';
import type { Finding } from '../../../checks/index.ts';
import type { ReviewAnswer } from '../../../model/index.ts';
import { select } from '../../actions/navigate.ts';
import { useReview } from '../../actions/reviewing.ts';
import { usePlaceMemory } from '../../parts/place-memory.ts';
import '../../parts/place.css';
import { derivationOf, pairingOf } from '../../state/derived.ts';
import { progressOf } from '../../state/progress.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { Strip } from '../../strip/Strip.tsx';
import { Cloth, type ClothHandle } from './Cloth.tsx';
import { concernedRows } from './concerned.ts';
import { doubtsOfRows } from './doubts.ts';
import { filterGroups, isFound, type LoomFilter } from './filter.ts';
import { flowOf, zoomToFit } from './flow.ts';
import { busesOfStrands } from './geometry.ts';
import type { KeyAction } from './keys.ts';
import { layLoom, type LoomGroup, type Strand } from './layout.ts';
import './loom.css';
import { LoomSide } from './LoomSide.tsx';
import { LoomTools } from './LoomTools.tsx';
import { ZoomTools } from './ZoomTools.tsx';
import { FIRST_LOOM, LEAST_ZOOM, MOST_ZOOM, zoomWithin, type LoomState } from './state.ts';

const NONE: readonly Finding[] = [];
const NO_ANSWERS: readonly ReviewAnswer[] = [];

/** How everything is joined: strands from host to donor, the selected one's values in the strip, its route at the side. */
export default function Loom() {
  const store = useWorkbenchStore();
  const documents = useWorkbench((state) => state.open!.history.documents);
  const findings = useWorkbench((state) => state.checked?.findings ?? NONE);
  const selection = useWorkbench((state) => state.selection);
  const [loom, remember] = usePlaceMemory<LoomState>('loom', () => FIRST_LOOM);
  const cloth = useRef<ClothHandle>(null);
  const search = useRef<HTMLInputElement>(null);

  const pairing = pairingOf(documents);
  const open = progressOf(pairing, derivationOf(pairing)).open;
  const groups = useMemo(() => layLoom(pairing, open, findings), [pairing, open, findings]);
  const { filter, folded, zoom, cursor } = loom;
  const kept = useMemo(
    () => filterGroups(groups, filter, ({ route }: Strand) => pairing.options.maskOf(route.when)),
    [groups, filter, pairing],
  );
  const flow = useMemo(() => flowOf(kept, folded, zoom), [kept, folded, zoom]);
  const buses = useMemo(() => busesOfStrands(strandsOf(groups)), [groups]);
  const query = useDeferredValue(filter.query);
  const found = useMemo(() => foundRows(kept, query), [kept, query]);
  const concerned = useMemo(() => concernedRows(groups, selection, pairing), [groups, selection, pairing]);
  const concernedSet = useMemo(() => new Set(concerned), [concerned]);
  const answers = documents.map.review ?? NO_ANSWERS;
  const { walked } = useReview(answers.some(({ verdict }) => verdict !== 'agreed'));
  const doubts = useMemo(() => doubtsOfRows(groups, answers, walked?.steps ?? []), [groups, answers, walked]);

  const setFolded = (next: ReadonlySet<string>): void => remember({ folded: next });
  const setFilter = (change: Partial<LoomFilter>): void => remember({ filter: { ...filter, ...change } });
  const setZoom = useCallback((next: number): void => remember({ zoom: zoomWithin(next) }), [remember]);

  const bringCursor = (id: string): void => {
    const group = kept.find(({ rows }) => rows.some((row) => row.id === id));
    remember(group && folded.has(group.id) ? { cursor: id, folded: without(folded, group.id) } : { cursor: id });
  };
  /** Puts the cursor on a row, out of its fold, and selects what it is. */
  const goToRow = (id: string): void => {
    bringCursor(id);
    if (!id.startsWith('group:')) select(store, id);
  };

  // What is selected elsewhere draws the cursor to its first strand, and into view.
  const revealed = useRef<string | null>(null);
  useEffect(() => {
    const first = concerned[0];
    if (first !== undefined && (cursor === null || !concernedSet.has(cursor))) {
      if (selection !== revealed.current) bringCursor(first);
    }
    revealed.current = selection;
    // Follows the selection only: folding or walking must not pull the cursor back.
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, [selection, concerned]);
  useEffect(() => {
    if (cursor !== null) cloth.current?.reveal(cursor);
  }, [cursor]);
  const scrolled = useRef(loom.scrollTop);
  useEffect(() => {
    cloth.current?.focus();
    // Where the view stands is remembered when the place is left.
    return () => remember({ scrollTop: scrolled.current });
    // eslint-disable-next-line react-hooks/exhaustive-deps
  }, []);

  const lastQuery = useRef('');
  const jump = (step: 1 | -1): void => {
    const hits = kept.flatMap(({ rows }) => rows.filter((row) => isFound(row, filter.query)).map(({ id }) => id));
    const exact = `route:${filter.query.trim()}`;
    const isNew = lastQuery.current !== filter.query;
    lastQuery.current = filter.query;
    // A search for an id goes to what bears it; asked again, to the next one found.
    if (isNew && hits.includes(exact)) return goToRow(exact);
    if (hits.length === 0) return;
    const order = kept.flatMap(({ rows }) => rows.map(({ id }) => id));
    const at = cursor === null ? -1 : order.indexOf(cursor);
    const places = hits.map((id) => order.indexOf(id));
    const next = step === 1 ? places.findIndex((place) => place > at) : places.findLastIndex((place) => place < at);
    goToRow(hits[next >= 0 ? next : step === 1 ? 0 : hits.length - 1]!);
  };

  const onAction = (action: KeyAction): void => {
    switch (action.kind) {
      case 'cursor':
        goToRow(action.id);
        return;
      case 'fold':
        remember({ folded: new Set([...folded, action.group]), cursor: `group:${action.group}` });
        return;
      case 'unfold':
        setFolded(without(folded, action.group));
        return;
      case 'enter':
        if (action.id.startsWith('group:')) {
          const id = action.id.slice(6);
          setFolded(folded.has(id) ? without(folded, id) : new Set([...folded, id]));
          return;
        }
        goToRow(action.id);
        if (!loom.sideOpen) remember({ sideOpen: true });
        setTimeout(() => document.querySelector<HTMLElement>('.loom-side [data-first-field]')?.focus(), 60);
        return;
      case 'search':
        search.current?.focus();
        search.current?.select();
        return;
      case 'next':
        jump(1);
        return;
      case 'previous':
        jump(-1);
        return;
      case 'clear':
        if (filter.query !== '') setFilter({ query: '' });
        else select(store, null);
    }
  };

  const onPick = (id: string): void => {
    if (!id.startsWith('group:')) return goToRow(id);
    const group = id.slice(6);
    remember({ cursor: id, folded: folded.has(group) ? without(folded, group) : new Set([...folded, group]) });
  };

  if (groups.length === 0) return <EmptyLoom />;
  return (
    <div
      className="loom"
      data-side={loom.sideOpen || undefined}
      style={{ ['--side-width' as string]: `${loom.sideWidth}px` }}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && event.target instanceof HTMLElement && event.target.closest('.loom-side, .strip'))
          cloth.current?.focus();
      }}
    >
      <LoomTools
        pairing={pairing}
        groups={groups}
        filter={filter}
        found={found === null ? null : found.size}
        ref={search}
        onFilter={(next) => {
          if (next.query === '') lastQuery.current = '';
          setFilter(next);
        }}
        onNext={jump}
        onLeaveSearch={() => cloth.current?.focus()}
        onFoldAll={() => remember({ folded: new Set(kept.map(({ id }) => id)), cursor: null })}
        onUnfoldAll={() => setFolded(new Set())}
        sideOpen={loom.sideOpen}
        stripOpen={loom.stripOpen}
        onSide={() => remember({ sideOpen: !loom.sideOpen })}
        onStrip={() => remember({ stripOpen: !loom.stripOpen })}
      />
      <div className="cloth-area">
        <Cloth
          ref={cloth}
          flow={flow}
          pairing={pairing}
          buses={buses}
          zoom={zoom}
          cursor={cursor}
          concerned={concernedSet}
          found={found}
          doubts={doubts}
          firstScrollTop={loom.scrollTop}
          onScrollTop={(scrollTop) => {
            scrolled.current = scrollTop;
          }}
          onAction={onAction}
          onPick={onPick}
          onZoom={setZoom}
        />
        <ZoomTools
          zoom={zoom}
          onZoom={setZoom}
          onFit={() => setZoom(zoomToFit(kept, folded, cloth.current?.viewHeight() ?? 600, [LEAST_ZOOM, MOST_ZOOM]))}
        />
      </div>
      {loom.sideOpen ? (
        <LoomSide
          pairing={pairing}
          groups={groups}
          width={loom.sideWidth}
          onWidth={(sideWidth) => remember({ sideWidth })}
        />
      ) : null}
      {loom.stripOpen ? <Strip /> : null}
    </div>
  );
}

function EmptyLoom() {
  return (
    <div className="empty">
      <p>
        Nothing is joined yet, and nothing is needed: mark which modules are removed under Platforms, and the needs
        appear here as loose ends.
      </p>
    </div>
  );
}

function without(set: ReadonlySet<string>, entry: string): ReadonlySet<string> {
  return new Set([...set].filter((other) => other !== entry));
}

function strandsOf(groups: readonly LoomGroup[]): readonly Strand[] {
  return groups.flatMap(({ rows }) => rows.filter((row) => row.kind === 'strand'));
}

function foundRows(groups: readonly LoomGroup[], query: string): ReadonlySet<string> | null {
  if (query.trim() === '') return null;
  return new Set(groups.flatMap(({ rows }) => rows.filter((row) => isFound(row, query)).map(({ id }) => id)));
}
