import { type CrcCode, crcOf } from './crc-code.ts';

/**
 * Checksum algorithms by name.
 * Parameters and check values: G. Cook, Catalogue of parametrised CRC algorithms; AUTOSAR CP SWS CRC Library (R22-11) clause 7.2.
 * `crc8-gsm-a` is the form end-to-end profiles 1 and 11 put on the wire: polynomial 0x1D, start 0, no final exclusive or.
 */
const CRC_CODES = {
  'crc8-sae-j1850': { width: 8, polynomial: 0x1d, start: 0xff, reflected: false, finalXor: 0xff, check: 0x4b },
  'crc8-gsm-a': { width: 8, polynomial: 0x1d, start: 0, reflected: false, finalXor: 0, check: 0x37 },
  'crc8-autosar-h2f': { width: 8, polynomial: 0x2f, start: 0xff, reflected: false, finalXor: 0xff, check: 0xdf },
  'crc16-ccitt-false': { width: 16, polynomial: 0x1021, start: 0xffff, reflected: false, finalXor: 0, check: 0x29b1 },
  'crc16-arc': { width: 16, polynomial: 0x8005, start: 0, reflected: true, finalXor: 0, check: 0xbb3d },
  'crc32-iso-hdlc': {
    width: 32,
    polynomial: 0x04c11db7,
    start: 0xffffffff,
    reflected: true,
    finalXor: 0xffffffff,
    check: 0xcbf43926,
  },
  'crc32-autosar-p4': {
    width: 32,
    polynomial: 0xf4acfb13,
    start: 0xffffffff,
    reflected: true,
    finalXor: 0xffffffff,
    check: 0x1697d06a,
  },
} as const satisfies Readonly<Record<string, CrcCode>>;

/** Sums over bytes, common practice: exclusive or, sum, and sum of the two halves of every byte. */
const SUM_WIDTHS = { xor8: 8, sum8: 8, 'nibble-sum': 8 } as const;

export type CrcAlgorithm = keyof typeof CRC_CODES;
export type SumAlgorithm = keyof typeof SUM_WIDTHS;
export type ChecksumAlgorithm = CrcAlgorithm | SumAlgorithm;

/** Every algorithm by name, CRCs first. */
export const CHECKSUM_ALGORITHMS: readonly ChecksumAlgorithm[] = [
  ...(Object.keys(CRC_CODES) as CrcAlgorithm[]),
  ...(Object.keys(SUM_WIDTHS) as SumAlgorithm[]),
];

/** The parameters of a CRC, or null for a sum. */
export function crcCodeOf(algorithm: ChecksumAlgorithm): CrcCode | null {
  return isCrc(algorithm) ? CRC_CODES[algorithm] : null;
}

/** Bits of the full result. A sum may be kept in fewer (its low bits are sent); a CRC may not. */
export function checksumWidth(algorithm: ChecksumAlgorithm): number {
  return isCrc(algorithm) ? CRC_CODES[algorithm].width : SUM_WIDTHS[algorithm];
}

/** The checksum of a sequence of bytes: an unsigned integer of `checksumWidth` bits. */
export function checksumOf(bytes: Iterable<number>, algorithm: ChecksumAlgorithm): number {
  if (isCrc(algorithm)) return crcOf(bytes, CRC_CODES[algorithm]);
  let result = 0;
  switch (algorithm) {
    case 'xor8':
      for (const byte of bytes) result ^= byte;
      return result;
    case 'sum8':
      for (const byte of bytes) result += byte;
      return result & 0xff;
    case 'nibble-sum':
      for (const byte of bytes) result += (byte >> 4) + (byte & 0xf);
      return result & 0xff;
  }
}

function isCrc(algorithm: ChecksumAlgorithm): algorithm is CrcAlgorithm {
  return Object.hasOwn(CRC_CODES, algorithm);
}
