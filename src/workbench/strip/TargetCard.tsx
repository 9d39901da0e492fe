import { useState } from 'react';
import { applyAffine } from '../../number/index.ts';
import type { Endpoint } from '../../model/index.ts';
import {
  lossWords,
  sourceFor,
  type LiveValue,
  type RouteAnalysis,
  type SourceInput,
  type TargetWriting,
  type ValueDomain,
} from '../../translate/index.ts';
import { EndHead } from './EndHead.tsx';
import { FrameGrid } from './FrameGrid.tsx';
import { errorText, numberText, rawTexts, unitText, valueText, whyNoWay, withUnit } from './format.ts';
import { LiveField } from './LiveField.tsx';
import { RangeBar } from './RangeBar.tsx';
import { WireFacts } from './WireFacts.tsx';
import { readPhysical, readRaw } from './read-typed.ts';

interface TargetCardProps {
  readonly analysis: RouteAnalysis;
  readonly endpoint: Endpoint | null;
  readonly delivered: LiveValue;
  readonly writing: TargetWriting;
  readonly onInputs: (inputs: readonly SourceInput[]) => void;
}

/** The reader's end: what is written, how far it is off, and the way back to the source. */
export function TargetCard({ analysis, endpoint, delivered, writing, onInputs }: TargetCardProps) {
  const { target, route } = analysis;
  const [why, setWhy] = useState<string | null>(null);
  /** Sets the source so that the target shows what is wanted; null when that can be done. */
  const want = (wanted: LiveValue): string | null => {
    const found = sourceFor(analysis, wanted);
    if (found.kind === 'none') {
      const reason = whyNoWay(found);
      setWhy(reason);
      return reason;
    }
    const several = found.inputs.flatMap((input) => (input.kind === 'state' ? [input.label] : []));
    setWhy(several.length > 1 ? `several states lead there: ${several.join(', ')}` : null);
    onInputs([found.inputs[0]!]);
    return null;
  };
  return (
    <section className="stage end-stage target-stage" aria-label={`Target ${route.to}`}>
      <EndHead endpoint={endpoint} reference={route.to} />
      <div className="stage-body">
        <div className="stage-values">
          <TargetValues target={target} writing={writing} want={want} />
          {endpoint?.kind === 'wire' ? <WireFacts entry={endpoint} /> : null}
          <Arising target={target} delivered={delivered} writing={writing} />
          {writing.asOnLoss && writing.value.kind === 'none' ? (
            <p className="clip-word">as on loss: {lossWords(route, target)}</p>
          ) : null}
          {why === null || target?.kind === 'number' ? null : (
            <p className="strip-reason" role="status">
              {why}
            </p>
          )}
        </div>
        {endpoint && endpoint.kind !== 'wire' ? (
          <FrameGrid
            message={endpoint.message}
            signal={endpoint.kind === 'signal' ? endpoint.signal : null}
            raw={writing.raw}
          />
        ) : null}
      </div>
    </section>
  );
}

function TargetValues({
  target,
  writing,
  want,
}: {
  readonly target: ValueDomain | null;
  readonly writing: TargetWriting;
  readonly want: (wanted: LiveValue) => string | null;
}) {
  if (target === null) return <p className="strip-reason">The target names nothing.</p>;
  switch (target.kind) {
    case 'frame':
      return <p>The same {target.lengthBytes} bytes.</p>;
    case 'text':
      return <p>Text in {target.lengthBits} bits.</p>;
    case 'state': {
      const label = writing.value.kind === 'state' ? writing.value.label : '';
      const raw = target.lengthBits === null ? null : rawTexts(writing.raw, target.lengthBits);
      return (
        <>
          <label className="live-field">
            <span className="live-label">state</span>
            <select
              className="field"
              value={label}
              onChange={(event) => want({ kind: 'state', label: event.target.value })}
            >
              {label === '' ? <option value="">{valueText(writing.value, '')}</option> : null}
              {[...new Set(target.states.map((state) => state.label))].map((name) => (
                <option key={name} value={name}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          {raw === null ? null : (
            <p className="raw-line">
              <span className="live-label">raw</span> <span className="number">{raw.decimal}</span>{' '}
              <span className="mono soft">{raw.hex}</span>
            </p>
          )}
        </>
      );
    }
    case 'number': {
      const { coding } = target;
      const value = writing.value.kind === 'number' ? writing.value.value : null;
      return (
        <>
          <LiveField
            label="physical"
            text={value === null ? '–' : numberText(value)}
            suffix={unitText(target.unitText)}
            onType={(text) => {
              const typed = readPhysical(text);
              return typed === null ? 'write a number such as 12.5' : want({ kind: 'number', value: typed });
            }}
          />
          {coding?.kind === 'integer' ? (
            <LiveField
              label="raw"
              text={rawTexts(writing.raw, coding.lengthBits).decimal}
              suffix={rawTexts(writing.raw, coding.lengthBits).hex}
              onType={(text) => {
                const raw = readRaw(text, coding.lengthBits, coding.signed);
                if (raw === null) return 'write a whole number, or 0x and hexadecimal digits';
                return want({ kind: 'number', value: applyAffine(coding.scaling, { num: raw, den: 1n }) });
              }}
            />
          ) : writing.level !== null && coding !== null && 'of' in coding ? (
            <p className="raw-line">
              <span className="live-label">on the wire</span>{' '}
              <span className="number">{withUnit(numberText(writing.level), coding.of)}</span>
            </p>
          ) : null}
          {target.interval === null ? null : (
            <RangeBar interval={target.interval} value={value} lost={[]} unit={target.unitText} />
          )}
        </>
      );
    }
  }
}

/** Clipping and rounding, where they arise: on the way into the field. */
function Arising({
  target,
  delivered,
  writing,
}: {
  readonly target: ValueDomain | null;
  readonly delivered: LiveValue;
  readonly writing: TargetWriting;
}) {
  if (target?.kind !== 'number' || writing.error === null || delivered.kind !== 'number') return null;
  const unit = target.unitText;
  if (writing.clipped !== 'none') {
    return (
      <p className="clip-word">
        clipped at {valueText(writing.value, unit)}: {valueText(delivered, unit)} does not fit
      </p>
    );
  }
  return (
    <p className="soft">
      rounding <span className="number">{errorText(writing.error, unit)}</span>
    </p>
  );
}
