import { partsOf } from '../../can/index.ts';
import type { Message, Signal } from '../../model/index.ts';

/** One bit of a frame as it is drawn: DBC bit number 8·byte + bit, bit 7 at the left. */
export interface FrameCell {
  readonly byte: number;
  readonly bit: number;
  readonly isField: boolean;
  /** Whether the field sets it; null where another field, or nothing, lies, and where there is no raw value. */
  readonly isSet: boolean | null;
}

/** The bits a raw value puts into its field, as an unsigned number; floats by their IEEE 754 encoding. */
export function rawPattern({ number, bits }: Signal, raw: bigint | number): bigint {
  if (number === 'float32' || number === 'float64') {
    const view = new DataView(new ArrayBuffer(8));
    if (number === 'float64') view.setFloat64(0, Number(raw));
    else view.setFloat32(0, Number(raw));
    return number === 'float64' ? view.getBigUint64(0) : BigInt(view.getUint32(0));
  }
  return BigInt.asUintN(bits.length, BigInt(raw));
}

const MOST_ROWS = 8;

/**
 * The bits of a frame, byte by byte, with those of one field lit. Of a frame longer than eight bytes, eight from the field's
 * first byte on (the field of at most 64 bits lies in nine at most; the ninth follows then).
 */
export function frameCells(
  message: Pick<Message, 'length'>,
  signal: Signal | null,
  raw: bigint | number | null,
): readonly FrameCell[] {
  const weightAt = new Map<number, number>();
  const parts = signal ? partsOf(signal.bits) : [];
  for (const { byte, shift, width, weight } of parts)
    for (let bit = 0; bit < width; bit += 1) weightAt.set(byte * 8 + shift + bit, weight + bit);
  const touched = parts.map(({ byte }) => byte);
  const last = Math.max(message.length - 1, ...touched);
  const isLong = last >= MOST_ROWS;
  const from = isLong && touched.length > 0 ? Math.max(0, Math.min(Math.min(...touched), last - MOST_ROWS + 1)) : 0;
  const to = isLong ? Math.max(from + MOST_ROWS - 1, ...touched) : last;
  const pattern = signal && raw !== null ? rawPattern(signal, raw) : null;
  const cells: FrameCell[] = [];
  for (let byte = from; byte <= to; byte += 1) {
    for (let bit = 7; bit >= 0; bit -= 1) {
      const weight = weightAt.get(byte * 8 + bit);
      cells.push({
        byte,
        bit,
        isField: weight !== undefined,
        isSet: weight === undefined || pattern === null ? null : ((pattern >> BigInt(weight)) & 1n) === 1n,
      });
    }
  }
  return cells;
}
