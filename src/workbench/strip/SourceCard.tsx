import type { Endpoint } from '../../model/index.ts';
import type { Clip, SourceInput, SourceReading, ValueDomain } from '../../translate/index.ts';
import { EndHead } from './EndHead.tsx';
import { FrameGrid } from './FrameGrid.tsx';
import { numberText, rawTexts, unitText, withUnit } from './format.ts';
import { firstInput, sliderOf } from './inputs.ts';
import { LiveField } from './LiveField.tsx';
import { RangeBar } from './RangeBar.tsx';
import { WireFacts } from './WireFacts.tsx';
import { readPhysical, readRaw } from './read-typed.ts';

interface SourceCardProps {
  readonly reference: string;
  readonly endpoint: Endpoint | null;
  readonly domain: ValueDomain | null;
  readonly reading: SourceReading;
  readonly clips: readonly Clip[];
  readonly onInput: (input: SourceInput | null) => void;
}

/** The source end: the bits of its frame, raw and physical value, to set by slider, typing or choosing. */
export function SourceCard({ reference, endpoint, domain, reading, clips, onInput }: SourceCardProps) {
  return (
    <section className="stage end-stage" aria-label={`Source ${reference}`}>
      <EndHead endpoint={endpoint} reference={reference} />
      <div className="stage-body">
        {endpoint && endpoint.kind !== 'wire' ? (
          <FrameGrid
            message={endpoint.message}
            signal={endpoint.kind === 'signal' ? endpoint.signal : null}
            raw={reading.raw}
          />
        ) : null}
        <div className="stage-values">
          <SourceValues domain={domain} reading={reading} clips={clips} onInput={onInput} />
          {endpoint?.kind === 'wire' ? <WireFacts entry={endpoint} /> : null}
        </div>
      </div>
    </section>
  );
}

function SourceValues({ domain, reading, clips, onInput }: Omit<SourceCardProps, 'reference' | 'endpoint'>) {
  if (domain === null) return <p className="strip-reason">This source names nothing.</p>;
  switch (domain.kind) {
    case 'frame':
      return <p>The whole frame, {domain.lengthBytes} bytes, byte for byte as it is sent.</p>;
    case 'text':
      return <p>Text in {domain.lengthBits} bits.</p>;
    case 'state':
      return <StateValues domain={domain} reading={reading} onInput={onInput} />;
    case 'number':
      return <NumberValues domain={domain} reading={reading} clips={clips} onInput={onInput} />;
  }
}

function StateValues({
  domain,
  reading,
  onInput,
}: {
  readonly domain: Extract<ValueDomain, { kind: 'state' }>;
  readonly reading: SourceReading;
  readonly onInput: (input: SourceInput | null) => void;
}) {
  const { value } = reading;
  const at =
    value.kind === 'state' ? `state ${value.label}` : reading.raw === null ? '' : `special ${reading.raw.toString()}`;
  return (
    <>
      <label className="live-field">
        <span className="live-label">state</span>
        <select
          className="field"
          value={at}
          onChange={(event) => {
            const chosen = event.target.value;
            if (chosen === '') onInput(null);
            else if (chosen.startsWith('state ')) onInput({ kind: 'state', label: chosen.slice(6) });
            else onInput({ kind: 'raw', raw: BigInt(chosen.slice(8)) });
          }}
        >
          {[...new Set(domain.states.map(({ label }) => label))].map((label) => (
            <option key={label} value={`state ${label}`}>
              {label}
            </option>
          ))}
          {domain.specials.map(({ raw, means, label }) => (
            <option key={raw} value={`special ${raw}`}>
              {label ?? (means === 'error' ? 'error' : 'not available')} ({raw})
            </option>
          ))}
          <option value="">source lost</option>
        </select>
      </label>
      {domain.lengthBits === null ? null : <RawLine raw={reading.raw} lengthBits={domain.lengthBits} />}
    </>
  );
}

function RawLine({ raw, lengthBits }: { readonly raw: bigint | number | null; readonly lengthBits: number }) {
  const { decimal, hex } = rawTexts(raw, lengthBits);
  return (
    <p className="raw-line">
      <span className="live-label">raw</span> <span className="number">{decimal}</span>{' '}
      <span className="mono soft">{hex}</span>
    </p>
  );
}

function NumberValues({
  domain,
  reading,
  clips,
  onInput,
}: {
  readonly domain: Extract<ValueDomain, { kind: 'number' }>;
  readonly reading: SourceReading;
  readonly clips: readonly Clip[];
  readonly onInput: (input: SourceInput | null) => void;
}) {
  const { coding, specials, unitText: unit } = domain;
  const value = reading.value.kind === 'number' ? reading.value.value : null;
  const slider = sliderOf(domain);
  const special = specials.find(({ means }) => means === 'not-available');
  const isSpecial = reading.value.kind === 'none' && reading.value.why === 'special';
  return (
    <>
      {coding?.kind === 'integer' ? (
        <LiveField
          label="raw"
          text={rawTexts(reading.raw, coding.lengthBits).decimal}
          suffix={rawTexts(reading.raw, coding.lengthBits).hex}
          onType={(text) => {
            const raw = readRaw(text, coding.lengthBits, coding.signed);
            if (raw === null) return 'write a whole number, or 0x and hexadecimal digits';
            if (raw < coding.field.lo || raw > coding.field.hi)
              return `the field holds ${coding.field.lo} … ${coding.field.hi}`;
            onInput({ kind: 'raw', raw });
            return null;
          }}
        />
      ) : reading.level !== null && coding !== null && 'of' in coding ? (
        <p className="raw-line">
          <span className="live-label">on the wire</span>{' '}
          <span className="number">{withUnit(numberText(reading.level), coding.of)}</span>
        </p>
      ) : null}
      <LiveField
        label="physical"
        text={value === null ? '–' : numberText(value)}
        suffix={unitText(unit)}
        onType={(text) => {
          const typed = readPhysical(text);
          if (typed === null) return 'write a number such as 12.5';
          onInput({ kind: 'physical', value: typed });
          return null;
        }}
      />
      {slider === null ? null : (
        <input
          type="range"
          className="slider"
          aria-label="Value of the source"
          aria-valuetext={value === null ? 'not available' : withUnit(numberText(value), unit)}
          min={0}
          max={slider.count}
          step={1}
          value={slider.positionOf(reading.raw, value)}
          onChange={(event) => onInput(slider.inputAt(Number(event.target.value)))}
        />
      )}
      {domain.interval === null ? null : <RangeBar interval={domain.interval} value={value} lost={clips} unit={unit} />}
      {special === undefined ? null : (
        <label className="tick">
          <input
            type="checkbox"
            checked={isSpecial}
            onChange={() => onInput(isSpecial ? firstInput(domain) : { kind: 'raw', raw: BigInt(special.raw) })}
          />
          not available
        </label>
      )}
    </>
  );
}
