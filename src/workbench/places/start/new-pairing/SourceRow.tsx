import { isId } from '../../../../model/index.ts';
import { USUAL_BIT_RATES, type DbcSource } from './draft.ts';

const LISTED = 200;

/** One DBC file of a side: the bus it describes and what was wrong in it. */
export function SourceRow({
  source,
  onChange,
  onRemove,
}: {
  readonly source: DbcSource;
  readonly onChange: (change: Partial<DbcSource>) => void;
  readonly onRemove: () => void;
}) {
  const { file, bus, bitRate, reading } = source;
  const faults = reading.faults.length + reading.moreFaults;
  const rates = [...new Set<number>([...USUAL_BIT_RATES, bitRate])].sort((a, b) => a - b);
  return (
    <li className="source">
      <div className="source-head">
        <strong>{file}</strong>
        <span className="soft">
          {reading.messages} messages, {reading.signals} signals
        </span>
        <button type="button" className="button small push" aria-label={`Take ${file} away`} onClick={onRemove}>
          Take away
        </button>
      </div>
      <div className="source-fields">
        <label className="labelled">
          Bus
          <input
            className="field"
            value={bus}
            aria-invalid={!isId(bus)}
            onChange={(event) => onChange({ bus: event.target.value })}
          />
        </label>
        <label className="labelled">
          Bit rate
          <select
            className="field"
            value={bitRate}
            onChange={(event) => onChange({ bitRate: Number(event.target.value) })}
          >
            {rates.map((rate) => (
              <option key={rate} value={rate}>
                {rate / 1000} kbit/s
              </option>
            ))}
          </select>
        </label>
      </div>
      {isId(bus) ? null : (
        <p className="bad" role="alert">
          A bus is named with letters, digits, “-” and “_”.
        </p>
      )}
      {faults === 0 ? (
        <p className="soft">Read without a fault.</p>
      ) : (
        <details>
          <summary>
            {faults} {faults === 1 ? 'fault' : 'faults'} in the file; what could be read was read
          </summary>
          <ul className="bullets faults">
            {reading.faults.slice(0, LISTED).map(({ line, column, severity, message, mend }, index) => (
              <li key={index}>
                <span className="mono">
                  {line}:{column}
                </span>{' '}
                {severity}: {message} <span className="soft">{mend}</span>
              </li>
            ))}
            {faults > LISTED ? <li>and {faults - LISTED} more</li> : null}
          </ul>
        </details>
      )}
    </li>
  );
}
