import { type BitField, partsOf } from './field.ts';

/** The bits a field occupies: bit n of the mask is payload bit n in DBC numbering (512 bits are enough for 64 bytes). */
export function occupiedBits(field: BitField): bigint {
  let mask = 0n;
  for (const part of partsOf(field)) {
    mask |= ((1n << BigInt(part.width)) - 1n) << BigInt(part.byte * 8 + part.shift);
  }
  return mask;
}

/** Whether two fields share at least one bit. */
export function overlap(a: BitField, b: BitField): boolean {
  return (occupiedBits(a) & occupiedBits(b)) !== 0n;
}

/** The bits of a payload of so many bytes that no field occupies, as a mask in DBC numbering. */
export function unusedBits(fields: readonly BitField[], lengthBytes: number): bigint {
  let used = 0n;
  for (const field of fields) used |= occupiedBits(field);
  return ((1n << BigInt(lengthBytes * 8)) - 1n) & ~used;
}

/** Two fields, by their place in the list given, that share the bits `shared` (a mask in DBC numbering). */
export interface Overlap {
  readonly first: number;
  readonly second: number;
  readonly shared: bigint;
}

/**
 * Every pair of fields which share a bit and which `together` says can be in one frame (two branches of a multiplexer
 * cannot). At most `limit` pairs, in order of (first, second): the list of a hopeless message stays short.
 * Only fields that share a byte are compared, so the work grows with the pairs there are.
 */
export function overlappingPairs(
  fields: readonly BitField[],
  together: (first: number, second: number) => boolean = () => true,
  limit = 1000,
): readonly Overlap[] {
  const masks = fields.map(occupiedBits);
  const byByte = new Map<number, number[]>();
  const found: Overlap[] = [];
  for (let second = 0; second < fields.length; second += 1) {
    const rivals = new Set<number>();
    for (const part of partsOf(fields[second]!)) {
      const here = byByte.get(part.byte);
      if (here === undefined) byByte.set(part.byte, [second]);
      else {
        for (const first of here) rivals.add(first);
        here.push(second);
      }
    }
    for (const first of rivals) {
      const shared = masks[first]! & masks[second]!;
      if (shared === 0n || first === second || !together(first, second)) continue;
      found.push({ first, second, shared });
      if (found.length >= limit) return found;
    }
  }
  return found.sort((a, b) => a.first - b.first || a.second - b.second);
}
