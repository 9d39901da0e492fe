import { useState } from 'react';
import { sideRef } from '../../../model/index.ts';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { count } from './BenchBar.tsx';
import { benchMemory, useBench } from './bench-state.ts';
import type { InferredBus } from '../../../translate/index.ts';
import type { LogNotes } from '../../worker/bench-protocol.ts';
import { benchSession } from './session.ts';
import { timeText } from './time-text.ts';

const MOST_SHOWN = 200;

/** What of the log did not enter the replay, and how to mend it. Nothing when all did. */
export function Notes() {
  const { summary } = useBench(({ summary }) => ({ summary }));
  if (summary === null) return null;
  const { cutShort, logs, refused, inferred, framesUnread, framesIn, levelsIn } = summary;
  const bad = logs.reduce((sum, log) => sum + log.bad, 0);
  const unmapped = logs.flatMap((log) => log.unmapped);
  const empty = framesIn === 0 && levelsIn === 0;
  if (
    cutShort === null &&
    bad === 0 &&
    unmapped.length === 0 &&
    refused.length === 0 &&
    framesUnread === 0 &&
    inferred.length === 0 &&
    !empty
  )
    return null;
  return (
    <section className="bench-notes" aria-label="About the log">
      {unmapped.length > 0 ? <Interfaces unmapped={unmapped} inferred={inferred} /> : null}
      {unmapped.length === 0 && inferred.length > 0 ? <Inferred inferred={inferred} /> : null}
      {cutShort === 'full' ? (
        <p className="bad">
          The recording is full at {timeText(summary.endUs - summary.startUs, 1e5)}: what comes after it in the log is
          not shown. Cut the log into parts, or use crossloom replay, which needs no memory for it.
        </p>
      ) : null}
      {cutShort === 'stopped' ? <p>Stopped: what was replayed until then is shown.</p> : null}
      {empty && unmapped.length === 0 ? (
        <p className="bad">
          No route of this map reads anything of this log: look whether its buses and frame ids are those of the
          platforms, and whether it is a candump log or a table of wire levels.
        </p>
      ) : null}
      {bad > 0 || refused.length > 0 || framesUnread > 0 ? (
        <details>
          <summary>
            {[
              bad > 0 ? `${count(bad, 'line')} could not be read` : '',
              framesUnread > 0 ? `${count(framesUnread, 'frame')} that no route reads` : '',
              refused.length > 0 ? `${count(refused.length, 'route or message')} not run` : '',
            ]
              .filter(Boolean)
              .join(' · ')}
          </summary>
          <ul className="bullets">
            {logs
              .flatMap(({ faults }) => faults)
              .slice(0, MOST_SHOWN)
              .map((fault, index) => (
                <li key={index} className="mono">
                  {fault}
                </li>
              ))}
            {refused.slice(0, MOST_SHOWN).map(({ what, id, why }) => (
              <li key={`${what} ${id} ${why}`}>
                {what === 'route' ? 'Route' : 'Message'} <span className="mono">{id}</span> is not run: {why}.
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  );
}

/** Buses that were inferred from frame ids: shown, and open to be said otherwise. */
function Inferred({ inferred }: { readonly inferred: readonly InferredBus[] }) {
  const [open, setOpen] = useState(false);
  if (open) return <Interfaces unmapped={[]} inferred={inferred} />;
  return (
    <p>
      Buses by their frame ids:{' '}
      {inferred.map(({ interfaceName: name, bus, ids }, index) => (
        <span key={name}>
          {index === 0 ? '' : ', '}
          <span className="mono">{name}</span> is <span className="mono">{bus}</span> ({count(ids, 'id')} of its own)
        </span>
      ))}
      .{' '}
      <button type="button" className="button small" onClick={() => setOpen(true)}>
        Say otherwise…
      </button>
    </p>
  );
}

/** Interface names of the log that stand for no bus, or for one that was inferred: the user says which. */
function Interfaces({
  unmapped,
  inferred,
}: {
  readonly unmapped: LogNotes['unmapped'];
  readonly inferred: readonly InferredBus[];
}) {
  const store = useWorkbenchStore();
  const memory = benchMemory(store);
  const { input, said } = useBench((state) => ({ input: state.input, said: state.buses }));
  const pairing = pairingOf(useWorkbench((state) => state.open!.history.documents));
  const [chosen, setChosen] = useState<Readonly<Record<string, string>>>(() =>
    Object.fromEntries(inferred.map(({ interfaceName, bus }) => [interfaceName, bus])),
  );
  const buses = (['host', 'donor'] as const).flatMap((side) =>
    [...pairing.side(side).buses.values()].map(({ id, title }) => ({ ref: sideRef(side, id), title: title ?? id })),
  );
  return (
    <form
      className="bench-interfaces"
      onSubmit={(event) => {
        event.preventDefault();
        const given = Object.entries(chosen).filter(([, bus]) => bus !== '');
        memory.setState({ buses: { ...said, ...Object.fromEntries(given) } });
        if (input !== null) benchSession(store).replay(input);
      }}
    >
      <p>
        <strong>Which bus was recorded where?</strong>{' '}
        {unmapped.length > 0
          ? 'The log names interfaces that stand for no bus of these platforms; their frames were left out.'
          : ''}
      </p>
      {[
        ...unmapped.map(([name, frames]) => [name, count(frames, 'frame')] as const),
        ...inferred.map(({ interfaceName, ids }) => [interfaceName, `${count(ids, 'id')} of its own`] as const),
      ].map(([name, known]) => (
        <label key={name}>
          <span className="mono">{name}</span> <span className="soft">{known}</span>
          <select
            className="field"
            value={chosen[name] ?? ''}
            onChange={(event) => setChosen({ ...chosen, [name]: event.target.value })}
          >
            {inferred.some(({ interfaceName }) => interfaceName === name) ? null : <option value="">leave out</option>}
            {buses.map(({ ref, title }) => (
              <option key={ref} value={ref}>
                {ref}: {title}
              </option>
            ))}
          </select>
        </label>
      ))}
      <button type="submit" className="button primary" disabled={!Object.values(chosen).some((bus) => bus !== '')}>
        Replay with these buses
      </button>
    </form>
  );
}
