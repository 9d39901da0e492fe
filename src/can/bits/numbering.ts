import { type BitField, type ByteOrder, partsOf } from './field.ts';

/** The bit number (DBC numbering) of the field's least significant bit. For `little` this is `start`. */
export function leastSignificantBit(field: BitField): number {
  const part = partsOf(field)[0]!;
  return part.byte * 8 + part.shift;
}

/** The bit number (DBC numbering) of the field's most significant bit. For `big` this is `start`. */
export function mostSignificantBit(field: BitField): number {
  const part = partsOf(field).at(-1)!;
  return part.byte * 8 + part.shift + part.width - 1;
}

/**
 * The field given by its least significant bit (DBC numbering), as several databases and drawings state big-endian fields.
 * Null when a big-endian field so placed would begin before byte 0.
 */
export function fieldFromLeastSignificantBit(lsb: number, length: number, order: ByteOrder): BitField | null {
  if (order === 'little') return { start: lsb, length, order };
  const start = fromSequential(toSequential(lsb) - (length - 1));
  return start < 0 ? null : { start, length, order };
}

/**
 * DBC bit number → sequential bit number, which counts in the order of the wire: 0 is the most significant bit of byte 0,
 * 7 its least, 8 the most significant bit of byte 1. A big-endian field is a plain run in this numbering. Its own inverse.
 */
export function toSequential(bit: number): number {
  return (bit & ~7) | (7 - (bit & 7));
}

/** Sequential bit number → DBC bit number; see `toSequential`. Negative numbers stay negative. */
export function fromSequential(bit: number): number {
  return (bit & ~7) | (7 - (bit & 7));
}
