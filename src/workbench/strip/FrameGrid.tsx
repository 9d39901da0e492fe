import { useMemo } from 'react';
import type { Message, Signal } from '../../model/index.ts';
import { frameCells } from './bits.ts';

const CELL = 11;
const LEFT = 14;
const TOP = 10;

/** The bits of a frame with those of one field lit: filled where the raw value has a 1. */
export function FrameGrid({
  message,
  signal,
  raw,
}: {
  readonly message: Message;
  readonly signal: Signal | null;
  readonly raw: bigint | number | null;
}) {
  const cells = useMemo(() => frameCells(message, signal, raw), [message, signal, raw]);
  const first = cells[0]?.byte ?? 0;
  const rows = (cells.at(-1)?.byte ?? -1) - first + 1;
  return (
    <svg
      className="frame-grid"
      width={LEFT + CELL * 8 + 1}
      height={TOP + CELL * rows + 1}
      role="img"
      aria-label={`${message.id}, ${message.length} bytes${signal ? `, ${signal.id} in ${signal.bits.length} bits from bit ${signal.bits.start}, ${signal.bits.order}-endian` : ''}`}
    >
      {[7, 0].map((bit) => (
        <text key={bit} className="bit-number" x={LEFT + (7 - bit) * CELL + CELL / 2} y={TOP - 3} textAnchor="middle">
          {bit}
        </text>
      ))}
      {Array.from({ length: rows }, (_, row) => (
        <text key={row} className="bit-number" x={LEFT - 4} y={TOP + row * CELL + 8.5} textAnchor="end">
          {first + row}
        </text>
      ))}
      {cells.map(({ byte, bit, isField, isSet }) => (
        <rect
          key={byte * 8 + bit}
          className="bit"
          data-field={isField || undefined}
          data-set={isSet === true || undefined}
          x={LEFT + (7 - bit) * CELL + 0.5}
          y={TOP + (byte - first) * CELL + 0.5}
          width={CELL - 1}
          height={CELL - 1}
        />
      ))}
    </svg>
  );
}
