import type { Severity } from '../../../checks/index.ts';
import type { Carrier } from '../../../model/index.ts';

const OCTAGON = '-3.3,-8 3.3,-8 8,-3.3 8,3.3 3.3,8 -3.3,8 -8,3.3 -8,-3.3';
const TRIANGLE = '0,-9 9.4,7 -9.4,7';
const LETTER: Readonly<Record<Severity, string>> = { stop: 'S', fix: 'F', look: 'L' };

/** The mark of a severity, centred on 0,0 and about 16 px wide: stop an octagon, fix a triangle, look a circle. */
export function SeverityMark({ severity }: { readonly severity: Severity }) {
  return (
    <g className="mark" data-severity={severity}>
      {severity === 'stop' ? (
        <polygon points={OCTAGON} />
      ) : severity === 'fix' ? (
        <polygon points={TRIANGLE} />
      ) : (
        <circle r={7.6} />
      )}
      <text y={severity === 'fix' ? 4.6 : 3.6}>{LETTER[severity]}</text>
    </g>
  );
}

/** The mark of a severity as a small picture of its own. */
export function SeverityIcon({ severity }: { readonly severity: Severity }) {
  return (
    <svg className="loom-icon" viewBox="-10 -10 20 20" aria-hidden="true">
      <SeverityMark severity={severity} />
    </svg>
  );
}

/** How a strand of a carrier crosses, or a loose end hangs, as a small picture for legends and counts. */
export function CarrierIcon({ carrier }: { readonly carrier: Carrier | 'loose' }) {
  return (
    <svg className="loom-icon wide" viewBox="0 0 34 14" aria-hidden="true">
      {carrier === 'loose' ? null : carrier === 'bus' ? null : (
        <rect className="icon-band" x={12} y={0} width={10} height={14} />
      )}
      {carrier === 'hard-wire' ? (
        <>
          <rect className="icon-bridge" x={11} y={3.4} width={12} height={7.2} />
          <path className="way" data-carrier="hard-wire" d="M1 7H33" />
        </>
      ) : carrier === 'interface' ? (
        <>
          <path className="way" data-carrier="interface" d="M1 7H12M22 7H33" />
          <rect className="socket" x={9.6} y={4.6} width={4.8} height={4.8} />
          <rect className="socket" x={19.6} y={4.6} width={4.8} height={4.8} />
        </>
      ) : carrier === 'bus' ? (
        <>
          <path className="way" data-carrier="bus" d="M1 3H7Q11 3 11 7V11M33 3H27Q23 3 23 7V11" />
          <path className="icon-bar" d="M6 11H28M6 13.4H28" />
        </>
      ) : (
        <>
          <path className="way loose" d="M4 7H16" />
          <circle className="loop" cx={20} cy={7} r={4} />
        </>
      )}
    </svg>
  );
}

/** The shape at an end: a filled dot gives, an open notch pointing into the module takes. */
export function EndShape({
  x,
  y,
  edge,
  role,
}: {
  readonly x: number;
  readonly y: number;
  readonly edge: 'left' | 'right';
  readonly role: 'offer' | 'need';
}) {
  if (role === 'offer') return <circle className="end offer" cx={x} cy={y} r={3.6} />;
  const into = edge === 'left' ? 1 : -1;
  return (
    <path className="end need" d={`M${x + 6 * into} ${y - 4.6}L${x - 1 * into} ${y}L${x + 6 * into} ${y + 4.6}`} />
  );
}
