import type { FieldPart } from './field.ts';

type NumberRead = (bytes: Uint8Array) => number;
type Write = (bytes: Uint8Array, value: number | bigint) => void;

/**
 * Reader of up to 53 unsigned bits. Up to 32 bits and four parts the parts are shifted into place within a 32-bit word, and `>>> 0` takes its
 * sign away. Beyond that, each part (≤ 255) is multiplied by a power of two and added: every product and every sum is an integer below
 * 2^length ≤ 2^53, so each step is exact.
 */
export function numberReader(parts: readonly FieldPart[], length: number): NumberRead {
  const [a, b, c, d] = parts;
  if (a === undefined) return () => 0;
  const { byte: byteA, shift: shiftA } = a;
  const maskA = maskOf(a);
  if (b === undefined) {
    if (maskA === 0xff) return (bytes) => bytes[byteA]!;
    return (bytes) => (bytes[byteA]! >> shiftA) & maskA;
  }
  const { byte: byteB, shift: shiftB, weight: weightB } = b;
  const maskB = maskOf(b);
  if (c === undefined) {
    if (maskA === 0xff && maskB === 0xff) return (bytes) => bytes[byteA]! | (bytes[byteB]! << 8);
    return (bytes) => ((bytes[byteA]! >> shiftA) & maskA) | (((bytes[byteB]! >> shiftB) & maskB) << weightB);
  }
  if (parts.length > 4 || length > 32) return longReader(parts);
  const { byte: byteC, shift: shiftC, weight: weightC } = c;
  const maskC = maskOf(c);
  if (d === undefined) {
    return (bytes) =>
      ((bytes[byteA]! >> shiftA) & maskA) |
      (((bytes[byteB]! >> shiftB) & maskB) << weightB) |
      (((bytes[byteC]! >> shiftC) & maskC) << weightC);
  }
  const { byte: byteD, shift: shiftD, weight: weightD } = d;
  const maskD = maskOf(d);
  return (bytes) =>
    (((bytes[byteA]! >> shiftA) & maskA) |
      (((bytes[byteB]! >> shiftB) & maskB) << weightB) |
      (((bytes[byteC]! >> shiftC) & maskC) << weightC) |
      (((bytes[byteD]! >> shiftD) & maskD) << weightD)) >>>
    0;
}

function longReader(parts: readonly FieldPart[]): NumberRead {
  const count = parts.length;
  const byteOf = Uint8Array.from(parts, (part) => part.byte);
  const shiftOf = Uint8Array.from(parts, (part) => part.shift);
  const masks = Uint8Array.from(parts, maskOf);
  const factorOf = Float64Array.from(parts, (part) => 2 ** part.weight);
  return (bytes) => {
    let raw = 0;
    for (let i = 0; i < count; i += 1) raw += ((bytes[byteOf[i]!]! >> shiftOf[i]!) & masks[i]!) * factorOf[i]!;
    return raw;
  };
}

/**
 * Writer of up to 53 bits; values outside the field are taken modulo 2^length.
 * Up to 31 bits `value & mask` is that remainder for every integer a double holds exactly: the operator works modulo 2^32, of
 * which 2^length is a divisor.
 */
export function numberWriter(parts: readonly FieldPart[], length: number): Write {
  if (length > 31) return longWriter(parts, length);
  const mask = 2 ** length - 1;
  const bitsOf = (value: number | bigint): number =>
    typeof value === 'bigint' ? Number(BigInt.asUintN(length, value)) : value & mask;
  const [a, b] = parts;
  if (a === undefined) return () => undefined;
  const { byte: byteA, shift: shiftA } = a;
  const maskA = maskOf(a);
  const keepA = keepOf(a);
  if (b === undefined) {
    return (bytes, value) => {
      bytes[byteA] = (bytes[byteA]! & keepA) | (bitsOf(value) << shiftA);
    };
  }
  const { byte: byteB, shift: shiftB, weight: weightB } = b;
  const maskB = maskOf(b);
  const keepB = keepOf(b);
  if (parts.length === 2) {
    return (bytes, value) => {
      const bits = bitsOf(value);
      bytes[byteA] = (bytes[byteA]! & keepA) | ((bits & maskA) << shiftA);
      bytes[byteB] = (bytes[byteB]! & keepB) | (((bits >> weightB) & maskB) << shiftB);
    };
  }
  return (bytes, value) => {
    const bits = bitsOf(value);
    for (const { byte, shift, width, weight } of parts) {
      const partMask = (1 << width) - 1;
      bytes[byte] = (bytes[byte]! & ~(partMask << shift)) | (((bits >> weight) & partMask) << shift);
    }
  };
}

/** 32–53 bits. Dividing an integer below 2^53 by a power of two and rounding down is exact. */
function longWriter(parts: readonly FieldPart[], length: number): Write {
  const span = 2 ** length;
  const half = span / 2;
  const count = parts.length;
  const byteOf = Uint8Array.from(parts, (part) => part.byte);
  const shiftOf = Uint8Array.from(parts, (part) => part.shift);
  const sizeOf = Uint16Array.from(parts, (part) => 1 << part.width);
  const keeps = Uint8Array.from(parts, keepOf);
  const factorOf = Float64Array.from(parts, (part) => 2 ** part.weight);
  return (bytes, value) => {
    let bits: number;
    if (typeof value === 'bigint') bits = Number(BigInt.asUintN(length, value));
    else if (value >= 0 && value < span) bits = value;
    else if (value < 0 && value >= -half) bits = value + span;
    else bits = Number.isInteger(value) ? Number(BigInt.asUintN(length, BigInt(value))) : 0;
    for (let i = 0; i < count; i += 1) {
      const part = Math.floor(bits / factorOf[i]!) % sizeOf[i]!;
      bytes[byteOf[i]!] = (bytes[byteOf[i]!]! & keeps[i]!) | (part << shiftOf[i]!);
    }
  };
}

function maskOf(part: FieldPart): number {
  return (1 << part.width) - 1;
}

/** The bits of the part's byte that are not the part's. */
function keepOf(part: FieldPart): number {
  return ~(maskOf(part) << part.shift) & 0xff;
}
