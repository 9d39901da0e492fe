import { type CrcAlgorithm, CHECKSUM_ALGORITHMS, crcCodeOf } from '../../../can/index.ts';

/** Name of the constant of a cyclic redundancy code in the core. */
export function crcName(algorithm: CrcAlgorithm): string {
  return `xlc_${algorithm.replaceAll('-', '_')}`;
}

/** Declarations of all codes. */
export function crcDeclarations(): string {
  return codes()
    .map((algorithm) => `extern const xlc_crc_code ${crcName(algorithm)};\n`)
    .join('');
}

function codes(): CrcAlgorithm[] {
  return CHECKSUM_ALGORITHMS.filter((algorithm): algorithm is CrcAlgorithm => crcCodeOf(algorithm) !== null);
}

/** Their definitions, with the parameters of the library the engine uses. */
export function crcDefinitions(): string {
  return codes()
    .map((algorithm) => {
      const { width, reflected, polynomial, start, finalXor } = crcCodeOf(algorithm)!;
      const numbers = [mirrored(polynomial, width, reflected), mirrored(start, width, reflected), finalXor];
      const hex = numbers.map((n) => `UINT32_C(0x${(n >>> 0).toString(16).toUpperCase()})`);
      return `const xlc_crc_code ${crcName(algorithm)} = {${width}u, ${reflected}, ${hex.join(', ')}};\n`;
    })
    .join('');
}

function mirrored(value: number, width: number, reflected: boolean): number {
  if (!reflected) return value;
  let result = 0;
  for (let bit = 0; bit < width; bit += 1) if ((value >>> bit) & 1) result |= 1 << (width - 1 - bit);
  return result >>> 0;
}
