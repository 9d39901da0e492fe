import type { BitField } from './field.ts';

/** How the bits of a field are read as a number. Signed is two's complement; floats are IEEE 754 binary32 and binary64. */
export type NumberKind = 'unsigned' | 'signed' | 'float32' | 'float64';
export type IntegerKind = 'unsigned' | 'signed';
export type FloatKind = 'float32' | 'float64';

/** Whether the kind is one of the two floats. */
export function isFloatKind(kind: NumberKind): kind is FloatKind {
  return kind === 'float32' || kind === 'float64';
}

/** What is wrong between a number kind and a field's length, in words, or null: a float fills exactly 32 or 64 bits. */
export function numberKindFault(kind: NumberKind, field: BitField): string | null {
  if (kind === 'float32' && field.length !== 32) return `a 32-bit float needs 32 bits, the field has ${field.length}`;
  if (kind === 'float64' && field.length !== 64) return `a 64-bit float needs 64 bits, the field has ${field.length}`;
  return null;
}

/** Unsigned bits → two's complement value: bits ≥ 2^(length−1) are negative. */
export function toSigned(bits: bigint, length: number): bigint {
  return bits >> BigInt(length - 1) === 1n ? bits - (1n << BigInt(length)) : bits;
}
