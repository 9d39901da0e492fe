import { useId, useState } from 'react';
import type { Entry } from './entry.ts';

interface EntryFieldProps<T> {
  readonly label: string;
  readonly isLabelHidden?: boolean;
  readonly text: string;
  readonly placeholder?: string;
  readonly suffix?: string;
  readonly isNumber?: boolean;
  readonly isFirstField?: boolean;
  readonly isOptional?: boolean;
  readonly isLong?: boolean;
  readonly suggestions?: readonly string[];
  readonly read: (text: string) => Entry<T>;
  /** Takes the value; gives the reason when the document cannot take it. Undefined: the field was emptied. */
  readonly onEntry: (value: T | undefined) => string | null | void;
}

/** A field whose text counts when it is left or Enter is pressed; what cannot be taken stays, with the reason under it. */
export function EntryField<T>(props: EntryFieldProps<T>) {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [reason, setReason] = useState<string | null>(null);
  const commit = (): void => {
    if (typed === null || typed === props.text) {
      setTyped(null);
      setReason(null);
      return;
    }
    const entry: Entry<T | undefined> =
      props.isOptional && typed.trim() === '' ? { ok: true, value: undefined } : props.read(typed);
    const fault = entry.ok ? (props.onEntry(entry.value) ?? null) : entry.reason;
    setReason(fault);
    if (fault === null) setTyped(null);
  };
  const common = {
    id,
    className: props.isNumber ? 'field number' : 'field',
    value: typed ?? props.text,
    placeholder: props.placeholder,
    'aria-invalid': reason !== null || undefined,
    'aria-describedby': reason === null ? undefined : `${id}-reason`,
    'aria-label': props.isLabelHidden ? props.label : undefined,
    'data-first-field': props.isFirstField || undefined,
    onBlur: commit,
  };
  return (
    <span className="entry">
      {props.isLabelHidden ? null : <label htmlFor={id}>{props.label}</label>}
      <span className="entry-line">
        {props.isLong ? (
          <textarea {...common} onChange={(event) => setTyped(event.target.value)} />
        ) : (
          <input
            {...common}
            inputMode={props.isNumber ? 'decimal' : undefined}
            list={props.suggestions ? `${id}-list` : undefined}
            onChange={(event) => setTyped(event.target.value)}
            onKeyDown={(event) => {
              if (event.key === 'Enter') commit();
              else if (event.key === 'Escape' && typed !== null) {
                event.stopPropagation();
                setTyped(null);
                setReason(null);
              }
            }}
          />
        )}
        {props.suffix ? <span className="soft">{props.suffix}</span> : null}
      </span>
      {props.suggestions ? (
        <datalist id={`${id}-list`}>
          {props.suggestions.map((text) => (
            <option key={text} value={text} />
          ))}
        </datalist>
      ) : null}
      {reason === null ? null : (
        <span id={`${id}-reason`} className="entry-reason" role="alert">
          {reason}
        </span>
      )}
    </span>
  );
}
