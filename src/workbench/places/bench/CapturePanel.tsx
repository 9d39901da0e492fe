import { useState } from 'react';
import type { CaptureReport, Mismatch, MismatchKind } from '../../../translate/index.ts';
import { select } from '../../actions/navigate.ts';
import { subjectWords } from '../../parts/subject.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { benchMemory, useBench } from './bench-state.ts';
import { count } from './BenchBar.tsx';
import { differencesOf, PanelTabs } from './PanelTabs.tsx';
import { benchSession } from './session.ts';
import { timeText } from './time-text.ts';

/** The kinds of difference in the order of their weight, and what each means. */
const KINDS: readonly (readonly [MismatchKind, string])[] = [
  ['wrong', 'a value that the map does not give'],
  ['missing', 'what should have come and did not'],
  ['late', 'after its time, or a value older than it may be'],
  ['extra', 'a frame that nobody sends by the map'],
  ['counter', 'a counter that does not go on'],
  ['checksum', 'a checksum that is not that of the frame'],
];
/** Seen around a difference that is gone to, in microseconds on each side. */
const AROUND_US = 250_000;

/** The log as a capture of the real module: what came out other than the map says, each to be gone to. */
export function CapturePanel() {
  const store = useWorkbenchStore();
  const memory = benchMemory(store);
  const { summary, input } = useBench(({ summary, input }) => ({ summary, input }));
  const capture = summary?.capture ?? null;
  const compare = (): void => {
    memory.setState({ compare: true });
    if (input !== null) benchSession(store).replay(input);
  };
  return (
    <section className="cursor-table" aria-label="Capture held against the map">
      {capture === null ? (
        <>
          <div className="place-tools">
            <PanelTabs />
          </div>
          <div className="capture-none">
            <p>
              Was this log recorded on all buses of a real vehicle or bench, with the interface module at work? Then
              what it sent can be held against what the map says should have come out: late, missing, wrong and extra,
              each with its time.
            </p>
            <button type="button" className="button primary" onClick={compare}>
              Compare as a capture
            </button>
          </div>
        </>
      ) : (
        <Differences capture={capture} startUs={summary?.startUs ?? 0} />
      )}
    </section>
  );
}

function Differences({ capture, startUs }: { readonly capture: CaptureReport; readonly startUs: number }) {
  const store = useWorkbenchStore();
  const session = benchSession(store);
  const pairing = pairingOf(useWorkbench((state) => state.open!.history.documents));
  const selection = useWorkbench((state) => state.selection);
  const [kind, setKind] = useState<MismatchKind | 'all'>('all');
  const [current, setCurrent] = useState<Mismatch | null>(null);
  const judged = capture.routes.reduce((sum, route) => sum + route.judged, 0);
  const routes = capture.routes.filter((route) => route.judged > 0).length;
  const total = differencesOf(capture);
  const isCapture = capture.frames.sent > 0;
  const listed = isCapture ? capture.mismatches.filter((each) => kind === 'all' || each.kind === kind) : [];

  const goTo = (mismatch: Mismatch): void => {
    setCurrent(mismatch);
    if (mismatch.route !== null) select(store, `route:${mismatch.route}`);
    session.show({ fromUs: mismatch.timeUs - AROUND_US, toUs: mismatch.timeUs + AROUND_US });
    session.setCursor(mismatch.timeUs);
  };
  return (
    <>
      <div className="place-tools">
        <PanelTabs />
        {isCapture ? (
          <div className="segments" role="group" aria-label="Which differences">
            <button type="button" aria-pressed={kind === 'all'} onClick={() => setKind('all')}>
              All {total.toLocaleString('en')}
            </button>
            {KINDS.filter(([each]) => capture.totals[each] > 0).map(([each, means]) => (
              <button key={each} type="button" aria-pressed={kind === each} title={means} onClick={() => setKind(each)}>
                {each} {capture.totals[each].toLocaleString('en')}
              </button>
            ))}
          </div>
        ) : null}
        <span className="soft">
          {count(judged, 'value')} of {count(routes, 'route')} held against the map
        </span>
      </div>
      <div className="table-scroll" tabIndex={0} role="region" aria-label="Differences, as a table">
        {isCapture ? <Blanks capture={capture} /> : null}
        {listed.length === 0 ? (
          <p className="table-none">
            {!isCapture
              ? 'The log holds no frame that an interface module of this map sends: record all its buses, and say which bus was recorded where.'
              : total === 0
                ? 'Nothing differs from what the map says, in what was recorded. Of what was not recorded this says nothing.'
                : 'No difference of this kind is listed.'}
          </p>
        ) : (
          <table className="capture-table">
            <thead>
              <tr>
                <th scope="col">Time</th>
                <th scope="col">Kind</th>
                <th scope="col">Concerns</th>
                <th scope="col">By the map</th>
                <th scope="col">Found</th>
                <th scope="col" className="number">
                  Times
                </th>
              </tr>
            </thead>
            <tbody>
              {listed.map((each, index) => (
                <tr
                  key={index}
                  data-selected={each === current || undefined}
                  data-kind={each.kind}
                  onClick={() => goTo(each)}
                >
                  <th scope="row">
                    <button
                      type="button"
                      className="row-title mono"
                      aria-current={each === current || undefined}
                      onClick={(event) => {
                        event.stopPropagation();
                        goTo(each);
                      }}
                    >
                      {timeText(each.timeUs - startUs)}
                    </button>
                  </th>
                  <td>
                    <span
                      className="route-state"
                      data-state={each.kind === 'late' || each.kind === 'extra' ? 'warn' : 'bad'}
                    >
                      {each.kind}
                    </span>
                  </td>
                  <td title={each.subject} data-route={each.route ?? undefined}>
                    {each.route === null ? (
                      <span className="mono">{each.subject}</span>
                    ) : (
                      subjectWords(pairing, `route:${each.route}`).title
                    )}
                  </td>
                  <td title={each.expected}>{each.expected}</td>
                  <td title={each.found}>{each.found}</td>
                  <td className="number">{each.count.toLocaleString('en')}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {listed.length > 0 && capture.mismatches.length < total ? (
          <p className="soft table-none">
            The first of each kind are listed, a row often stands for several. crossloom verify-capture lists more.
          </p>
        ) : null}
      </div>
      <span className="visually-hidden" role="status">
        {selection !== null && current !== null
          ? `Shown: ${current.kind} at ${timeText(current.timeUs - startUs)}`
          : ''}
      </span>
    </>
  );
}

/** What the log cannot answer: messages that were never heard, and sources that were never seen. */
function Blanks({ capture: { unheard, unseenSources } }: { readonly capture: CaptureReport }) {
  if (unheard.length === 0 && unseenSources.length === 0) return null;
  return (
    <details className="capture-blanks">
      <summary>
        {[
          unheard.length > 0 ? `never heard: ${unheard.length}` : '',
          unseenSources.length > 0 ? `sources never seen, their routes not judged: ${unseenSources.length}` : '',
        ]
          .filter(Boolean)
          .join(' · ')}
      </summary>
      {unheard.length > 0 ? (
        <p>
          The map sends these, and the log holds nothing of them: <span className="mono">{unheard.join(', ')}</span>
        </p>
      ) : null}
      {unseenSources.length > 0 ? (
        <p>
          The log holds nothing of these sources: <span className="mono">{unseenSources.join(', ')}</span>
        </p>
      ) : null}
    </details>
  );
}
