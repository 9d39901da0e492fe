import { outside } from './extract.ts';
import { type BitField, neededBytes, partsOf } from './field.ts';

/**
 * Writes raw bits into a field of `bytes`, in place; every other bit stays as it is. `raw` is either the unsigned value or a
 * negative number, which is written in two's complement: −2^(length−1) … 2^length − 1.
 * @throws RangeError when raw is outside that range, or the field does not lie within `bytes`.
 */
export function insertRaw(bytes: Uint8Array, field: BitField, raw: bigint): void {
  if (neededBytes(field) > bytes.length) throw outside(field, bytes.length);
  const span = 1n << BigInt(field.length);
  if (raw >= span || raw < -(span >> 1n)) throw new RangeError(`raw value ${raw} does not fit in ${field.length} bits`);
  const bits = raw < 0n ? raw + span : raw;
  for (const part of partsOf(field)) {
    const mask = (1 << part.width) - 1;
    const value = Number((bits >> BigInt(part.weight)) & BigInt(mask));
    bytes[part.byte] = (bytes[part.byte]! & ~(mask << part.shift)) | (value << part.shift);
  }
}
