import { useMemo, useState, type KeyboardEvent, type PointerEvent } from 'react';
import type { Bits, Message, SideName } from '../../../model/index.ts';
import { change } from '../../actions/change.ts';
import { select } from '../../actions/navigate.ts';
import { useWorkbenchStore } from '../../state/store.ts';
import { dragDistance, layBits, moveField, pagesOf, resizeField } from './bit-layout.ts';
import { signalShade } from './shade.ts';

interface BitGridProps {
  readonly side: SideName;
  readonly message: Message;
  readonly signalId: string | null;
}

interface Drag {
  readonly index: number;
  readonly from: number;
  readonly to: number;
}

/**
 * The bits of a frame. A field is moved by dragging it or with the arrow keys, made longer or shorter with Shift and an arrow,
 * and turned round with B. Bits held twice are marked with an exclamation mark.
 */
export function BitGrid({ side, message, signalId }: BitGridProps) {
  const store = useWorkbenchStore();
  const pages = useMemo(() => pagesOf(message), [message]);
  const [page, setPage] = useState<ReadonlyMap<string, string>>(new Map());
  const [drag, setDrag] = useState<Drag | null>(null);
  const shown = useMemo(() => {
    const moved =
      drag &&
      moveField(
        message.signals[drag.index]!.bits,
        dragDistance(drag.from, drag.to, message.signals[drag.index]!.bits.order),
        message.length,
      );
    return moved
      ? { ...message, signals: message.signals.with(drag.index, { ...message.signals[drag.index]!, bits: moved }) }
      : message;
  }, [message, drag]);
  const bytes = useMemo(() => layBits(shown, page), [shown, page]);
  const chosen = message.signals.findIndex(({ id }) => id === signalId);

  const setBits = (index: number, bits: Bits | null): void => {
    const signal = message.signals[index]!;
    if (!bits || JSON.stringify(bits) === JSON.stringify(signal.bits)) return;
    change(store, `move the bits of ${signal.id}`, [
      { do: 'set', in: side, path: ['messages', { id: message.id }, 'signals', { id: signal.id }, 'bits'], to: bits },
    ]);
  };
  const choose = (index: number): void => select(store, `${side}:${message.id}.${message.signals[index]!.id}`);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'Enter' || event.key === ']' || event.key === '[') {
      const step = event.key === '[' ? -1 : 1;
      if (message.signals.length > 0) choose((chosen + step + message.signals.length) % message.signals.length);
      event.preventDefault();
      return;
    }
    if (chosen < 0) return;
    const { bits } = message.signals[chosen]!;
    const steps: Readonly<Record<string, number>> = {
      ArrowLeft: bits.order === 'little' ? 1 : -1,
      ArrowRight: bits.order === 'little' ? -1 : 1,
      ArrowDown: 8,
      ArrowUp: -8,
    };
    const step = steps[event.key];
    if (step !== undefined)
      setBits(
        chosen,
        event.shiftKey
          ? resizeField(bits, event.key === 'ArrowLeft' || event.key === 'ArrowDown' ? 1 : -1, message.length)
          : moveField(bits, step, message.length),
      );
    else if (event.key === 'b')
      setBits(chosen, moveField({ ...bits, order: bits.order === 'little' ? 'big' : 'little' }, 0, message.length));
    else return;
    event.preventDefault();
  };

  const bitAt = (event: PointerEvent): number | null => {
    const element = document.elementFromPoint(event.clientX, event.clientY)?.closest('[data-bit]');
    return element instanceof HTMLElement ? Number(element.dataset['bit']) : null;
  };
  const onPointerMove = (event: PointerEvent): void => {
    if (!drag) return;
    const bit = bitAt(event);
    if (bit !== null && bit !== drag.to) setDrag({ ...drag, to: bit });
  };
  const onPointerUp = (): void => {
    if (!drag) return;
    const { bits } = message.signals[drag.index]!;
    if (drag.from !== drag.to)
      setBits(drag.index, moveField(bits, dragDistance(drag.from, drag.to, bits.order), message.length));
    setDrag(null);
  };

  return (
    <div className="bit-grid-frame">
      {pages.map(({ by, values }) => (
        <label key={by} className="soft">
          Page of {by}{' '}
          <select
            className="field"
            value={page.get(by) ?? ''}
            onChange={(event) =>
              setPage(
                new Map(
                  event.target.value === ''
                    ? [...page].filter(([name]) => name !== by)
                    : [...page, [by, event.target.value]],
                ),
              )
            }
          >
            <option value="">all together</option>
            {values.map((value) => (
              <option key={value} value={value}>
                {value}
              </option>
            ))}
          </select>
        </label>
      ))}
      <div
        className="bit-grid"
        role="group"
        aria-roledescription="bit layout"
        aria-label={`Bits of ${message.id}: Enter chooses the next signal, arrows move it, Shift with arrows changes its length, B turns its byte order${chosen >= 0 ? `. ${message.signals[chosen]!.id}: start ${message.signals[chosen]!.bits.start}, length ${message.signals[chosen]!.bits.length}, ${message.signals[chosen]!.bits.order} endian` : ''}`}
        tabIndex={0}
        onKeyDown={onKeyDown}
        onPointerMove={onPointerMove}
        onPointerUp={onPointerUp}
        onPointerLeave={() => setDrag(null)}
      >
        <div className="bit-row" aria-hidden="true">
          <span className="bit-byte" />
          {[7, 6, 5, 4, 3, 2, 1, 0].map((n) => (
            <span key={n} className="bit-head">
              {n}
            </span>
          ))}
        </div>
        {bytes.map((cells, byte) => (
          <div key={byte} className="bit-row" aria-hidden="true">
            <span className="bit-byte">{byte}</span>
            {cells.map(({ bit, signals }) => {
              const [first] = signals;
              const signal = first === undefined ? null : message.signals[first]!;
              const isOverlap = signals.length > 1;
              return (
                <span
                  key={bit}
                  className="bit"
                  data-bit={bit}
                  data-chosen={signals.includes(chosen)}
                  data-overlap={isOverlap}
                  style={signal ? { background: signalShade(first!) } : undefined}
                  title={`bit ${bit}: ${signals.length === 0 ? 'unused' : signals.map((index) => message.signals[index]!.id).join(', ')}`}
                  onPointerDown={(event) => {
                    if (first === undefined) return;
                    event.preventDefault();
                    const index = signals.includes(chosen) ? chosen : first;
                    choose(index);
                    setDrag({ index, from: bit, to: bit });
                  }}
                >
                  {signals.length === 0 ? '' : isOverlap ? '!' : first! + 1}
                </span>
              );
            })}
          </div>
        ))}
      </div>
    </div>
  );
}
