import { type BitField, type FieldPart, neededBytes, partsOf } from './field.ts';
import { type NumberKind, isFloatKind, numberKindFault } from './number-kind.ts';

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

type NumberRead = (bytes: Uint8Array) => number;
type Write = (bytes: Uint8Array, value: number | bigint) => void;

/**
 * Reader of up to 53 unsigned bits. Up to 31 bits the shifts stay within a 32-bit integer without its sign. Beyond that, each
 * part (≤ 255) is multiplied by a power of two and added: every product and every sum is an integer below 2^length ≤ 2^53,
 * so each step is exact.
 */
function numberReader(parts: readonly FieldPart[], length: number): NumberRead {
  const [a, b] = parts;
  const maskOf = (part: FieldPart): number => (1 << part.width) - 1;
  if (a !== undefined && parts.length === 1) {
    const { byte, shift } = a;
    const mask = maskOf(a);
    if (mask === 0xff) return (bytes) => bytes[byte]!;
    return (bytes) => (bytes[byte]! >> shift) & mask;
  }
  if (a !== undefined && b !== undefined && parts.length === 2) {
    const { byte: byteA, shift: shiftA } = a;
    const { byte: byteB, shift: shiftB, weight } = b;
    const maskA = maskOf(a);
    const maskB = maskOf(b);
    return (bytes) => ((bytes[byteA]! >> shiftA) & maskA) | (((bytes[byteB]! >> shiftB) & maskB) << weight);
  }
  const count = parts.length;
  const byteOf = Uint8Array.from(parts, (part) => part.byte);
  const shiftOf = Uint8Array.from(parts, (part) => part.shift);
  const masks = Uint8Array.from(parts, maskOf);
  if (length <= 31) {
    const weightOf = Uint8Array.from(parts, (part) => part.weight);
    return (bytes) => {
      let raw = 0;
      for (let i = 0; i < count; i += 1) raw |= ((bytes[byteOf[i]!]! >> shiftOf[i]!) & masks[i]!) << weightOf[i]!;
      return raw;
    };
  }
  const factorOf = Float64Array.from(parts, (part) => 2 ** part.weight);
  return (bytes) => {
    let raw = 0;
    for (let i = 0; i < count; i += 1) raw += ((bytes[byteOf[i]!]! >> shiftOf[i]!) & masks[i]!) * factorOf[i]!;
    return raw;
  };
}

/** Writer of up to 53 bits. Dividing an integer below 2^53 by a power of two and rounding down is exact. */
function numberWriter(parts: readonly FieldPart[], length: number): Write {
  const span = 2 ** length;
  const half = span / 2;
  const count = parts.length;
  const byteOf = Uint8Array.from(parts, (part) => part.byte);
  const shiftOf = Uint8Array.from(parts, (part) => part.shift);
  const sizeOf = Uint16Array.from(parts, (part) => 1 << part.width);
  const keepOf = Uint8Array.from(parts, (part) => ~(((1 << part.width) - 1) << part.shift));
  const factorOf = Float64Array.from(parts, (part) => 2 ** part.weight);
  return (bytes, value) => {
    let bits: number;
    if (typeof value === 'bigint') bits = Number(BigInt.asUintN(length, value));
    else if (value >= 0 && value < span) bits = value;
    else if (value < 0 && value >= -half) bits = value + span;
    else bits = Number.isInteger(value) ? Number(BigInt.asUintN(length, BigInt(value))) : 0;
    for (let i = 0; i < count; i += 1) {
      const part = Math.floor(bits / factorOf[i]!) % sizeOf[i]!;
      bytes[byteOf[i]!] = (bytes[byteOf[i]!]! & keepOf[i]!) | (part << shiftOf[i]!);
    }
  };
}

interface Access {
  readonly read: (bytes: Uint8Array) => number | bigint;
  readonly write: Write;
}

/** 54–64 bits: two halves of at most 32 bits gathered as numbers, joined once as a bigint. */
function wideAccess(parts: readonly FieldPart[], length: number, signed: boolean): Access {
  const { gather, scatter } = halves(parts);
  const words = new DataView(new ArrayBuffer(8));
  return {
    read: (bytes) => {
      gather(bytes, words);
      const bits = words.getBigUint64(0, true);
      return signed ? BigInt.asIntN(length, bits) : bits;
    },
    write: (bytes, value) => {
      const whole = typeof value === 'bigint' ? value : BigInt(Number.isFinite(value) ? Math.trunc(value) : 0);
      words.setBigUint64(0, BigInt.asUintN(length, whole), true);
      scatter(bytes, words);
    },
  };
}

function floatAccess(parts: readonly FieldPart[], size: 4 | 8): Access {
  const { gather, scatter } = halves(parts);
  const words = new DataView(new ArrayBuffer(8));
  return {
    read: (bytes) => {
      gather(bytes, words);
      return size === 4 ? words.getFloat32(0, true) : words.getFloat64(0, true);
    },
    write: (bytes, value) => {
      const number = typeof value === 'bigint' ? Number(value) : value;
      if (size === 4) words.setFloat32(0, number, true);
      else words.setFloat64(0, number, true);
      scatter(bytes, words);
    },
  };
}

/**
 * Moves the bits of the field to and from a little-endian 64-bit word: bytes where the field is byte-aligned, else two
 * 32-bit halves. A part never crosses a byte of the payload, but it may cross a byte, or the middle, of the word.
 */
function halves(parts: readonly FieldPart[]): {
  gather: (bytes: Uint8Array, words: DataView) => void;
  scatter: (bytes: Uint8Array, words: DataView) => void;
} {
  const aligned = parts.every((part) => part.shift === 0 && part.weight % 8 === 0);
  if (aligned) {
    return {
      gather: (bytes, words) => {
        words.setBigUint64(0, 0n);
        for (const part of parts) words.setUint8(part.weight >> 3, bytes[part.byte]! & ((1 << part.width) - 1));
      },
      scatter: (bytes, words) => {
        for (const part of parts) {
          const mask = (1 << part.width) - 1;
          bytes[part.byte] = (bytes[part.byte]! & ~mask) | (words.getUint8(part.weight >> 3) & mask);
        }
      },
    };
  }
  return {
    gather: (bytes, words) => {
      let low = 0;
      let high = 0;
      for (const part of parts) {
        const bits = (bytes[part.byte]! >> part.shift) & ((1 << part.width) - 1);
        if (part.weight >= 32) high += bits * 2 ** (part.weight - 32);
        else {
          // Up to 39 bits wide here: what passes 2^32 belongs to the upper half.
          const placed = bits * 2 ** part.weight;
          low += placed % 2 ** 32;
          high += Math.floor(placed / 2 ** 32);
        }
      }
      words.setUint32(0, low, true);
      words.setUint32(4, high, true);
    },
    scatter: (bytes, words) => {
      const low = words.getUint32(0, true);
      const high = words.getUint32(4, true);
      for (const part of parts) {
        const size = 1 << part.width;
        let bits: number;
        if (part.weight >= 32) bits = Math.floor(high / 2 ** (part.weight - 32)) % size;
        else bits = (Math.floor(low / 2 ** part.weight) + (high % size) * 2 ** (32 - part.weight)) % size;
        bytes[part.byte] = (bytes[part.byte]! & ~((size - 1) << part.shift)) | (bits << part.shift);
      }
    },
  };
}
