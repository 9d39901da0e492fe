import { useState } from 'react';
import { select } from '../../actions/navigate.ts';
import { subjectWords } from '../../parts/subject.ts';
import { Sheet } from '../../shell/Sheet.tsx';
import { pairingOf } from '../../state/derived.ts';
import { useWorkbench, useWorkbenchStore } from '../../state/store.ts';
import { routeOfSelection } from '../../strip/Strip.tsx';
import { valueText } from '../../strip/format.ts';
import { useBench, type BenchInput } from './bench-state.ts';
import { readingOf } from './recording/reading.ts';
import { stimulusRange, type StimulusPlan } from './recording/stimulus.ts';
import { benchSession } from './session.ts';

interface Draft {
  readonly route: string;
  readonly source: number;
  readonly shape: StimulusPlan['shape'];
  readonly periodS: number;
  readonly forS: number;
  readonly drops: boolean;
  readonly dropoutMs: number;
  readonly dropoutEveryS: number;
}

/** Longest stimulus; its frames are all kept. */
const MOST_SECONDS = 3600;

/** A made-up course for the sources of a route, where there is no log. */
export function StimulusSheet({ onClose }: { readonly onClose: () => void }) {
  const store = useWorkbenchStore();
  const { input } = useBench(({ input }) => ({ input }));
  const documents = useWorkbench((state) => state.open!.history.documents);
  const selection = useWorkbench((state) => state.selection);
  const pairing = pairingOf(documents);
  const playable = pairing.map.routes.filter(({ from }) =>
    from.every((ref) => {
      const endpoint = pairing.find(ref);
      return endpoint !== null && stimulusRange(endpoint) !== null;
    }),
  );
  const selected = routeOfSelection(pairing, selection);
  const first =
    playable.find((route) => route === selected) ??
    playable.find(({ carrier }) => carrier === 'interface') ??
    playable[0];
  const [draft, setDraft] = useState<Draft>(() => firstDraft(input, first?.id ?? '', selected?.id));
  const change = (part: Partial<Draft>): void => setDraft({ ...draft, ...part });
  const route = pairing.routes.get(draft.route);
  const sources = route?.from ?? [];
  const moved = sources[draft.source] ?? sources[0];
  const endpoint = moved === undefined ? null : pairing.find(moved);
  const range = endpoint === null ? null : stimulusRange(endpoint);
  const reading = endpoint === null ? null : readingOf(endpoint);
  const isWire = endpoint?.kind === 'wire';
  const staleMs = route?.staleAfterMs;

  const play = (): void => {
    if (range === null || route === undefined) return;
    select(store, `route:${route.id}`);
    benchSession(store).replay({
      kind: 'stimulus',
      plan: {
        route: route.id,
        source: Math.min(draft.source, sources.length - 1),
        shape: draft.shape,
        low: range.low,
        high: range.high,
        periodMs: draft.periodS * 1000,
        forMs: draft.forS * 1000,
        dropoutMs: draft.drops && !isWire ? draft.dropoutMs : 0,
        dropoutEveryMs: draft.dropoutEveryS * 1000,
      },
    });
    onClose();
  };

  return (
    <Sheet title="Play a stimulus" onClose={onClose}>
      <form
        className="stimulus"
        onSubmit={(event) => {
          event.preventDefault();
          play();
        }}
      >
        <p className="soft">
          A made-up course of values on the source of a route, sent as its own sender sends it: at its cycle, with
          counter and checksum. It runs through the same engine as a log.
        </p>
        {playable.length === 0 ? (
          <p className="bad">No route of this map has sources that can be made up: choose a log.</p>
        ) : null}
        <label>
          Route
          <select
            className="field"
            aria-label="Route"
            value={draft.route}
            onChange={(event) => change({ route: event.target.value, source: 0 })}
          >
            {playable.map(({ id }) => (
              <option key={id} value={id}>
                {subjectWords(pairing, `route:${id}`).title} — {id}
              </option>
            ))}
          </select>
        </label>
        {sources.length > 1 ? (
          <label>
            Source that moves; the others rest
            <select
              className="field"
              value={draft.source}
              onChange={(event) => change({ source: Number(event.target.value) })}
            >
              {sources.map((ref, index) => (
                <option key={ref} value={index}>
                  {ref}
                </option>
              ))}
            </select>
          </label>
        ) : null}
        {range !== null && reading !== null ? (
          <p>
            <span className="mono">{moved}</span> goes from{' '}
            {valueText(reading.valueOf(Number(range.low)), reading.unit)} to{' '}
            {valueText(reading.valueOf(Number(range.high)), reading.unit)}, its whole range.
          </p>
        ) : null}
        <fieldset>
          <legend>Course</legend>
          <label>
            <input
              type="radio"
              name="shape"
              checked={draft.shape === 'ramp'}
              onChange={() => change({ shape: 'ramp' })}
            />{' '}
            ramps, up and down again
          </label>
          <label>
            <input
              type="radio"
              name="shape"
              checked={draft.shape === 'steps'}
              onChange={() => change({ shape: 'steps' })}
            />{' '}
            steps, from the low end to the high end
          </label>
        </fieldset>
        <div className="stimulus-numbers">
          <NumberField
            label="One round takes"
            unit="s"
            value={draft.periodS}
            least={0.1}
            most={600}
            onChange={(periodS) => change({ periodS })}
          />
          <NumberField
            label="Plays for"
            unit="s"
            value={draft.forS}
            least={0.1}
            most={MOST_SECONDS}
            onChange={(forS) => change({ forS })}
          />
        </div>
        {isWire ? (
          <p className="soft">A wire cannot fall silent: there are no dropouts.</p>
        ) : (
          <>
            <label className="stimulus-check">
              <input
                type="checkbox"
                checked={draft.drops}
                onChange={(event) => change({ drops: event.target.checked })}
              />{' '}
              its message drops out now and then
            </label>
            {draft.drops ? (
              <div className="stimulus-numbers">
                <NumberField
                  label="Silent for"
                  unit="ms"
                  value={draft.dropoutMs}
                  least={1}
                  most={60_000}
                  onChange={(dropoutMs) => change({ dropoutMs })}
                />
                <NumberField
                  label="once in"
                  unit="s"
                  value={draft.dropoutEveryS}
                  least={0.1}
                  most={600}
                  onChange={(dropoutEveryS) => change({ dropoutEveryS })}
                />
              </div>
            ) : null}
            {staleMs === undefined ? null : (
              <p className="soft">The route counts its source as lost after {staleMs} ms.</p>
            )}
          </>
        )}
        <div className="sheet-actions">
          <button type="submit" className="button primary" disabled={range === null || !isUsable(draft)}>
            Play
          </button>
        </div>
      </form>
    </Sheet>
  );
}

function isUsable({ periodS, forS, dropoutMs, dropoutEveryS, drops }: Draft): boolean {
  const numbers = drops ? [periodS, forS, dropoutMs, dropoutEveryS] : [periodS, forS];
  return numbers.every((value) => Number.isFinite(value) && value > 0) && forS <= MOST_SECONDS;
}

/** What was played last, for another route where another one is selected. */
function firstDraft(input: BenchInput | null, first: string, selected: string | undefined): Draft {
  const plain: Draft = {
    route: first,
    source: 0,
    shape: 'ramp',
    periodS: 8,
    forS: 30,
    drops: true,
    dropoutMs: 1500,
    dropoutEveryS: 10,
  };
  if (input?.kind !== 'stimulus') return plain;
  const { route, source, shape, periodMs, forMs, dropoutMs, dropoutEveryMs } = input.plan;
  const same = selected === undefined || selected === route;
  return {
    route: same ? route : first,
    source: same ? source : 0,
    shape,
    periodS: periodMs / 1000,
    forS: forMs / 1000,
    drops: dropoutMs > 0,
    dropoutMs: dropoutMs > 0 ? dropoutMs : plain.dropoutMs,
    dropoutEveryS: dropoutEveryMs / 1000,
  };
}

function NumberField({
  label,
  unit,
  value,
  least,
  most,
  onChange,
}: {
  readonly label: string;
  readonly unit: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly onChange: (value: number) => void;
}) {
  return (
    <label>
      {label}
      <span className="number-field">
        <input
          className="field number"
          type="number"
          min={least}
          max={most}
          step="any"
          value={Number.isNaN(value) ? '' : value}
          onChange={(event) => onChange(event.target.valueAsNumber)}
        />
        <span className="soft">{unit}</span>
      </span>
    </label>
  );
}
