import { useId, useState, type KeyboardEvent } from 'react';
import { matching, type Choice } from './choices.ts';

interface ComboProps {
  readonly label: string;
  readonly value: string;
  readonly choices: readonly Choice[];
  readonly placeholder?: string;
  readonly isFirstField?: boolean;
  /** Null: nothing is chosen any more (only asked when `isOptional`). Gives the reason when it cannot be taken. */
  readonly onChoose: (value: string | null) => string | null;
  readonly isOptional?: boolean;
  readonly clearsOnChoose?: boolean;
}

/** A field with a list that narrows as one types; only what is in the list can be chosen. */
export function Combo(props: ComboProps) {
  const { label, value, choices } = props;
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [at, setAt] = useState(0);
  const [reason, setReason] = useState<string | null>(null);
  const isOpen = typed !== null;
  const hits = isOpen ? matching(choices, typed) : [];
  const shown = choices.find((choice) => choice.value === value);

  const settle = (choice: string | null): void => {
    const fault = props.onChoose(choice);
    setReason(fault);
    setTyped(null);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      if (!isOpen) setTyped('');
      else setAt(Math.max(0, Math.min(hits.length - 1, at + (event.key === 'ArrowDown' ? 1 : -1))));
    } else if (event.key === 'Enter' && isOpen) {
      if (props.isOptional && typed === '') settle(null);
      else if (hits[at]) settle(hits[at].value);
      else setReason('nothing in the list has these words');
    } else if (event.key === 'Escape' && isOpen) setTyped(null);
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div className="combo">
      <input
        className="field"
        role="combobox"
        aria-label={label}
        aria-expanded={isOpen}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={isOpen && hits[at] ? `${id}-${at}` : undefined}
        aria-invalid={reason !== null || undefined}
        aria-describedby={reason === null ? undefined : `${id}-reason`}
        data-first-field={props.isFirstField || undefined}
        placeholder={props.placeholder}
        value={typed ?? (props.clearsOnChoose ? '' : (shown?.label ?? value))}
        title={value}
        onFocus={(event) => event.target.select()}
        onChange={(event) => {
          setTyped(event.target.value);
          setAt(0);
          setReason(null);
        }}
        onClick={() => (isOpen ? undefined : setTyped(''))}
        onBlur={() => setTyped(null)}
        onKeyDown={onKeyDown}
      />
      <ul id={`${id}-list`} role="listbox" aria-label={label} className="combo-list" hidden={!isOpen}>
        {hits.map((choice, index) => (
          <li
            key={choice.value}
            id={`${id}-${index}`}
            role="option"
            aria-selected={index === at}
            onMouseDown={(event) => {
              event.preventDefault();
              settle(choice.value);
            }}
          >
            <span>{choice.label}</span> <span className="soft">{choice.note}</span>
          </li>
        ))}
      </ul>
      {reason === null ? null : (
        <p id={`${id}-reason`} className="entry-reason" role="alert">
          {reason}
        </p>
      )}
    </div>
  );
}
