import { useId } from 'react';
import type { Interval, Rational } from '../../number/index.ts';
import { numberText, unitText } from './format.ts';
import { shareOf } from './inputs.ts';

/** A range with the value in it; the parts that the target cannot represent are hatched. */
export function RangeBar({
  interval,
  value,
  lost,
  unit,
}: {
  readonly interval: Interval;
  readonly value: Rational | null;
  readonly lost: readonly { readonly from: Rational; readonly to: Rational }[];
  readonly unit: string;
}) {
  const pattern = useId();
  const at = value === null ? null : shareOf(value, interval) * 100;
  return (
    <div className="range">
      <svg className="range-bar" aria-hidden="true">
        <defs>
          <pattern id={pattern} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <rect className="hatch-ground" width="5" height="5" />
            <path className="hatch" d="M0 0V5" />
          </pattern>
        </defs>
        <rect className="range-body" x="0" y="3" width="100%" height="6" rx="2" />
        {lost.map(({ from, to }, index) => {
          const start = shareOf(from, interval) * 100;
          const width = Math.max(1, shareOf(to, interval) * 100 - start);
          return <rect key={index} x={`${start}%`} y="3" width={`${width}%`} height="6" fill={`url(#${pattern})`} />;
        })}
        {at === null ? null : (
          <rect className="range-value" x={`${at}%`} y="0" width="3" height="12" transform="translate(-1.5 0)" />
        )}
      </svg>
      <p className="range-ends">
        <span>{numberText(interval.lo)}</span>
        {lost.length === 0 ? null : <span className="lost-word">hatched: not representable</span>}
        <span>
          {numberText(interval.hi)} {unitText(unit)}
        </span>
      </p>
    </div>
  );
}
