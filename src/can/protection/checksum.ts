import { extractRaw } from '../bits/extract.ts';
import { type BitField, fitsIn, partsOf } from '../bits/field.ts';
import { insertRaw } from '../bits/insert.ts';
import { type ChecksumAlgorithm, checksumOf, checksumWidth, crcCodeOf } from './algorithms.ts';

/** Which bytes of a 16-bit data id enter the checksum, in order. `alternating`: low byte on an even counter, high byte on an odd one. */
export type DataIdBytes = 'low' | 'low-high' | 'high-low' | 'alternating';

/** How the checksum of a message is formed. */
export interface ProtectionSpec {
  readonly algorithm: ChecksumAlgorithm;
  /**
   * Bytes covered, in order: all which the checksum does not fill (the default), or ranges [first byte, last byte], both ends included.
   * Checksum bits inside a covered byte count as 0.
   */
  readonly covers?: 'all-but-checksum' | readonly (readonly [number, number])[];
  /** A number both ends know and the frame does not carry, 0–65535, or one for each counter value (0, 1, …). */
  readonly dataId?: number;
  readonly dataIdList?: readonly number[];
  /** Whether the data id is taken before the covered bytes or after them. Default: after. */
  readonly dataIdAt?: 'before' | 'after';
  /** Default: `low` when the data id is below 256 or comes from the list, else `low-high`. */
  readonly dataIdBytes?: DataIdBytes;
}

/** Everything wrong with a spec for a payload of so many bytes, in words; empty when it can be computed. */
export function protectionFaults(spec: ProtectionSpec, checksum: BitField, lengthBytes: number): readonly string[] {
  const faults: string[] = [];
  const width = checksumWidth(spec.algorithm);
  if (crcCodeOf(spec.algorithm) === null ? checksum.length > width : checksum.length !== width) {
    faults.push(`${spec.algorithm} gives ${width} bits; its field has ${checksum.length}`);
  }
  if (!fitsIn(checksum, lengthBytes)) faults.push(`the checksum field does not lie within ${lengthBytes} bytes`);
  if (Array.isArray(spec.covers)) {
    for (const [first, last] of spec.covers as readonly (readonly [number, number])[]) {
      if (!(first >= 0 && first <= last && last < lengthBytes)) {
        faults.push(`bytes ${first}–${last} are not a range of a payload of ${lengthBytes} bytes`);
      }
    }
  }
  const ids = [...(spec.dataId === undefined ? [] : [spec.dataId]), ...(spec.dataIdList ?? [])];
  for (const id of ids) {
    if (!Number.isInteger(id) || id < 0 || id > 0xffff)
      faults.push(`data id ${id} is not a whole number from 0 to 65535`);
  }
  if (spec.dataId !== undefined && spec.dataIdList !== undefined)
    faults.push('both a data id and a list of data ids are given');
  if (spec.dataIdList?.length === 0) faults.push('the list of data ids is empty');
  return faults;
}

/**
 * The checksum that belongs into `checksum`, over the bytes as they stand. `counter` is the message's counter value; only a data id
 * that depends on it (`dataIdList`, `alternating`) looks at it.
 * @throws RangeError naming the first of `protectionFaults`, if there is one.
 */
export function computeChecksum(bytes: Uint8Array, spec: ProtectionSpec, checksum: BitField, counter = 0): bigint {
  const fault = protectionFaults(spec, checksum, bytes.length)[0];
  if (fault !== undefined) throw new RangeError(fault);
  const covered = coveredBytes(bytes, spec, checksum);
  const id = dataIdBytes(spec, counter);
  const input = spec.dataIdAt === 'before' ? [...id, ...covered] : [...covered, ...id];
  return BigInt.asUintN(checksum.length, BigInt(checksumOf(input, spec.algorithm)));
}

/** Whether the checksum in the frame is the one that belongs there. Same errors as `computeChecksum`. */
export function verifyChecksum(bytes: Uint8Array, spec: ProtectionSpec, checksum: BitField, counter = 0): boolean {
  return computeChecksum(bytes, spec, checksum, counter) === extractRaw(bytes, checksum);
}

/** Computes the checksum and writes it into its field, in place. Same errors as `computeChecksum`. */
export function applyChecksum(bytes: Uint8Array, spec: ProtectionSpec, checksum: BitField, counter = 0): void {
  insertRaw(bytes, checksum, computeChecksum(bytes, spec, checksum, counter));
}

function coveredBytes(bytes: Uint8Array, spec: ProtectionSpec, checksum: BitField): number[] {
  const own = new Map<number, number>();
  for (const part of partsOf(checksum)) {
    own.set(part.byte, (own.get(part.byte) ?? 0) | (((1 << part.width) - 1) << part.shift));
  }
  const covered: number[] = [];
  const take = (byte: number): void => void covered.push(bytes[byte]! & ~(own.get(byte) ?? 0) & 0xff);
  if (spec.covers === undefined || spec.covers === 'all-but-checksum') {
    for (let byte = 0; byte < bytes.length; byte += 1) if (own.get(byte) !== 0xff) take(byte);
  } else {
    for (const [first, last] of spec.covers) for (let byte = first; byte <= last; byte += 1) take(byte);
  }
  return covered;
}

function dataIdBytes(spec: ProtectionSpec, counter: number): number[] {
  const { dataIdList: list } = spec;
  const id = list === undefined ? spec.dataId : list[counter % list.length];
  if (id === undefined) return [];
  const low = id & 0xff;
  const high = id >> 8;
  switch (spec.dataIdBytes ?? (list !== undefined || high === 0 ? 'low' : 'low-high')) {
    case 'low':
      return [low];
    case 'low-high':
      return [low, high];
    case 'high-low':
      return [high, low];
    case 'alternating':
      return [counter % 2 === 0 ? low : high];
  }
}
