/**
 * Where the bits of a signal lie in the payload. DBC numbers bits byte by byte, the least significant bit of a byte first:
 *
 *     byte 0:  7  6  5  4  3  2  1  0        little-endian: `startBit` is the least significant bit of the field,
 *     byte 1: 15 14 13 12 11 10  9  8        which grows to higher bit numbers.
 *                                            big-endian: `startBit` is the most significant bit; the field runs down
 *     start 7, length 12, big-endian:        its byte, then on from bit 7 of the next byte:
 *     byte 0 whole, bits 15 14 13 12.
 *
 * Source: the published description of the DBC format, `SG_` start_bit; J1939-71 and ISO 15765 use the same pictures.
 */

export interface BitField {
  readonly startBit: number;
  readonly lengthBits: number;
  readonly order: 'little' | 'big';
}

/** The longest field that can be read or written. */
export const MAX_FIELD_BITS = 64;

/** True when the length is one that a field can have. */
export function hasUsableLength(field: BitField): boolean {
  return field.lengthBits >= 1 && field.lengthBits <= MAX_FIELD_BITS;
}

/** Number of payload bytes which the field needs: 1 + the index of its last byte. */
export function bytesNeeded(field: BitField): number {
  if (field.order === 'little') return Math.ceil((field.startBit + Math.max(field.lengthBits, 1)) / 8);
  const inFirstByte = (field.startBit % 8) + 1;
  const more = Math.max(field.lengthBits - inFirstByte, 0);
  return Math.floor(field.startBit / 8) + 1 + Math.ceil(more / 8);
}

/** Bit number of the i-th bit of the field, i = 0 being the least significant. */
export function bitNumber(field: BitField, i: number): number {
  if (field.order === 'little') return field.startBit + i;
  return fromSequence(toSequence(field.startBit) + field.lengthBits - 1 - i);
}

/** A bit's place when the bits of the payload are counted from the most significant of byte 0 on; its own inverse. */
function toSequence(bit: number): number {
  return bit - (bit % 8) + (7 - (bit % 8));
}
const fromSequence = toSequence;

/** Calls `visit` with the number of each bit of the field. */
export function forEachBit(field: BitField, visit: (bit: number) => void): void {
  if (field.order === 'little') {
    for (let i = 0; i < field.lengthBits; i++) visit(field.startBit + i);
    return;
  }
  const first = toSequence(field.startBit);
  for (let i = 0; i < field.lengthBits; i++) visit(fromSequence(first + i));
}

/** The low 32 bits and the bits above them, as two unsigned numbers: a 64-bit field never passes through one double. */
export interface RawHalves {
  readonly high: number;
  readonly low: number;
}

/** The bits of the field, unsigned. The field must have a usable length and lie within the payload. */
export function readField(bytes: Uint8Array, field: BitField): RawHalves {
  const { lengthBits } = field;
  if (field.order === 'little') {
    if (lengthBits <= 32) return { high: 0, low: readLittle(bytes, field.startBit, lengthBits) };
    return {
      high: readLittle(bytes, field.startBit + 32, lengthBits - 32),
      low: readLittle(bytes, field.startBit, 32),
    };
  }
  const first = toSequence(field.startBit);
  if (lengthBits <= 32) return { high: 0, low: readBig(bytes, first, lengthBits) };
  const highBits = lengthBits - 32;
  return { high: readBig(bytes, first, highBits), low: readBig(bytes, first + highBits, 32) };
}

/** At most 32 bits, so at most 5 bytes = 40 bits: exact in a double. */
function readLittle(bytes: Uint8Array, start: number, lengthBits: number): number {
  const firstByte = start >> 3;
  const lastByte = (start + lengthBits - 1) >> 3;
  let bits = 0;
  for (let i = lastByte; i >= firstByte; i--) bits = bits * 256 + (bytes[i] as number);
  return Math.floor(bits / 2 ** (start & 7)) % 2 ** lengthBits;
}

/** As {@link readLittle}, with `first` counted from the most significant bit of byte 0. */
function readBig(bytes: Uint8Array, first: number, lengthBits: number): number {
  const last = first + lengthBits - 1;
  let bits = 0;
  for (let i = first >> 3; i <= last >> 3; i++) bits = bits * 256 + (bytes[i] as number);
  return Math.floor(bits / 2 ** (7 - (last & 7))) % 2 ** lengthBits;
}

/** Sets the bits of the field to the low bits of `raw` (two's complement for negative values); leaves all others. */
export function writeField(bytes: Uint8Array, field: BitField, raw: bigint): void {
  const unsigned = BigInt.asUintN(field.lengthBits, raw);
  const low = Number(unsigned & 0xffffffffn);
  const high = Number(unsigned >> 32n);
  for (let i = 0; i < field.lengthBits; i++) {
    const bit = bitNumber(field, i);
    const mask = 1 << (bit % 8);
    const at = Math.floor(bit / 8);
    const isSet = i < 32 ? (low >>> i) & 1 : (high >>> (i - 32)) & 1;
    bytes[at] = isSet === 1 ? (bytes[at] as number) | mask : (bytes[at] as number) & ~mask;
  }
}
