/** What a raw value says beside a number: SAE J1939-71, table of transmitted signal ranges. */
export type J1939Range = 'valid' | 'parameter-specific' | 'reserved' | 'error' | 'not-available';

/**
 * The range a raw value lies in, by the field's length.
 * Whole bytes are told by the top byte: up to 0xFA valid, 0xFB parameter-specific, 0xFC and 0xFD reserved, 0xFE error, 0xFF not available.
 * Two bits: 2 is error, 3 not available; four bits: 14 and 15. One bit is always valid. Any other length: only all ones is told apart,
 * as not available (common practice).
 */
export function j1939RangeOf(raw: bigint, length: number): J1939Range {
  if (length === 2 || length === 4) {
    const most = (1n << BigInt(length)) - 1n;
    return raw === most ? 'not-available' : raw === most - 1n ? 'error' : 'valid';
  }
  if (length % 8 !== 0) return length > 1 && raw === (1n << BigInt(length)) - 1n ? 'not-available' : 'valid';
  const top = Number(raw >> BigInt(length - 8));
  if (top <= 0xfa) return 'valid';
  if (top === 0xfb) return 'parameter-specific';
  if (top <= 0xfd) return 'reserved';
  return top === 0xfe ? 'error' : 'not-available';
}
