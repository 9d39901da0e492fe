import { memo, useEffect, useRef, type KeyboardEvent, type MouseEvent } from 'react';
import type { Pairing, Route } from '../../../model/index.ts';
import type { RouteColumn } from './columns.ts';

interface CellProps {
  readonly id: string;
  readonly column: RouteColumn;
  readonly route: Route;
  readonly pairing: Pairing;
  readonly isActive: boolean;
  readonly editing: { readonly text: string } | null;
  readonly onPick: (event: MouseEvent) => void;
  readonly onEdit: () => void;
  /** The text and how many rows to move on. */
  readonly onCommit: (text: string, down: number) => void;
  readonly onCancel: () => void;
}

/** One cell: its text, or a field while it is edited. */
export const Cell = memo(function Cell({
  id,
  column,
  route,
  pairing,
  isActive,
  editing,
  onPick,
  onEdit,
  onCommit,
  onCancel,
}: CellProps) {
  const text = column.text(route, pairing);
  return (
    <span
      id={id}
      role="gridcell"
      className={`routes-cell${column.mono ? ' mono' : ''}`}
      data-active={isActive}
      aria-readonly={column.set === undefined}
      style={{ textAlign: column.align }}
      title={editing ? undefined : text}
      onMouseDown={(event) => (editing ? undefined : onPick(event))}
      onDoubleClick={onEdit}
    >
      {editing ? (
        <CellField column={column} pairing={pairing} text={editing.text} onCommit={onCommit} onCancel={onCancel} />
      ) : (
        text
      )}
    </span>
  );
});

function CellField({
  column,
  pairing,
  text,
  onCommit,
  onCancel,
}: {
  readonly column: RouteColumn;
  readonly pairing: Pairing;
  readonly text: string;
  readonly onCommit: CellProps['onCommit'];
  readonly onCancel: () => void;
}) {
  const field = useRef<HTMLInputElement & HTMLSelectElement>(null);
  const finished = useRef(false);
  useEffect(() => field.current?.focus(), []);
  const finish = (down: number): void => {
    if (finished.current) return;
    finished.current = true;
    onCommit(field.current?.value ?? '', down);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    event.stopPropagation();
    if (event.key === 'Enter') finish(event.shiftKey ? -1 : 1);
    else if (event.key === 'Tab') finish(0);
    else if (event.key === 'Escape') {
      finished.current = true;
      onCancel();
    } else return;
    event.preventDefault();
  };
  const common = {
    ref: field,
    className: 'routes-field',
    'aria-label': column.title,
    defaultValue: text,
    onKeyDown,
    onBlur: () => finish(0),
  };
  const choices = column.choices?.(pairing);
  if (!choices) return <input {...common} />;
  return (
    <select {...common}>
      {choices.map((choice) => (
        <option key={choice} value={choice}>
          {choice === '' ? '–' : choice}
        </option>
      ))}
    </select>
  );
}
