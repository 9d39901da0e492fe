import { useEffect, useState } from 'react';
import { attempt } from '../../actions/notices.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { useBench } from './bench-state.ts';
import { chooseLog, logsBeside, replayPaths, type LogsBeside } from './logs.ts';

/** Before anything was replayed: what the place is for, and what to do. */
export function EmptyBench({ onStimulus }: { readonly onStimulus: () => void }) {
  const store = useWorkbenchStore();
  const { failure } = useBench(({ failure }) => ({ failure }));
  const mapPath = useWorkbench((state) => state.open!.mapPath);
  const [beside, setBeside] = useState<readonly LogsBeside[]>([]);
  useEffect(() => {
    let here = true;
    void logsBeside(store)
      .then((found) => (here ? setBeside(found) : undefined))
      // A folder that cannot be listed offers nothing; the log can still be chosen.
      .catch(() => undefined);
    return () => {
      here = false;
    };
  }, [store, mapPath]);
  const replay = (paths: readonly string[]): void =>
    void attempt(store, 'The log was not read', () => replayPaths(store, paths));
  return (
    <div className="empty bench-empty">
      <h2>Replay a recorded drive through this map</h2>
      <p>
        Drop a log here, or choose one: candump frames, or a table of wire levels (CSV). Each traced route then shows
        what its source said, what was delivered and what was written, on one time axis, with stale stretches, losses
        and clipping.
      </p>
      {failure === null ? null : <p className="bad">The last replay ended: {failure}</p>}
      <div className="bench-ways">
        <button
          type="button"
          className="button primary"
          onClick={() => void attempt(store, 'The log was not read', () => chooseLog(store, false))}
        >
          Choose a log…
        </button>
        <button type="button" className="button" onClick={onStimulus}>
          Play a stimulus…
        </button>
      </div>
      {beside.length > 0 ? (
        <>
          <h3>Logs beside this map</h3>
          <ul className="bench-beside">
            {beside.map(({ paths, names, bytes }) => (
              <li key={paths.join(' ')}>
                <button type="button" className="button" onClick={() => replay(paths)}>
                  <span>{names.join(' + ')}</span> <span className="soft">{sizeText(bytes)}</span>
                </button>
              </li>
            ))}
          </ul>
        </>
      ) : null}
      <p className="soft">
        A replay computes what the interface module does with this input. It says nothing about what was not recorded:
        the real module is proved on the bench and on the road, by a qualified person.
      </p>
    </div>
  );
}

function sizeText(bytes: number): string {
  return bytes < 1_000_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
}
