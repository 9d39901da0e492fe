import { COLOUR_CODES, type CavityRow, type ConnectorPage } from '../../../wiring/index.ts';

/** With more cavities side by side, what stands in one goes under each other. */
const DENSE_FROM = 13;

/**
 * The cavities of a housing row by row as the documents list them: number, circuit, the conductor's colours with their
 * letters; cavities that stay the vehicle's, and empty ones, told apart by word and line. It is no likeness of the housing.
 */
export function Face({
  page,
  current,
  onPick,
}: {
  readonly page: ConnectorPage;
  /** Circuit keys to mark. */
  readonly current: ReadonlySet<string>;
  readonly onPick: (cavity: CavityRow) => void;
}) {
  const columns = Math.max(1, page.faceColumns, ...page.cavities.map(({ column }) => column + 1));
  const rows = Math.max(1, ...page.cavities.map(({ row }) => row + 1));
  const lines = Array.from({ length: rows }, (_, row) => page.cavities.filter((cavity) => cavity.row === row));
  return (
    <div
      className="face"
      role="group"
      aria-label={`Face of ${page.ref}`}
      data-dense={columns > DENSE_FROM || undefined}
      style={{ ['--columns' as string]: columns }}
      onKeyDown={(event) => {
        const step = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: columns, ArrowUp: -columns }[event.key];
        if (step === undefined) return;
        const buttons = [...event.currentTarget.querySelectorAll<HTMLElement>('button')];
        const to = buttons[buttons.indexOf(document.activeElement as HTMLElement) + step];
        to?.focus();
        if (to) event.preventDefault();
      }}
    >
      {lines.map((cavities, row) => (
        <div key={row} className="face-row">
          {cavities.map((cavity) => (
            <CavityCell
              key={cavity.cavity}
              cavity={cavity}
              isCurrent={cavity.conductors.some(({ key }) => current.has(key))}
              onPick={() => onPick(cavity)}
            />
          ))}
        </div>
      ))}
    </div>
  );
}

function wordsOf(cavity: CavityRow): string {
  const [first, ...more] = cavity.conductors;
  if (first)
    return `circuit ${first.circuit}${more.length > 0 ? ` and ${more.length} more` : ''}, ${first.colour}, ${first.size}, to ${first.otherEnd}`;
  if (cavity.state === 'vehicle') return `the vehicle’s own: ${cavity.vehicle ?? ''}`;
  return cavity.needsPlug ? 'empty, to be plugged' : 'empty';
}

function CavityCell({
  cavity,
  isCurrent,
  onPick,
}: {
  readonly cavity: CavityRow;
  readonly isCurrent: boolean;
  readonly onPick: () => void;
}) {
  const [first, ...more] = cavity.conductors;
  const [base, tracer] = (first?.colour ?? '').split('-');
  return (
    <button
      type="button"
      className="cavity"
      data-cavity={cavity.cavity}
      data-state={cavity.state}
      aria-current={isCurrent || undefined}
      aria-label={`Cavity ${cavity.cavity}: ${wordsOf(cavity)}`}
      title={`${cavity.cavity}: ${wordsOf(cavity)}`}
      onClick={onPick}
    >
      <span className="cavity-name">{cavity.cavity}</span>
      {first ? (
        <>
          <span className="cavity-circuit">
            {first.circuit}
            {more.length > 0 ? `+${more.length}` : ''}
          </span>
          <span className="cavity-colour" style={{ background: COLOUR_CODES[base!]?.hex }}>
            {tracer === undefined ? null : <span style={{ background: COLOUR_CODES[tracer]?.hex }} />}
          </span>
          <span className="cavity-letters">{first.colour}</span>
        </>
      ) : (
        <span className="cavity-words">
          {cavity.state === 'vehicle' ? 'vehicle' : cavity.needsPlug ? 'plug' : 'empty'}
        </span>
      )}
    </button>
  );
}
