import { parseExact, type Rational } from '../../number/index.ts';

/** A number as a person types it: a comma or a point, a true minus or a hyphen. Null when it is none. */
export function readPhysical(text: string): Rational | null {
  return parseExact(text.trim().replace('−', '-').replace(',', '.'));
}

/** A raw value in decimal or, after 0x, in hexadecimal (the bits of the field: two's complement for a signed one). */
export function readRaw(text: string, lengthBits: number, isSigned: boolean): bigint | null {
  const typed = text.trim().replace('−', '-');
  if (/^0x[0-9a-f]{1,16}$/i.test(typed)) {
    const pattern = BigInt(typed);
    if (pattern >> BigInt(lengthBits) !== 0n) return null;
    return isSigned ? BigInt.asIntN(lengthBits, pattern) : pattern;
  }
  return /^-?\d{1,20}$/.test(typed) ? BigInt(typed) : null;
}
