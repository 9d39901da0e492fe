/**
 * SAE J1939-71 signals and SAE J1939-21 frame ids.
 * Positions and scalings as transcribed in leandrogithubf/buslab-socket (SPN.php), 2kranki/libJ1939 and famez/J1939-Framework; decoded frames of a real
 * truck in nmfta-repo/pretty_j1939 (README and tests). J1939 numbers bytes and bits from 1, bit 1 the least significant.
 */
import { describe, expect, it } from 'vitest';
import {
  type BitField,
  compileMessage,
  extractRaw,
  type FrameSignal,
  j1939RangeOf,
  physicalRange,
  readJ1939Id,
  writeJ1939Id,
} from '../../src/can/index.ts';
import { type Affine, formatDecimal, toNumber, toRational } from '../../src/number/index.ts';
import { bytesOf, hasTimingReference, timingEntries } from './timing-reference.ts';

function spn(
  name: string,
  byte: number,
  bit: number,
  length: number,
  resolution: string,
  offset: string,
  unit: string,
): FrameSignal {
  const field: BitField = { start: (byte - 1) * 8 + bit - 1, length, order: 'little' };
  const scaling: Affine = { factor: toRational(resolution), offset: toRational(offset) };
  const notAvailable = [(1n << BigInt(length)) - 1n];
  return { name, field, number: 'unsigned', scaling, unit, notAvailable };
}

const SPN = {
  190: spn('SPN 190 Engine Speed', 4, 1, 16, '0.125', '0', 'rpm'),
  512: spn("SPN 512 Driver's Demand Engine - Percent Torque", 2, 1, 8, '1', '-125', '%'),
  513: spn('SPN 513 Actual Engine - Percent Torque', 3, 1, 8, '1', '-125', '%'),
  2432: spn('SPN 2432 Engine Demand - Percent Torque', 8, 1, 8, '1', '-125', '%'),
  245: spn('SPN 245 Total Vehicle Distance', 5, 1, 32, '0.125', '0', 'km'),
  110: spn('SPN 110 Engine Coolant Temperature', 1, 1, 8, '1', '-40', 'deg C'),
  84: spn('SPN 84 Wheel-Based Vehicle Speed', 2, 1, 16, '0.00390625', '0', 'km/h'),
  177: spn('SPN 177 Transmission Oil Temperature', 5, 1, 16, '0.03125', '-273', 'deg C'),
  527: spn('SPN 527 Cruise Control States', 7, 6, 3, '1', '0', ''),
} as const;

describe('SAE J1939-71, decoded frames of a real truck (nmfta-repo/pretty_j1939)', () => {
  it.each([
    [SPN[190], '207D87481400F087', 5192, '649'],
    [SPN[512], '207D87481400F087', 125, '0'],
    [SPN[513], '207D87481400F087', 135, '10'],
    [SPN[2432], '207D87481400F087', 135, '10'],
    [SPN[245], 'FFFFFFFFB05C6800', 6839472, '854934'],
  ])('$name', (signal, data, raw, value) => {
    const [decoded] = compileMessage([signal]).decode(bytesOf(data));
    expect(decoded).toMatchObject({ raw, available: true });
    expect(decoded!.value).toEqual(toRational(value));
  });

  it('a frame of EEC1 is encoded to the bytes it was decoded from', () => {
    const message = compileMessage([SPN[190], SPN[512], SPN[513], SPN[2432]]);
    const bytes = bytesOf('207D87481400F087');
    const values = new Map(
      message.decode(bytes).map(({ name, value }) => {
        if (typeof value === 'number') throw new Error('an integer signal decodes to a rational');
        return [name, { kind: 'physical' as const, value }];
      }),
    );
    // Bytes 1, 5, 6 and 7 belong to other parameters: they come from the base.
    const base = bytesOf('20000000' + '1400F0' + '00');
    expect(message.encode(values, base)).toMatchObject({ bytes, faults: [] });
  });
});

describe('SAE J1939-71, range of a signal from its scaling', () => {
  it.each([
    [SPN[190], 0xfaff, '0', '8031.875'],
    [SPN[110], 0xfa, '-40', '210'],
    [SPN[84], 0xfaff, '0', '250.99609375'],
    [SPN[177], 0xfaff, '-273', '1734.96875'],
  ])('$name: greatest valid raw value %i', (signal, most, low, high) => {
    expect(j1939RangeOf(BigInt(most), signal.field.length)).toBe('valid');
    expect(j1939RangeOf(BigInt(most) + 1n, signal.field.length)).not.toBe('valid');
    const range = physicalRange('unsigned', signal.field.length, signal.scaling);
    expect(formatDecimal(range.lo)).toBe(low);
    const bytes = new Uint8Array(8);
    const written = compileMessage([signal]).encode(
      new Map([[signal.name, { kind: 'physical', value: toRational(high) }]]),
      bytes,
    );
    expect(extractRaw(written.bytes, signal.field)).toBe(BigInt(most));
    expect(written.written[0]!.error.num).toBe(0n);
  });
});

describe('SAE J1939-21, frame ids (nmfta-repo/pretty_j1939; Linux kernel Documentation/networking/j1939.rst)', () => {
  it.each([
    [0x0cf00400, { priority: 3, pgn: 61444, source: 0, destination: null }],
    [0x18fef131, { priority: 6, pgn: 65265, source: 49, destination: null }],
    [0x18ef3305, { priority: 6, pgn: 61184, source: 5, destination: 51 }],
    [0x18eeff25, { priority: 6, pgn: 60928, source: 37, destination: 255 }],
  ])('%i', (frameId, parts) => {
    expect(readJ1939Id(frameId)).toEqual(parts);
    expect(writeJ1939Id(parts)).toBe(frameId);
  });

  it('refuses what is no such id', () => {
    expect(() => readJ1939Id(2 ** 29)).toThrow(/29 bits/);
    expect(() => writeJ1939Id({ priority: 8, pgn: 61444, source: 0, destination: null })).toThrow(/priority 8/);
    expect(() => writeJ1939Id({ priority: 3, pgn: 61444, source: 0, destination: 5 })).toThrow(/no destination/);
    expect(() => writeJ1939Id({ priority: 3, pgn: 61184 + 1, source: 0, destination: 5 })).toThrow(/low byte/);
  });
});

interface SpnEntry {
  readonly id: string;
  readonly spn: number;
  readonly start_byte: number;
  readonly start_bit: number;
  readonly length_bits: number;
  readonly resolution: number;
  readonly offset: number;
  readonly range: readonly [number, number];
  readonly type: string;
}

describe.skipIf(!hasTimingReference)('every row of the reference table', () => {
  const entries = timingEntries('6_j1939_j1979', 'j1939_spn') as unknown as readonly SpnEntry[];
  const signalOf = (entry: SpnEntry): FrameSignal =>
    spn(
      entry.id,
      entry.start_byte,
      entry.start_bit,
      entry.length_bits,
      String(entry.resolution),
      String(entry.offset),
      '',
    );

  it('the published range of each continuous parameter is the image of its valid raw values', () => {
    const rounded: string[] = [];
    let exact = 0;
    for (const entry of entries.filter(({ type }) => type === 'continuous')) {
      const signal = signalOf(entry);
      const bits = BigInt(entry.length_bits);
      // The greatest raw value of whole bytes that says a number: FA, FAFF, FAFFFFFF.
      const most = (0xfbn << (bits - 8n)) - 1n;
      expect(j1939RangeOf(most, entry.length_bits)).toBe('valid');
      expect(j1939RangeOf(most + 1n, entry.length_bits)).toBe('parameter-specific');
      const bytes = new Uint8Array(8);
      const encoded = compileMessage([{ ...signal, field: { ...signal.field, start: 0 } }]);
      const at = (raw: bigint): number => {
        const { bytes: out } = encoded.encode(new Map([[signal.name, { kind: 'raw', raw }]]), bytes);
        const [decoded] = encoded.decode(out);
        return typeof decoded!.value === 'number' ? decoded!.value : toNumber(decoded!.value);
      };
      expect(at(0n), entry.id).toBe(entry.range[0]);
      // The sources print some upper ends rounded, or one step of a larger unit further: within two steps or 1e-6 of the value.
      const high = at(most);
      if (high === entry.range[1]) exact += 1;
      else {
        rounded.push(entry.id);
        expect(Math.abs(high - entry.range[1]), entry.id).toBeLessThanOrEqual(
          Math.max(entry.resolution * 1.01, 1e-6 * Math.abs(high)),
        );
      }
    }
    expect(exact).toBeGreaterThan(15);
    expect(exact + rounded.length).toBe(entries.filter(({ type }) => type === 'continuous').length);
  });

  it('worked decodings', () => {
    const rows = timingEntries('6_j1939_j1979', 'j1939_decode');
    expect(rows.length).toBe(16);
    for (const row of rows) {
      const entry = entries.find(({ spn: number }) => number === row['spn'])!;
      const signal = signalOf(entry);
      const [decoded] = compileMessage([signal]).decode(bytesOf(String(row['data'])));
      expect(Number(decoded!.raw), row.id).toBe(row['raw']);
      const range = j1939RangeOf(BigInt(decoded!.raw), entry.length_bits);
      expect(range.replace('-', '_'), row.id).toBe(row['class']);
      if (typeof row['value'] === 'number') {
        expect(typeof decoded!.value === 'number' ? decoded!.value : toNumber(decoded!.value), row.id).toBe(
          row['value'],
        );
      }
    }
  });

  it('indicator ranges and frame ids', () => {
    const ranges = timingEntries('6_j1939_j1979', 'j1939_indicator');
    expect(ranges.length).toBe(26);
    for (const row of ranges) {
      const range = j1939RangeOf(BigInt(`0x${String(row['raw'])}`), Number(row['bits']));
      expect(range.replace('-', '_'), row.id).toBe(row['class']);
    }
    const ids = timingEntries('6_j1939_j1979', 'j1939_id');
    expect(ids.length).toBe(12);
    for (const row of ids) {
      const read = readJ1939Id(Number.parseInt(String(row['can_id']), 16));
      expect({ ...read, destination: read.destination ?? 255 }, row.id).toEqual({
        priority: row['priority'],
        pgn: row['pgn'],
        source: row['sa'],
        destination: row['da'],
      });
    }
  });
});
