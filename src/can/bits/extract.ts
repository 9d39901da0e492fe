import { type BitField, neededBytes, partsOf } from './field.ts';

/**
 * The raw bits of a field as an unsigned integer, 0 … 2^length − 1. The reference path: plain, and exact at 64 bits; on
 * a hot path use `compileField`, which is tested against this.
 * @throws RangeError when the field does not lie within `bytes`.
 */
export function extractRaw(bytes: Uint8Array, field: BitField): bigint {
  if (neededBytes(field) > bytes.length) throw outside(field, bytes.length);
  let raw = 0n;
  for (const part of partsOf(field)) {
    const bits = (bytes[part.byte]! >> part.shift) & ((1 << part.width) - 1);
    raw |= BigInt(bits) << BigInt(part.weight);
  }
  return raw;
}

/** The error of a field that does not lie within a payload. */
export function outside(field: BitField, lengthBytes: number): RangeError {
  return new RangeError(
    `the field at start bit ${field.start}, ${field.length} bits, ${field.order}-endian needs ${neededBytes(field)} bytes; ` +
      `the payload has ${lengthBytes}`,
  );
}
