/** A shift register over single bits, most significant bit first, as the frame's own checks are defined. */
export interface FrameCrc {
  readonly width: number;
  readonly polynomial: number;
  readonly start: number;
}

/** Classical frame. Bosch, CAN Specification 2.0 (1991), part B, "CRC sequence". */
export const CRC15: FrameCrc = { width: 15, polynomial: 0x4599, start: 0 };
/** CAN FD up to 16 bytes, and above. ISO 11898-1:2015: the register starts with its top bit set. */
export const CRC17: FrameCrc = { width: 17, polynomial: 0x1685b, start: 0x10000 };
export const CRC21: FrameCrc = { width: 21, polynomial: 0x102899, start: 0x100000 };

/** The register after `bits` (0 or 1 each, in order of sending), beginning from `register` (default: the code's own start). */
export function frameCrcOf(bits: Iterable<number>, code: FrameCrc, register = code.start): number {
  const top = code.width - 1;
  const mask = 2 ** code.width - 1;
  let state = register;
  for (const bit of bits) {
    const feedback = (state >>> top) ^ bit;
    state = (state << 1) & mask;
    if (feedback === 1) state ^= code.polynomial & mask;
  }
  return state;
}
