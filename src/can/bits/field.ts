/** How the bits of a field run over the bytes: `little` or `big` endian. */
export type ByteOrder = 'little' | 'big';

/**
 * A bit field of a payload, in DBC ("sawtooth") bit numbers: bit 8·byte + n has the weight 2^n in its byte.
 *
 *     byte 0:   7  6  5  4  3  2  1  0
 *     byte 1:  15 14 13 12 11 10  9  8
 *     byte 2:  23 22 21 20 19 18 17 16
 *
 * `start` is the field's least significant bit when `order` is `little`, its most significant one when it is `big`:
 *
 *     { start: 4, length: 8, order: 'little' }    raw = (byte1 & 0x0F) << 4 | byte0 >> 4
 *     { start: 7, length: 12, order: 'big' }      raw = byte0 << 4 | byte1 >> 4
 *
 * `length` is 1–64 bits; `start` is 0–511 (a payload has at most 64 bytes).
 */
export interface BitField {
  readonly start: number;
  readonly length: number;
  readonly order: ByteOrder;
}

/** Most bytes in a payload (CAN FD), and most bits in a field. */
export const MAX_PAYLOAD_BYTES = 64;
export const MAX_FIELD_BITS = 64;

/** A run of the field's bits inside one byte: bits `shift` … `shift + width − 1` of `byte` carry weights 2^weight upwards. */
export interface FieldPart {
  readonly byte: number;
  readonly shift: number;
  readonly width: number;
  readonly weight: number;
}

/**
 * What is wrong with the numbers of a field as such, in words, or null when it is a field.
 * Whether it fits a payload is asked with `fitsIn`.
 */
export function fieldFault(field: BitField): string | null {
  const { start, length } = field;
  if (!Number.isInteger(length) || length < 1 || length > MAX_FIELD_BITS) {
    return `length ${length} is not a whole number from 1 to ${MAX_FIELD_BITS}`;
  }
  if (!Number.isInteger(start) || start < 0 || start >= MAX_PAYLOAD_BYTES * 8) {
    return `start bit ${start} is not a whole number from 0 to ${MAX_PAYLOAD_BYTES * 8 - 1}`;
  }
  return null;
}

/**
 * The field cut at byte borders, least significant part first. Both byte orders become the same form here, so everything
 * that reads, writes or compares fields is written once.
 * Parts may lie past the payload or (never for a `start` ≥ 0) before it; ask `fitsIn`.
 * @throws RangeError when the numbers are no field.
 */
export function partsOf(field: BitField): readonly FieldPart[] {
  const fault = fieldFault(field);
  if (fault !== null) throw new RangeError(`not a bit field: ${fault}`);
  return field.order === 'little' ? littleParts(field) : bigParts(field);
}

function littleParts({ start, length }: BitField): FieldPart[] {
  const parts: FieldPart[] = [];
  let weight = 0;
  for (let bit = start; weight < length;) {
    const shift = bit & 7;
    const width = Math.min(8 - shift, length - weight);
    parts.push({ byte: bit >> 3, shift, width, weight });
    weight += width;
    bit += width;
  }
  return parts;
}

function bigParts({ start, length }: BitField): FieldPart[] {
  const parts: FieldPart[] = [];
  let left = length;
  let top = start & 7;
  for (let byte = start >> 3; left > 0; byte += 1) {
    const width = Math.min(top + 1, left);
    left -= width;
    parts.push({ byte, shift: top + 1 - width, width, weight: left });
    top = 7;
  }
  return parts.reverse();
}

/** How many bytes a payload must have for the field to lie within it. */
export function neededBytes(field: BitField): number {
  let last = 0;
  for (const part of partsOf(field)) last = Math.max(last, part.byte + 1);
  return last;
}

/** Whether the field lies within a payload of so many bytes. A field whose numbers are wrong fits nowhere. */
export function fitsIn(field: BitField, lengthBytes: number): boolean {
  return fieldFault(field) === null && neededBytes(field) <= lengthBytes;
}
