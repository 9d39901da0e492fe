import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { writeMap, writePlatform } from './canonical.ts';
import type { CrossloomMap } from './document/map.ts';
import type { Platform } from './document/platform.ts';

/** SHA-256 of text or bytes, as 64 hexadecimal digits. */
export function sha256Hex(content: string | Uint8Array): string {
  return bytesToHex(sha256(typeof content === 'string' ? utf8ToBytes(content) : content));
}

/** SHA-256 over the canonical text of a platform. */
export function platformDigest(platform: Platform): string {
  return sha256Hex(writePlatform(platform));
}

/** SHA-256 over the canonical text of a map. */
export function mapDigest(map: CrossloomMap): string {
  return sha256Hex(writeMap(map));
}

/**
 * What a sign-off stands for: the map without its sign-offs, and both platforms. Anything changed in any of the
 * three changes it.
 */
export function signOffDigest(map: CrossloomMap, host: Platform, donor: Platform): string {
  const { signOffs: _signOffs, ...signed } = map;
  return sha256Hex([writeMap(signed), writePlatform(host), writePlatform(donor)].join('\u0000'));
}
