import type { FieldPart } from './field.ts';

/** How a field is read and written. */
interface Access {
  readonly read: (bytes: Uint8Array) => number | bigint;
  readonly write: (bytes: Uint8Array, value: number | bigint) => void;
}

/** 54–64 bits: two halves of at most 32 bits gathered as numbers, joined once as a bigint. */
export function wideAccess(parts: readonly FieldPart[], length: number, signed: boolean): Access {
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

/** A float of 4 or 8 bytes. */
export function floatAccess(parts: readonly FieldPart[], size: 4 | 8): Access {
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
