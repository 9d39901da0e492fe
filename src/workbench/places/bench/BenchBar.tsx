import { attempt } from '../../actions/notices.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { benchMemory, useBench, type BenchInput } from './bench-state.ts';
import { chooseLog } from './logs.ts';
import { benchSession } from './session.ts';
import { timeText } from './time-text.ts';

/** What is replayed, and how to move through it. */
export function BenchBar({ onStimulus }: { readonly onStimulus: () => void }) {
  const store = useWorkbenchStore();
  const session = benchSession(store);
  const memory = benchMemory(store);
  const { input, phase, summary, replayed, cursorUs, stepBy } = useBench((state) => ({
    input: state.input,
    phase: state.phase,
    summary: state.summary,
    replayed: state.documents,
    cursorUs: state.cursorUs,
    stepBy: state.stepBy,
  }));
  const documents = useWorkbench((state) => state.open!.history.documents);
  const changed = phase === 'ready' && replayed !== documents;
  const choose = (beside: boolean): void => void attempt(store, 'The log was not read', () => chooseLog(store, beside));
  return (
    <header className="bench-bar">
      <div className="bench-input">
        <strong className="bench-name">{input === null ? 'No log' : nameOf(input)}</strong>
        {summary === null ? null : (
          <span className="soft">
            {timeText(summary.endUs - summary.startUs, 1e5)} · {count(summary.framesIn, 'frame')} in,{' '}
            {summary.framesOut.toLocaleString('en')} out
            {summary.levelsIn > 0 ? ` · ${count(summary.levelsIn, 'wire level')}` : ''}
          </span>
        )}
      </div>
      <div className="bench-actions" role="toolbar" aria-label="Replay">
        <button type="button" className="button" onClick={() => choose(false)}>
          Choose a log…
        </button>
        {input?.kind === 'logs' ? (
          <button
            type="button"
            className="button"
            title="A log recorded at the same time: frames of another bus, or wire levels"
            onClick={() => choose(true)}
          >
            Add a log…
          </button>
        ) : null}
        <button type="button" className="button" onClick={onStimulus}>
          Stimulus…
        </button>
        <Builds />
        {input !== null && phase !== 'running' ? (
          <button
            type="button"
            className={`button ${changed ? 'primary' : ''}`}
            title={changed ? 'The map was changed since this replay' : 'Replay the same input again'}
            onClick={() => session.replay(input)}
          >
            Replay again
          </button>
        ) : null}
      </div>
      {phase === 'ready' ? (
        <div className="bench-steps" role="toolbar" aria-label="Cursor and view">
          <button type="button" className="button" title="Frame before (←)" onClick={() => session.step(-1)}>
            ◂ Frame
          </button>
          <output className="cursor-time mono" aria-label="Cursor at">
            {timeText(cursorUs - (summary?.startUs ?? 0))}
          </output>
          <button type="button" className="button" title="Next frame (→)" onClick={() => session.step(1)}>
            Frame ▸
          </button>
          <label>
            of{' '}
            <select
              className="field"
              value={stepBy}
              onChange={(event) => memory.setState({ stepBy: event.target.value === 'all' ? 'all' : 'traced' })}
            >
              <option value="traced">the traced routes</option>
              <option value="all">all messages</option>
            </select>
          </label>
          <button
            type="button"
            className="button"
            title="To the next loss or clip, or its end (N)"
            onClick={() => session.turn(1)}
          >
            Next loss or clip
          </button>
          <span className="push bench-zoom">
            <button
              type="button"
              className="button"
              aria-label="Show less time"
              title="Show less time (+)"
              onClick={() => session.zoom(0.5, cursorUs)}
            >
              +
            </button>
            <button
              type="button"
              className="button"
              aria-label="Show more time"
              title="Show more time (−)"
              onClick={() => session.zoom(2, cursorUs)}
            >
              −
            </button>
            <button type="button" className="button" title="Show all of it (0)" onClick={() => session.showAll()}>
              Whole
            </button>
          </span>
        </div>
      ) : null}
      {changed ? (
        <p className="bench-changed" role="status">
          The map was changed since this replay: what is shown here is of the map as it was. Replay again to see the
          change.
        </p>
      ) : null}
    </header>
  );
}

/** Which build of the options is replayed; nothing where there is only one. */
function Builds() {
  const store = useWorkbenchStore();
  const memory = benchMemory(store);
  const { build, input } = useBench(({ build, input }) => ({ build, input }));
  const { options } = pairingOf(useWorkbench((state) => state.open!.history.documents));
  if (options.combinations.length < 2) return null;
  return (
    <label className="bench-build">
      Build{' '}
      <select
        className="field"
        value={build}
        onChange={(event) => {
          memory.setState({ build: Number(event.target.value) });
          if (input !== null) benchSession(store).replay(input);
        }}
      >
        {options.combinations.map((combination, index) => (
          <option key={index} value={index}>
            {[...combination.values()].join(', ')}
          </option>
        ))}
      </select>
    </label>
  );
}

function nameOf(input: BenchInput): string {
  if (input.kind === 'stimulus')
    return `Stimulus: ${input.plan.shape === 'ramp' ? 'ramps' : 'steps'} on ${input.plan.route}`;
  return input.logs.map(({ name }) => name).join(' + ');
}

export function count(many: number, of: string): string {
  return `${many.toLocaleString('en')} ${of}${many === 1 ? '' : 's'}`;
}
