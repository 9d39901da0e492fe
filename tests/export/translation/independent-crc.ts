/** A CRC done bit by bit, from the parameters of G. Cook's catalogue: shares nothing with the program's own tables. */
export interface CatalogueCrc {
  readonly width: number;
  readonly poly: bigint;
  readonly init: bigint;
  readonly refin: boolean;
  readonly xorout: bigint;
  readonly check: bigint;
}

/** CRC-8/SAE-J1850, CRC-8/AUTOSAR, CRC-16/IBM-3740 (CCITT-FALSE): width, poly, init, refin, xorout, check. */
export const CATALOGUE: Readonly<Record<string, CatalogueCrc>> = {
  'crc8-sae-j1850': { width: 8, poly: 0x1dn, init: 0xffn, refin: false, xorout: 0xffn, check: 0x4bn },
  'crc8-autosar-h2f': { width: 8, poly: 0x2fn, init: 0xffn, refin: false, xorout: 0xffn, check: 0xdfn },
  'crc16-ccitt-false': { width: 16, poly: 0x1021n, init: 0xffffn, refin: false, xorout: 0n, check: 0x29b1n },
};

export function bitwiseCrc(bytes: readonly number[], { width, poly, init, xorout }: CatalogueCrc): bigint {
  const top = 1n << BigInt(width - 1);
  const mask = (1n << BigInt(width)) - 1n;
  let crc = init;
  for (const byte of bytes) {
    for (let bit = 7; bit >= 0; bit -= 1) {
      const feedback = ((crc & top) !== 0n) !== (((byte >> bit) & 1) === 1);
      crc = (crc << 1n) & mask;
      if (feedback) crc ^= poly;
    }
  }
  return crc ^ xorout;
}
