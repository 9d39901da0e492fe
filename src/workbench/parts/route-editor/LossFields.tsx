import type { LossBehaviour, Route } from '../../../model/index.ts';
import type { ValueDomain } from '../../../translate/index.ts';
import { unitSymbol } from '../../../units/index.ts';
import { EntryField } from './EntryField.tsx';
import { readExact, readMs, readState, readWhole } from './entry.ts';
import type { RouteChange } from './edits.ts';

interface LossFieldsProps {
  readonly route: Route;
  readonly target: ValueDomain | null;
  readonly onChange: (title: string, change: RouteChange) => string | null;
}

const KINDS = [
  ['', 'not said'],
  ['hold', 'hold the last value'],
  ['substitute', 'give something instead'],
  ['stop-sending', 'stop sending'],
  ['open-output', 'open the output'],
] as const;

function firstLoss(kind: string, target: ValueDomain | null): LossBehaviour | undefined {
  switch (kind) {
    case 'hold':
      return { do: 'hold' };
    case 'substitute': {
      if (target !== null && 'specials' in target && target.specials.length > 0)
        return { do: 'substitute', notAvailable: true };
      if (target?.kind === 'state' && target.states[0]) return { do: 'substitute', state: target.states[0].label };
      return { do: 'substitute', value: 0 };
    }
    case 'stop-sending':
    case 'open-output':
      return { do: kind };
    default:
      return undefined;
  }
}

/** When a source counts as lost, what the reader is given then, and at start. */
export function LossFields({ route, target, onChange }: LossFieldsProps) {
  const { onLoss } = route;
  const set = (next: LossBehaviour | undefined): string | null =>
    onChange('change the loss behaviour', { onLoss: next });
  return (
    <section>
      <h3>On loss</h3>
      <div className="field-pair">
        <EntryField
          label="stale after"
          text={route.staleAfterMs === undefined ? '' : String(route.staleAfterMs)}
          isNumber
          isOptional
          suffix="ms"
          read={(text) => readMs(text, 'above-zero')}
          onEntry={(staleAfterMs) => onChange('change the staleness', { staleAfterMs })}
        />
        <EntryField
          label="back after"
          text={route.recoverAfter === undefined ? '' : String(route.recoverAfter)}
          isNumber
          isOptional
          suffix="good samples"
          read={(text) => readWhole(text, 1, 1000)}
          onEntry={(recoverAfter) => onChange('change the recovery', { recoverAfter })}
        />
      </div>
      <span className="entry">
        <label>
          then
          <select
            className="field"
            value={onLoss?.do ?? ''}
            onChange={(event) => set(firstLoss(event.target.value, target))}
          >
            {KINDS.map(([kind, words]) => (
              <option key={kind} value={kind}>
                {words}
              </option>
            ))}
          </select>
        </label>
      </span>
      {onLoss?.do === 'hold' ? (
        <div className="field-pair">
          <EntryField
            label="hold for"
            text={onLoss.forMs === undefined ? '' : String(onLoss.forMs)}
            isNumber
            isOptional
            suffix="ms"
            read={(text) => readMs(text, 'above-zero')}
            onEntry={(forMs) => set(forMs === undefined ? { do: 'hold' } : { ...onLoss, forMs })}
          />
          <span className="entry">
            <label>
              and then
              <select
                className="field"
                value={onLoss.then ?? ''}
                disabled={onLoss.forMs === undefined}
                onChange={(event) => {
                  const { then: _then, ...rest } = onLoss;
                  set(
                    event.target.value === ''
                      ? rest
                      : { ...rest, then: event.target.value as NonNullable<typeof onLoss.then> },
                  );
                }}
              >
                <option value="">nothing more</option>
                <option value="not-available">not available</option>
                <option value="stop-sending">stop sending</option>
                <option value="open-output">open the output</option>
              </select>
            </label>
          </span>
        </div>
      ) : null}
      {onLoss?.do === 'substitute' ? <Substitute loss={onLoss} target={target} onLoss={set} /> : null}
      <span className="entry">
        <label>
          at start
          <select
            className="field"
            value={route.atStart ?? ''}
            onChange={(event) =>
              onChange('change what happens at start', {
                atStart: event.target.value === '' ? undefined : (event.target.value as NonNullable<Route['atStart']>),
              })
            }
          >
            <option value="">not said</option>
            <option value="not-available">not available</option>
            <option value="loss-behaviour">as on loss</option>
            <option value="stop-sending">do not send yet</option>
          </select>
        </label>
      </span>
    </section>
  );
}

function Substitute({
  loss,
  target,
  onLoss,
}: {
  readonly loss: Extract<LossBehaviour, { do: 'substitute' }>;
  readonly target: ValueDomain | null;
  readonly onLoss: (loss: LossBehaviour) => string | null;
}) {
  const what = loss.notAvailable ? 'not-available' : loss.state === undefined ? 'value' : 'state';
  const states = target?.kind === 'state' ? target.states.map(({ label }) => label) : [];
  return (
    <div className="field-pair">
      <span className="entry">
        <label>
          give
          <select
            className="field"
            value={what}
            onChange={(event) => {
              const kind = event.target.value;
              if (kind === 'not-available') onLoss({ do: 'substitute', notAvailable: true });
              else if (kind === 'state') onLoss({ do: 'substitute', state: states[0] ?? 'state' });
              else onLoss({ do: 'substitute', value: 0 });
            }}
          >
            <option value="not-available">not available</option>
            <option value="state">a state</option>
            <option value="value">a value</option>
          </select>
        </label>
      </span>
      {what === 'state' ? (
        <EntryField
          label="state"
          text={loss.state ?? ''}
          suggestions={states}
          read={readState}
          onEntry={(state) => onLoss({ do: 'substitute', state: state! })}
        />
      ) : what === 'value' ? (
        <EntryField
          label="value"
          text={String(loss.value ?? '')}
          isNumber
          suffix={target?.kind === 'number' ? unitSymbol(target.unitText) : ''}
          read={readExact}
          onEntry={(value) => onLoss({ do: 'substitute', value: value! })}
        />
      ) : null}
    </div>
  );
}
