import { fitsIn, occupiedBits } from '../../../can/index.ts';
import type { Bits, Message } from '../../../model/index.ts';

/** One bit of the frame: the signals that hold it, by their index. */
export interface BitCell {
  readonly bit: number;
  readonly signals: readonly number[];
}

/** Whether a signal can be in a frame whose selectors stand at these raw values (absent: any). */
function isSelected(message: Message, index: number, page: ReadonlyMap<string, string>): boolean {
  const { multiplexed } = message.signals[index]!;
  if (!multiplexed) return true;
  const chosen = page.get(multiplexed.by);
  if (chosen === undefined) return true;
  return multiplexed.on.some((on) =>
    Array.isArray(on) ? BigInt(on[0]) <= BigInt(chosen) && BigInt(chosen) <= BigInt(on[1]) : String(on) === chosen,
  );
}

/** The bits of a message byte by byte, most significant bit first, with the signals that occupy them. */
export function layBits(
  message: Message,
  page: ReadonlyMap<string, string> = new Map(),
): readonly (readonly BitCell[])[] {
  const held: number[][] = Array.from({ length: message.length * 8 }, () => []);
  message.signals.forEach(({ bits }, index) => {
    if (!isSelected(message, index, page)) return;
    const mask = occupiedBits(bits);
    for (let bit = 0; bit < held.length; bit += 1) if ((mask >> BigInt(bit)) & 1n) held[bit]!.push(index);
  });
  return Array.from({ length: message.length }, (_, byte) =>
    Array.from({ length: 8 }, (_bit, n) => ({ bit: byte * 8 + 7 - n, signals: held[byte * 8 + 7 - n]! })),
  );
}

/** The selectors of a message, each with the raw values that select something (at most 64). */
export function pagesOf(message: Message): readonly { readonly by: string; readonly values: readonly string[] }[] {
  const by = new Map<string, Set<string>>();
  for (const { multiplexed } of message.signals) {
    if (!multiplexed) continue;
    const values = by.get(multiplexed.by) ?? new Set();
    for (const on of multiplexed.on) if (values.size < 64) values.add(String(Array.isArray(on) ? on[0] : on));
    by.set(multiplexed.by, values);
  }
  return [...by].map(([selector, values]) => ({ by: selector, values: [...values] }));
}

/** Steps along the bits in the order a field of this byte order runs: sequential number of a bit and back. */
function sequence(bit: number, order: Bits['order']): number {
  return order === 'little' ? bit : (bit >> 3) * 8 + (7 - (bit & 7));
}

/** A field moved by so many bits along its own order; null when it would leave the frame. */
export function moveField(bits: Bits, by: number, lengthBytes: number): Bits | null {
  const at = sequence(bits.start, bits.order) + by;
  if (at < 0) return null;
  const moved = { ...bits, start: sequence(at, bits.order) };
  return moved.start < 512 && fitsIn(moved, lengthBytes) ? moved : null;
}

/** A field made longer or shorter; null when it would leave the frame or have no bit. */
export function resizeField(bits: Bits, by: number, lengthBytes: number): Bits | null {
  const resized = { ...bits, length: bits.length + by };
  return resized.length >= 1 && resized.length <= 64 && fitsIn(resized, lengthBytes) ? resized : null;
}

/** How far a drag from one bit to another moves a field. */
export function dragDistance(from: number, to: number, order: Bits['order']): number {
  return sequence(to, order) - sequence(from, order);
}
