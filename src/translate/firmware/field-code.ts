import type { Bits } from '../../model/index.ts';
import { partsOf } from '../../can/index.ts';

const hex = (n: number): string => `0x${n.toString(16).toUpperCase()}u`;

/** The bits of a field of `bytes` as an unsigned expression: uint32_t up to 32 bits, else uint64_t. */
export function readBits(bits: Bits, bytes: string): string {
  const type = wordType(bits);
  return partsOf(bits)
    .map(({ byte, shift, width, weight }) => {
      const whole = `${bytes}[${byte}]`;
      const down = shift === 0 ? whole : `(${whole} >> ${shift})`;
      const masked = width + shift === 8 ? down : `(${down} & ${hex((1 << width) - 1)})`;
      const wide = `(${type})${masked}`;
      return weight === 0 ? wide : `(${wide} << ${weight})`;
    })
    .join(' | ');
}

export function wordType({ length }: Bits): 'uint32_t' | 'uint64_t' {
  return length <= 32 ? 'uint32_t' : 'uint64_t';
}

/** Statements that put the low bits of `raw`, a uint64_t, into a field of `bytes`. */
export function writeBits(bits: Bits, bytes: string, raw: string): string[] {
  return partsOf(bits).map(({ byte, shift, width, weight }) => {
    const moved = weight === 0 ? raw : `(${raw} >> ${weight})`;
    if (width === 8) return `${bytes}[${byte}] = (uint8_t)(${moved} & 0xFFu);`;
    const mask = (1 << width) - 1;
    const placed = shift === 0 ? `(${moved} & ${hex(mask)})` : `((${moved} & ${hex(mask)}) << ${shift})`;
    return `${bytes}[${byte}] = (uint8_t)((${bytes}[${byte}] & ${hex(~(mask << shift) & 0xff)}) | ${placed});`;
  });
}
