import { useBench } from './bench-state.ts';
import { timeText } from './time-text.ts';

/** The frame at the cursor, or the last one before it, with its bytes. */
export function FrameLine() {
  const { moment, summary, stepBy } = useBench(({ moment, summary, stepBy }) => ({ moment, summary, stepBy }));
  const frame = moment?.frame ?? null;
  if (frame === null)
    return (
      <p className="frame-line soft">
        No frame {stepBy === 'all' ? '' : 'of the traced routes '}before the cursor. Step with ← and →.
      </p>
    );
  return (
    <p className="frame-line">
      <span className="frame-way" data-way={frame.by === null ? 'in' : 'out'}>
        {frame.by === null ? 'received' : `sent by ${frame.by}`}
      </span>
      <span className="mono number">{timeText(frame.timeUs - (summary?.startUs ?? 0))}</span>
      <span className="mono">{frame.bus}</span>
      <span className="mono">{frame.frameId}</span>
      <strong className="mono">{frame.ref}</strong>
      <span className="mono frame-bytes">{frame.hex}</span>
    </p>
  );
}
