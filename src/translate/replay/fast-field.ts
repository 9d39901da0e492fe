import type { Bits } from '../../model/index.ts';
import { compileField, partsOf } from '../../can/index.ts';
import type { SourceRead } from '../program/types.ts';
import { ERROR } from '../program/types.ts';
import type { Run } from './fast-program.ts';
import { MARK, MARK_ERROR, MARK_NOT_AVAILABLE } from './marks.ts';

/** Reads a field of a payload kept in `bytes`: its raw value, or a mark for a special one. At most 53 bits. */
export function fieldReader(source: Extract<SourceRead, { kind: 'field' | 'float' }>, bytes: Uint8Array): Run {
  const { read } = compileField(source.bits, source.number);
  if (source.kind === 'float') {
    return () => {
      const x = read(bytes) as number;
      return x > -MARK && x < MARK ? x : MARK_ERROR;
    };
  }
  const [first] = source.specials;
  if (first === undefined) return () => read(bytes) as number;
  const marks = new Map(
    source.specials.map(({ raw, status }) => [Number(raw), status === ERROR ? MARK_ERROR : MARK_NOT_AVAILABLE]),
  );
  const least = Number(first.raw);
  return () => {
    const raw = read(bytes) as number;
    return raw < least ? raw : (marks.get(raw) ?? raw);
  };
}

export type WriteField = (bytes: Uint8Array, raw: number | bigint) => void;

/** Writes a field; whole bytes and short fields take a short way. */
export function fieldWriter(bits: Bits, number: 'unsigned' | 'signed' | 'float32' | 'float64'): WriteField {
  const plain = compileField(bits, number).write;
  if (number === 'float32' || number === 'float64' || bits.length > 32) return plain;
  const parts = partsOf(bits);
  const [a, b] = parts;
  // Two's complement falls out of the bit operators for any integer of at most 32 bits.
  if (parts.length === 1 && a !== undefined) {
    const mask = ((1 << a.width) - 1) << a.shift;
    const keep = ~mask & 0xff;
    const { byte, shift } = a;
    if (a.width === 8) return (bytes, raw) => void (bytes[byte] = Number(raw));
    return (bytes, raw) => void (bytes[byte] = (bytes[byte]! & keep) | ((Number(raw) << shift) & mask));
  }
  if (parts.length === 2 && a !== undefined && b !== undefined && a.width === 8 && b.width === 8) {
    const [low, high] = [a.byte, b.byte];
    return (bytes, raw) => {
      const n = Number(raw);
      bytes[low] = n;
      bytes[high] = n >> 8;
    };
  }
  const count = parts.length;
  const byteOf = parts.map(({ byte }) => byte);
  const maskOf = parts.map(({ width, shift }) => ((1 << width) - 1) << shift);
  const shiftOf = parts.map(({ shift }) => shift);
  const weightOf = parts.map(({ weight }) => weight);
  return (bytes, raw) => {
    const n = Number(raw) | 0;
    for (let index = 0; index < count; index += 1) {
      const mask = maskOf[index]!;
      const at = byteOf[index]!;
      bytes[at] = (bytes[at]! & ~mask) | (((n >> weightOf[index]!) << shiftOf[index]!) & mask);
    }
  };
}
