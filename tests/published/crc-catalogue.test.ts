/**
 * Check values over "123456789" from G. Cook's Catalogue of parametrised CRC algorithms (as transcribed in akhilles/crc-catalog), and the
 * test vectors of AUTOSAR CP SWS CRC Library R22-11, tables 7.2 – 7.12 (read second-hand in richhaar/autosar-crc).
 */
import { describe, expect, it } from 'vitest';
import { CHECKSUM_ALGORITHMS, type ChecksumAlgorithm, checksumOf, crcCodeOf } from '../../src/can/index.ts';
import { bytesOf, hasTimingReference, timingEntries } from './timing-reference.ts';

const CHECK: Readonly<Record<string, [name: string, check: number]>> = {
  'crc8-sae-j1850': ['CRC-8/SAE-J1850', 0x4b],
  'crc8-gsm-a': ['CRC-8/GSM-A', 0x37],
  'crc8-autosar-h2f': ['CRC-8/AUTOSAR', 0xdf],
  'crc16-ccitt-false': ['CRC-16/IBM-3740', 0x29b1],
  'crc16-arc': ['CRC-16/ARC', 0xbb3d],
  'crc32-iso-hdlc': ['CRC-32/ISO-HDLC', 0xcbf43926],
  'crc32-autosar-p4': ['CRC-32/AUTOSAR', 0x1697d06a],
};

describe('CRC catalogue, check values', () => {
  const codes = CHECKSUM_ALGORITHMS.filter((algorithm) => crcCodeOf(algorithm) !== null);
  it.each(codes)('%s', (algorithm) => {
    const [, check] = CHECK[algorithm]!;
    expect(checksumOf(Buffer.from('123456789'), algorithm)).toBe(check);
    expect(crcCodeOf(algorithm)!.check).toBe(check);
  });
});

describe('AUTOSAR CP SWS CRC Library R22-11', () => {
  it.each<[string, ChecksumAlgorithm, string, number]>([
    ['table 7.2', 'crc8-sae-j1850', '00000000', 0x59],
    ['table 7.2', 'crc8-sae-j1850', '332255AABBCCDDEEFF', 0xcb],
    ['table 7.4', 'crc8-autosar-h2f', '00000000', 0x12],
    ['table 7.4', 'crc8-autosar-h2f', '332255AABBCCDDEEFF', 0x11],
    ['table 7.6', 'crc16-ccitt-false', '00000000', 0x84c0],
    ['table 7.6', 'crc16-ccitt-false', '332255AABBCCDDEEFF', 0xf53f],
    ['table 7.12', 'crc32-autosar-p4', '00000000', 0x6fb32240],
    ['table 7.12', 'crc32-autosar-p4', '332255AABBCCDDEEFF', 0xa65a343d],
  ])('%s: %s over %s', (_, algorithm, data, crc) => {
    expect(checksumOf(bytesOf(data), algorithm)).toBe(crc);
  });
});

describe.skipIf(!hasTimingReference)('every vector of the reference table', () => {
  it('all codes we have, all vectors', () => {
    const byName = new Map(Object.entries(CHECK).map(([algorithm, [name]]) => [name, algorithm as ChecksumAlgorithm]));
    const ours = (name: string): ChecksumAlgorithm | undefined => byName.get(name.replace(/ \(.*/, ''));
    let compared = 0;
    const skipped: string[] = [];
    for (const entry of timingEntries('5_crc_e2e', 'crc')) {
      const name = String(entry['name']);
      const algorithm = ours(name) ?? (name === 'CRC-32 (Ethernet, ISO-HDLC)' ? 'crc32-iso-hdlc' : undefined);
      if (algorithm === undefined) {
        skipped.push(name);
        continue;
      }
      expect(checksumOf(Buffer.from('123456789'), algorithm)).toBe(Number(entry['check']));
      for (const { data, crc } of entry['vectors'] as { data: string; crc: string }[]) {
        expect(checksumOf(bytesOf(data), algorithm), `${name} over ${data}`).toBe(Number.parseInt(crc, 16));
        compared += 1;
      }
    }
    expect(compared).toBe(42);
    // The frame's own codes are in can-frame-length; no message protection here is 64 bits wide.
    expect(skipped).toEqual(['CRC-64/XZ (ECMA, reflected)', 'CRC-15/CAN', 'CRC-17/CAN-FD', 'CRC-21/CAN-FD']);
  });
});
