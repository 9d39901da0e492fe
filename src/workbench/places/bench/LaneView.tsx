import { memo, useMemo } from 'react';
import { select } from '../../actions/navigate.ts';
import { subjectWords } from '../../parts/subject.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import type { View } from './bench-state.ts';
import { Plot, type PlotLine } from './Plot.tsx';
import type { PlotBands } from './plot-marks.ts';
import type { RouteAt } from './recording/at-cursor.ts';
import type { Band, Span } from './recording/columns.ts';
import { LOSS_KINDS, type LaneHead, type LanePoints } from './recording/lane.ts';
import { stateWords } from './route-words.ts';
import { benchSession } from './session.ts';

interface LaneProps {
  readonly head: LaneHead;
  readonly points: LanePoints;
  readonly span: Span;
  readonly view: View;
  readonly startUs: number;
  readonly at: RouteAt | null;
  readonly traced: boolean;
  readonly selected: boolean;
  /** Of each plot, in CSS pixels. */
  readonly height: number;
}

const STALE_WORDS = ['', 'stale', 'nothing received yet'] as const;
const NO_BANDS: readonly Band[] = [];

function sideOf(ref: string): 'host' | 'donor' {
  return ref.startsWith('host:') ? 'host' : 'donor';
}

/** A traced route: what its sources said, and below what was delivered and written, on one time axis. */
export const LaneView = memo(function LaneView({
  head,
  points,
  span,
  view,
  startUs,
  at,
  traced,
  selected,
  height,
}: LaneProps) {
  const store = useWorkbenchStore();
  const pairing = pairingOf(useWorkbench((state) => state.open!.history.documents));
  const { title } = subjectWords(pairing, `route:${head.route}`);
  const route = pairing.routes.get(head.route);
  const state = at === null ? null : stateWords(at);
  const stale = useMemo((): PlotBands => ({ words: STALE_WORDS, tone: 'stale', bands: points.stale }), [points]);
  const loss = useMemo((): PlotBands => ({ words: LOSS_KINDS, tone: 'loss', bands: points.loss }), [points]);
  const targetLines = useMemo(
    (): readonly PlotLine[] => [
      { role: sideOf(route?.to ?? 'host:'), thick: true, points: points.target },
      { role: 'delivered', thick: false, points: points.delivered },
    ],
    [points, route],
  );
  return (
    <article className="lane" data-selected={selected || undefined} aria-label={`Traces of ${title}`}>
      <header className="lane-head">
        <button type="button" className="lane-title" onClick={() => select(store, `route:${head.route}`)}>
          {title}
        </button>
        <button
          type="button"
          className="button quiet small"
          aria-pressed={traced}
          title={traced ? 'Trace it only while it is selected' : 'Keep this trace when another route is selected'}
          onClick={() => benchSession(store).trace(head.route, !traced)}
        >
          {traced ? 'Kept' : 'Keep'}
        </button>
      </header>
      {head.refused !== null ? <p className="lane-refused">Not traced: {head.refused}.</p> : null}
      {head.refused === null
        ? head.sources.map((source, index) => (
            <SourceRow
              key={`${source.ref} ${index}`}
              head={source}
              points={points.sources[index]!}
              bands={stale}
              span={span}
              view={view}
              startUs={startUs}
              at={at?.sources[index] ?? null}
              height={height}
            />
          ))
        : null}
      {head.refused === null ? (
        <div className="lane-row">
          <dl className="lane-legend">
            <dt>
              <span className="stroke" data-role={sideOf(route?.to ?? 'host:')} data-thick aria-hidden="true" />
              <span className="mono lane-ref" title={route?.to}>
                {route?.to}
              </span>
            </dt>
            <dd>
              <span className="lane-value">{at === null ? '' : at.target || '–'}</span>
              {state === null ? null : (
                <span className="route-state" data-state={state.tone} title={state.long}>
                  {state.short}
                </span>
              )}
            </dd>
            <div>
              <dt className="soft">
                <span className="stroke" data-role="delivered" aria-hidden="true" />
                {head.settles ? 'delivered, once settled' : 'delivered'}
              </dt>
              <dd>
                <span className="lane-value">{at === null ? '' : at.delivered || '–'}</span>
              </dd>
            </div>
          </dl>
          <Plot
            height={height}
            axis={head.target}
            lines={targetLines}
            bands={loss}
            clips={points.clips}
            span={span}
            view={view}
            startUs={startUs}
          />
        </div>
      ) : null}
    </article>
  );
});

function SourceRow({
  head,
  points,
  bands,
  span,
  view,
  startUs,
  at,
  height,
}: {
  readonly height: number;
  readonly head: LaneHead['sources'][number];
  readonly points: Float64Array;
  readonly bands: PlotBands;
  readonly span: Span;
  readonly view: View;
  readonly startUs: number;
  readonly at: RouteAt['sources'][number] | null;
}) {
  const lines = useMemo(
    (): readonly PlotLine[] => [{ role: sideOf(head.ref), thick: false, points }],
    [head.ref, points],
  );
  return (
    <div className="lane-row">
      <dl className="lane-legend">
        <dt>
          <span className="stroke" data-role={sideOf(head.ref)} aria-hidden="true" />
          <span className="mono lane-ref" title={head.ref}>
            {head.ref}
          </span>
        </dt>
        <dd>
          <span className="lane-value">{at === null ? '' : at.value || '–'}</span>
          {at === null ? null : (
            <span
              className="route-state"
              data-state={at.state === 'fresh' ? 'good' : at.state === 'lost' ? 'bad' : 'plain'}
            >
              {at.state === 'fresh' ? 'fresh' : at.state === 'lost' ? 'stale' : 'nothing yet'}
            </span>
          )}
        </dd>
      </dl>
      <Plot
        height={height}
        axis={head}
        lines={lines}
        bands={bands}
        clips={NO_BANDS}
        span={span}
        view={view}
        startUs={startUs}
      />
    </div>
  );
}
