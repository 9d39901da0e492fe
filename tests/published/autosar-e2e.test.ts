/**
 * End-to-end protection examples of AUTOSAR FO PRS E2E Protocol (profile 1: chapter 6.3.5 of R20-11; profile 2: table 6.28; profile 5: tables
 * 6.47 and 6.48), read second-hand in torsko/autosar-e2e. Each is expressed as a protection spec and a counter: coverage, data id and its place.
 */
import { describe, expect, it } from 'vitest';
import {
  type BitField,
  computeChecksum,
  extractRaw,
  type ProtectionSpec,
  verifyChecksum,
} from '../../src/can/index.ts';
import { bytesOf, hasTimingReference, type TimingEntry, timingEntries } from './timing-reference.ts';

const byte = (at: number): BitField => ({ start: at * 8, length: 8, order: 'little' });

/** Profile 1: CRC-8 from 0 over the data id, then all bytes but the CRC. */
const P01: Readonly<Record<string, ProtectionSpec>> = {
  BOTH: { algorithm: 'crc8-gsm-a', dataId: 0x123, dataIdAt: 'before', dataIdBytes: 'low-high' },
  ALT: { algorithm: 'crc8-gsm-a', dataId: 0x123, dataIdAt: 'before', dataIdBytes: 'alternating' },
  LOW: { algorithm: 'crc8-gsm-a', dataId: 0x123, dataIdAt: 'before', dataIdBytes: 'low' },
  // The high byte counts as 0; its low nibble is sent in the frame.
  NIBBLE: { algorithm: 'crc8-gsm-a', dataId: 0x023, dataIdAt: 'before', dataIdBytes: 'low-high' },
};
const IDS_1_TO_16 = Array.from({ length: 16 }, (_, i) => i + 1);

describe('AUTOSAR E2E, examples of the specification', () => {
  it.each<[string, ProtectionSpec, BitField, number, string]>([
    ['profile 1, both bytes, counter 0', P01['BOTH']!, byte(0), 0, 'cc00000000000000'],
    ['profile 1, both bytes, counter 1', P01['BOTH']!, byte(0), 1, '9101000000000000'],
    ['profile 1, alternating, counter 0', P01['ALT']!, byte(0), 0, 'ce00000000000000'],
    ['profile 1, alternating, counter 1', P01['ALT']!, byte(0), 1, '0201000000000000'],
    ['profile 1, low byte, counter 0', P01['LOW']!, byte(0), 0, 'ce00000000000000'],
    ['profile 1, low byte, counter 1', P01['LOW']!, byte(0), 1, '9301000000000000'],
    ['profile 1, nibble, counter 0', P01['NIBBLE']!, byte(0), 0, '2a10000000000000'],
    ['profile 1, nibble, counter 1', P01['NIBBLE']!, byte(0), 1, '7711000000000000'],
    [
      'profile 2, ids 1 … 16, counter 1 (table 6.28)',
      { algorithm: 'crc8-autosar-h2f', dataIdList: IDS_1_TO_16 },
      byte(0),
      1,
      '1b01000000000000',
    ],
    [
      'profile 5, counter 0 (table 6.47)',
      { algorithm: 'crc16-ccitt-false', dataId: 0x1234 },
      { start: 0, length: 16, order: 'little' },
      0,
      '1cca000000000000',
    ],
    [
      'profile 5 at byte 8, counter 0 (table 6.48)',
      { algorithm: 'crc16-ccitt-false', dataId: 0x1234 },
      { start: 64, length: 16, order: 'little' },
      0,
      '00000000000000002891000000000000',
    ],
  ])('%s', (_, spec, field, counter, frame) => {
    const bytes = bytesOf(frame);
    expect(computeChecksum(bytes, spec, field, counter)).toBe(extractRaw(bytes, field));
    expect(verifyChecksum(bytes, spec, field, counter)).toBe(true);
    bytes[bytes.length - 1] = bytes[bytes.length - 1]! ^ 1;
    expect(verifyChecksum(bytes, spec, field, counter)).toBe(false);
  });
});

/** The spec and field of an example, or null for a profile whose CRC has 64 bits. */
function specOf(entry: TimingEntry): [ProtectionSpec, BitField] | null {
  const offset = Number(entry['offset'] ?? 0);
  const list = entry['data_id_list'] as number[] | undefined;
  const mode = String(entry['mode']);
  switch (entry['profile']) {
    case 'P01':
      return [P01[mode]!, byte(0)];
    case 'P11':
      return [P01[mode]!, byte(offset)];
    case 'P02':
      return [{ algorithm: 'crc8-autosar-h2f', dataIdList: list! }, byte(0)];
    case 'P22':
      return [{ algorithm: 'crc8-autosar-h2f', dataIdList: list! }, byte(offset)];
    case 'P04':
      // Length, counter and data id are sent: the CRC covers everything but itself. Big-endian at byte 8 of the header.
      return [{ algorithm: 'crc32-autosar-p4' }, { start: (offset + 8) * 8 + 7, length: 32, order: 'big' }];
    case 'P05':
      return [
        { algorithm: 'crc16-ccitt-false', dataId: 0x1234 },
        { start: offset * 8, length: 16, order: 'little' },
      ];
    case 'P06':
      return [
        { algorithm: 'crc16-ccitt-false', dataId: 0x1234, dataIdBytes: 'high-low' },
        { start: offset * 8 + 7, length: 16, order: 'big' },
      ];
    default:
      return null;
  }
}

describe.skipIf(!hasTimingReference)('every example of the reference table', () => {
  it('profiles 1, 2, 4, 5, 6, 11 and 22', () => {
    const skipped: string[] = [];
    let verified = 0;
    for (const entry of timingEntries('5_crc_e2e', 'e2e_example')) {
      const prepared = specOf(entry);
      if (prepared === null) {
        skipped.push(entry.id);
        continue;
      }
      const [spec, field] = prepared;
      const bytes = bytesOf(String(entry['protected']));
      // With an offset, the bytes before the header are covered too, ahead of it: they are in wire order.
      expect(verifyChecksum(bytes, spec, field, Number(entry['counter'])), entry.id).toBe(true);
      verified += 1;
    }
    expect(verified).toBe(31);
    expect(skipped).toEqual(['P07 short ctr0', 'P07 short ctr1', 'P07 long ctr0', 'P07 long ctr1']);
  });

  it('profile 22: the CRC for every counter value', () => {
    const [series] = timingEntries('5_crc_e2e', 'e2e_counter_series');
    const crcs = series!['crc_by_counter'] as string[];
    expect(crcs.length).toBe(16);
    crcs.forEach((crc, counter) => {
      const bytes = new Uint8Array(8);
      bytes[1] = counter;
      const spec: ProtectionSpec = { algorithm: 'crc8-autosar-h2f', dataIdList: IDS_1_TO_16 };
      expect(computeChecksum(bytes, spec, byte(0), counter)).toBe(BigInt(crc));
    });
  });
});
