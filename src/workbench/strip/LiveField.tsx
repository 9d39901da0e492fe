import { useState } from 'react';

interface LiveFieldProps {
  readonly label: string;
  readonly text: string;
  readonly suffix: string;
  /** Takes what is typed, at once; gives the reason when it cannot. */
  readonly onType: (text: string) => string | null;
}

/** A field that acts while one types; it shows what was typed until it is left, then the value as it stands. */
export function LiveField({ label, text, suffix, onType }: LiveFieldProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const [reason, setReason] = useState<string | null>(null);
  return (
    <label className="live-field">
      <span className="live-label">{label}</span>
      <input
        className="field number"
        inputMode="decimal"
        value={typed ?? text}
        aria-invalid={reason !== null || undefined}
        onFocus={(event) => event.target.select()}
        onChange={(event) => {
          setTyped(event.target.value);
          setReason(event.target.value.trim() === '' ? null : onType(event.target.value));
        }}
        onBlur={() => {
          setTyped(null);
          setReason(null);
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter') setTyped(null);
        }}
      />
      <span className="soft">{suffix}</span>
      {reason === null ? null : (
        <span className="strip-reason" role="alert">
          {reason}
        </span>
      )}
    </label>
  );
}
