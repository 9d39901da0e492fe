import { type BitField, neededBytes, partsOf } from './field.ts';
import { numberReader, numberWriter } from './narrow.ts';
import { type NumberKind, isFloatKind, numberKindFault } from './number-kind.ts';
import { floatAccess, wideAccess } from './wide.ts';

/**
 * A field made ready for a hot path.
 * `carries` says what `read` returns: `number` up to 53 bits and for floats, `bigint` from 54 bits on.
 * Neither call tests the length of `bytes`: the caller does it once per frame with `needsBytes`.
 */
export interface CompiledField {
  readonly carries: 'number' | 'bigint';
  readonly needsBytes: number;
  /** The value of the field: an integer (signed where the kind is), or the float. */
  read(bytes: Uint8Array): number | bigint;
  /** Writes the value in place; other bits stay. An integer outside the field's range is taken modulo 2^length. */
  write(bytes: Uint8Array, value: number | bigint): void;
}

/** Widest field read as a `number`: every integer up to 2^53 − 1 has an exact double, and the parts below keep to that. */
const NUMBER_BITS = 53;

/**
 * Prepares a field for reading and writing many frames. Same results as `extractRaw` and `insertRaw` (property-tested).
 * @throws RangeError when the numbers are no field, or a float kind does not match the length.
 */
export function compileField(field: BitField, kind: NumberKind = 'unsigned'): CompiledField {
  const fault = numberKindFault(kind, field);
  if (fault !== null) throw new RangeError(fault);
  const parts = partsOf(field);
  const needsBytes = neededBytes(field);
  if (isFloatKind(kind)) return { carries: 'number', needsBytes, ...floatAccess(parts, kind === 'float32' ? 4 : 8) };
  if (field.length > NUMBER_BITS)
    return { carries: 'bigint', needsBytes, ...wideAccess(parts, field.length, kind === 'signed') };
  const readBits = numberReader(parts, field.length);
  const write = numberWriter(parts, field.length);
  if (kind === 'unsigned') return { carries: 'number', needsBytes, read: readBits, write };
  // Two's complement without bit operators: |value| ≤ 2^52 throughout, exact.
  const half = 2 ** (field.length - 1);
  const span = 2 ** field.length;
  const read = (bytes: Uint8Array): number => {
    const bits = readBits(bytes);
    return bits >= half ? bits - span : bits;
  };
  return { carries: 'number', needsBytes, read, write };
}
