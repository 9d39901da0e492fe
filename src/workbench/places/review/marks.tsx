import type { FailureStanding, StepStatus, WalkElement } from '../../../compare/index.ts';
import type { RowChange } from './align.ts';
import { STATUS_WORDS } from './view.ts';

/** How a step stands, by shape: a ring nobody has filled, a tick, a question, a cross in a square, a ring broken. */
export function StatusMark({ status }: { readonly status: StepStatus }) {
  return (
    <svg className="status-mark" data-status={status} viewBox="0 0 18 18" role="img" aria-label={STATUS_WORDS[status]}>
      {status === 'open' ? (
        <circle cx={9} cy={9} r={6} />
      ) : status === 'stale' ? (
        <>
          <circle cx={9} cy={9} r={6} strokeDasharray="3.2 3" />
          <path d="M6 9H12" />
        </>
      ) : status === 'agreed' ? (
        <path d="M3.5 9.5L7.5 13.5L14.5 5" />
      ) : status === 'question' ? (
        <>
          <rect x={2} y={2} width={14} height={14} rx={7} />
          <text x={9} y={13}>
            ?
          </text>
        </>
      ) : (
        <>
          <rect x={2.5} y={2.5} width={13} height={13} />
          <path d="M5.5 5.5L12.5 12.5M12.5 5.5L5.5 12.5" />
        </>
      )}
    </svg>
  );
}

const CHANGE_SIGNS: Readonly<Record<RowChange, string>> = {
  same: '',
  added: '+',
  removed: '−',
  changed: '≠',
  renamed: '→',
};

/** What happened to a thing between two revisions: a sign in a shape of its own, with its word. */
export function ChangeMark({ change, what }: { readonly change: RowChange; readonly what?: string }) {
  if (change === 'same') return null;
  return (
    <span className="change-mark" data-change={change}>
      <span className="change-sign" aria-hidden="true">
        {CHANGE_SIGNS[change]}
      </span>
      {change}
      {what === undefined || what === '' ? null : <span className="soft"> {what}</span>}
    </span>
  );
}

const FAILURE_WORDS: Readonly<Record<FailureStanding, readonly [string, string]>> = {
  safe: ['▽', 'as the safe state'],
  against: ['▲', 'against the safe state'],
  undecided: ['?', 'for you to judge'],
};

/** How a failure stands to the safe state. */
export function FailureMark({ standing }: { readonly standing: FailureStanding }) {
  const [sign, words] = FAILURE_WORDS[standing];
  return (
    <span className="failure-mark" data-standing={standing}>
      <span aria-hidden="true">{sign}</span> {words}
    </span>
  );
}

/** One element of a path as drawn: the line of the way goes through what carries, past what supplies. */
export function ElementMark({
  element,
  isFirst,
  isLast,
}: {
  readonly element: WalkElement;
  readonly isFirst: boolean;
  readonly isLast: boolean;
}) {
  const { kind, role, programmable } = element;
  return (
    <svg className="element-mark" viewBox="0 0 48 34" preserveAspectRatio="xMidYMin" aria-hidden="true">
      {isFirst ? null : <path className="way-line" d="M16 0V17" />}
      {isLast ? null : <path className="way-line" d="M16 17V34" />}
      {role === 'supplies' ? (
        <>
          <path className="side-line" d="M16 17H34" />
          {kind === 'ground' ? (
            <path className="shape" d="M34 10V24M38 13V21M42 15.5V18.5" />
          ) : (
            <>
              <circle className="shape" cx={39} cy={17} r={5.5} />
              <path className="shape" d="M36.5 17H41.5M39 14.5V19.5" />
            </>
          )}
        </>
      ) : (
        <Shape kind={kind} role={role} programmable={programmable} />
      )}
    </svg>
  );
}

function Shape({ kind, role, programmable }: Pick<WalkElement, 'kind' | 'role' | 'programmable'>) {
  if (role === 'source') return <Block programmable={programmable} dot />;
  if (role === 'reads') return <path className="shape filled-ground" d="M7 8H25V20L16 27L7 20Z" />;
  switch (kind) {
    case 'wire':
      return null;
    case 'connector':
    case 'in-line-connector':
      return <path className="shape filled-ground" d="M10 11H22M10 23H22M13 11V23M19 11V23" />;
    case 'splice':
      return <circle className="shape filled" cx={16} cy={17} r={4} />;
    case 'bus':
      return <path className="shape heavy" d="M6 14H26M6 20H26" />;
    case 'port':
      return <rect className="shape filled-ground" x={11} y={12} width={10} height={10} />;
    case 'pin':
      return <circle className="shape filled-ground" cx={16} cy={17} r={5.5} />;
    case 'relay':
      return (
        <>
          <rect className="shape filled-ground" x={7} y={9} width={18} height={16} />
          <path className="shape" d="M16 9V13L21 20M16 25V21" />
          {programmable ? <path className="shape heavy" d="M25 17H30" /> : null}
        </>
      );
    case 'diode':
      return <path className="shape filled-ground" d="M10 11H22L16 22ZM10 22H22" />;
    case 'fuse':
    case 'resistor':
      return <rect className="shape filled-ground" x={12} y={9} width={8} height={16} />;
    default:
      return <Block programmable={programmable} dot={false} />;
  }
}

/** A module; one whose firmware decides has a second frame. */
function Block({ programmable, dot }: { readonly programmable: boolean; readonly dot: boolean }) {
  return (
    <>
      <rect className="shape filled-ground" x={6} y={8} width={20} height={18} />
      {programmable ? <rect className="shape" x={8.5} y={10.5} width={15} height={13} /> : null}
      {dot ? <circle className="shape filled" cx={16} cy={17} r={3} /> : null}
    </>
  );
}
