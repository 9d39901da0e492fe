import { useEffect, useState } from 'react';
import '../../parts/place.css';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import './bench.css';
import { BenchBar } from './BenchBar.tsx';
import { benchMemory, useBench } from './bench-state.ts';
import { CapturePanel } from './CapturePanel.tsx';
import { EmptyBench } from './EmptyBench.tsx';
import { FrameLine } from './FrameLine.tsx';
import { Notes } from './Notes.tsx';
import { RouteTable } from './RouteTable.tsx';
import { benchSession } from './session.ts';
import { StimulusSheet } from './StimulusSheet.tsx';
import { timeText } from './time-text.ts';
import { benchKey, Traces } from './Traces.tsx';

/** Elements that have their own use for keys. */
const TYPED_INTO = /^(INPUT|TEXTAREA|SELECT)$/;

/** Replays a log or a stimulus through the map: traces on one time axis, frame by frame, every route at the cursor. */
export default function Bench() {
  const store = useWorkbenchStore();
  const memory = benchMemory(store);
  const session = benchSession(store);
  const { phase, progress, panel, isLog } = useBench((state) => ({
    phase: state.phase,
    progress: state.progress,
    panel: state.panel,
    isLog: state.input?.kind === 'logs',
  }));
  const overlay = useWorkbench((state) => state.overlay);
  const [playing, setPlaying] = useState(false);
  const quiet = playing || overlay !== null;

  useEffect(() => {
    if (quiet || phase !== 'ready') return undefined;
    const onKey = (event: KeyboardEvent): void => {
      const { target } = event;
      if (
        event.defaultPrevented ||
        (target instanceof HTMLElement && (TYPED_INTO.test(target.tagName) || target.closest('.table-scroll') !== null))
      )
        return;
      if (benchKey(event, session, memory)) event.preventDefault();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [quiet, phase, session, memory]);

  return (
    <div className="bench" data-phase={phase}>
      {phase === 'empty' ? null : <BenchBar onStimulus={() => setPlaying(true)} />}
      {phase === 'empty' ? <EmptyBench onStimulus={() => setPlaying(true)} /> : null}
      {phase === 'running' ? (
        <div className="empty" role="status" data-loading>
          <h2>Replaying</h2>
          <progress max={1} value={progress?.fraction ?? 0} aria-label="Replayed" />
          <p>
            {Math.round((progress?.fraction ?? 0) * 100)} %
            {progress && Number.isFinite(progress.timeUs) && progress.timeUs > 0
              ? `, at ${timeText(progress.timeUs % 86_400e6, 1e6)}`
              : ''}
          </p>
          <button type="button" className="button" onClick={() => session.stop()}>
            Stop and show what there is
          </button>
        </div>
      ) : null}
      {phase === 'ready' ? (
        <>
          <Notes />
          <Traces />
          <FrameLine />
          {panel === 'capture' && isLog ? <CapturePanel /> : <RouteTable />}
        </>
      ) : null}
      {playing ? <StimulusSheet onClose={() => setPlaying(false)} /> : null}
    </div>
  );
}
