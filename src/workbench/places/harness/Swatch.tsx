import { COLOUR_CODES } from '../../../wiring/index.ts';

/** A conductor's colour: a band in it with its tracer, and always its IEC 60757 letters beside. */
export function Swatch({ colour, isBare = false }: { readonly colour: string; readonly isBare?: boolean }) {
  const [base, tracer] = colour.split('-');
  const words = colour
    .split('-')
    .map((code) => COLOUR_CODES[code]?.name ?? code)
    .join(' with ');
  return (
    <span className="swatch" title={words}>
      <svg width="22" height="10" viewBox="0 0 22 10" aria-hidden="true">
        <rect
          x="0.5"
          y="0.5"
          width="21"
          height="9"
          rx="2"
          fill={COLOUR_CODES[base!]?.hex ?? 'none'}
          className="swatch-edge"
        />
        {tracer === undefined ? null : (
          <rect x="1" y="3.5" width="20" height="3" fill={COLOUR_CODES[tracer]?.hex ?? 'none'} />
        )}
      </svg>
      {isBare ? <span className="visually-hidden">{colour}</span> : <span className="mono">{colour}</span>}
    </span>
  );
}
