/** Bits, raw and physical values. The source stands beside each expectation. */
import { describe, expect, it } from 'vitest';
import {
  bitNumber,
  bytesNeeded,
  createMessage,
  createSignal,
  dbcNumber,
  decodeMessage,
  encodeMessage,
  nearestRaw,
  physicalOf,
  readField,
  writeField,
} from '../../../../src/can/formats/dbc/index.ts';
import type { BitField, DbcMessage, DbcSignal, DbcValue } from '../../../../src/can/formats/dbc/index.ts';
import { bytesOf, hexOf } from './corpus.ts';

const FRAME = { frameId: 1, extended: false, lengthBytes: 8 };

function messageOf(...signals: DbcSignal[]): DbcMessage {
  return createMessage('M', FRAME, { signals });
}

function decode(message: DbcMessage, hex: string): Record<string, [unknown, unknown]> {
  const { signals } = decodeMessage(message, bytesOf(hex));
  return Object.fromEntries(signals.map(({ signal, raw, value }) => [signal.name, [raw, value]]));
}

function encode(message: DbcMessage, values: Record<string, DbcValue>): [string, string[]] {
  const { bytes, faults } = encodeMessage(message, values);
  return [hexOf(bytes), faults.map(({ code }) => code)];
}

describe('bit numbering', () => {
  it('runs in sawtooth for a big-endian field with start bit 7 and length 12 (shared/reference/dbc.md)', () => {
    const field: BitField = { startBit: 7, lengthBits: 12, order: 'big' };
    // byte 0: 7 6 5 4 3 2 1 0, byte 1: 15 14 13 12; the start bit is the most significant
    const mostSignificantFirst = Array.from({ length: 12 }, (_, i) => bitNumber(field, 11 - i));
    expect(mostSignificantFirst).toEqual([7, 6, 5, 4, 3, 2, 1, 0, 15, 14, 13, 12]);
    // raw = byte0 << 4 | byte1 >> 4
    expect(readField(bytesOf('abcd'), field)).toEqual({ high: 0, low: 0xabc });
    expect(bytesNeeded(field)).toBe(2);
  });

  it('writes what it reads and touches no other bit', () => {
    const bytes = bytesOf('ffffffffffffffff');
    writeField(bytes, { startBit: 10, lengthBits: 13, order: 'little' }, 0n);
    // Bits 10 … 22 cleared: byte 1 keeps bits 8, 9 (0x03), byte 2 keeps bit 23 (0x80). Counted by hand.
    expect(hexOf(bytes)).toBe('ff0380ffffffffff');
  });

  it.each([
    [{ startBit: 0, lengthBits: 64, order: 'little' }, 8],
    [{ startBit: 7, lengthBits: 64, order: 'big' }, 8],
    [{ startBit: 0, lengthBits: 1, order: 'big' }, 1],
    [{ startBit: 0, lengthBits: 2, order: 'big' }, 2],
    [{ startBit: 63, lengthBits: 2, order: 'little' }, 9],
    [{ startBit: 511, lengthBits: 1, order: 'little' }, 64],
  ] as const)('needs the right number of bytes: %o', (field, bytes) => {
    expect(bytesNeeded(field)).toBe(bytes);
  });
});

describe('scalings of SAE J1939-71', () => {
  // SAE J1939-71, EEC1 (PGN 61444), SPN 190 Engine Speed: bytes 4-5, 0.125 rpm/bit, offset 0, 0 to 8031.875 rpm.
  const engineSpeed = createSignal(
    'EngineSpeed',
    { startBit: 24, lengthBits: 16 },
    { factor: dbcNumber('0.125'), unit: 'rpm' },
  );
  // SPN 110 Engine Coolant Temperature (ET1, PGN 65262): byte 1, 1 °C/bit, offset -40 °C.
  const coolant = createSignal('Coolant', { startBit: 0, lengthBits: 8 }, { offset: dbcNumber(-40), unit: 'degC' });
  // SPN 84 Wheel-Based Vehicle Speed (CCVS1, PGN 65265): bytes 2-3, 1/256 km/h per bit.
  const speed = createSignal(
    'Speed',
    { startBit: 8, lengthBits: 16 },
    { factor: dbcNumber('0.00390625'), unit: 'km/h' },
  );

  it.each([
    [engineSpeed, 'ffffff6813ffffff', 4968n, 621], // 0x1368 · 0.125
    [engineSpeed, 'fffffffffaffffff', 0xfaffn, 8031.875], // the upper end of the range in the standard
    [coolant, '7dffffffffffffff', 125n, 85],
    [coolant, '00ffffffffffffff', 0n, -40],
    [speed, 'ff00fa00000000ff', 64000n, 250], // 0xFA00 / 256
  ])('%#', (signal, hex, raw, value) => {
    expect(decode(messageOf(signal), hex)).toEqual({ [signal.name]: [raw, value] });
    expect(nearestRaw(signal, value)).toBe(raw);
  });
});

describe('floats (IEEE 754)', () => {
  const single = createSignal('F', { startBit: 0, lengthBits: 32 }, { number: 'float32' });
  const double = createSignal('D', { startBit: 7, lengthBits: 64 }, { number: 'float64', order: 'big' });

  it.each([
    [single, '0000803f00000000', 1],
    [single, 'db0f494000000000', 3.1415927410125732], // pi as a single: 0x40490FDB
    [single, '000080ff00000000', -Infinity],
    [double, '400921fb54442d18', Math.PI],
    [double, '8000000000000000', -0],
    [double, '0000000000000001', 5e-324],
  ])('%# reads and writes', (signal, hex, value) => {
    expect(decode(messageOf(signal), hex)).toEqual({ [signal.name]: [value, value === 0 ? 0 : value] });
    expect(encode(messageOf(signal), { [signal.name]: { raw: value } })).toEqual([hex, []]);
  });

  it('writes "not a number" as all ones, or as the bits that are asked for', () => {
    expect(encode(messageOf(single), { F: NaN })[0]).toBe('ffffffff00000000');
    expect(encode(messageOf(single), { F: { bits: 0x7fc00001n } })[0]).toBe('0100c07f00000000');
  });
});

describe('64 bits', () => {
  const unsigned = createSignal('U', { startBit: 0, lengthBits: 64 });
  const signed = createSignal('S', { startBit: 7, lengthBits: 64 }, { signed: true, order: 'big' });
  const scaled = createSignal(
    'X',
    { startBit: 0, lengthBits: 64 },
    { factor: dbcNumber('0.001'), offset: dbcNumber('-0.5') },
  );

  it.each([
    [unsigned, 'ffffffffffffffff', 18446744073709551615n, '18446744073709551615'],
    [unsigned, '0100000000002000', 9007199254740993n, '9007199254740993'], // 2^53 + 1: no double holds it
    [signed, '8000000000000000', -9223372036854775808n, -9223372036854775808],
    [signed, '7fffffffffffffff', 9223372036854775807n, '9223372036854775807'],
    [signed, 'ffffffffffffffff', -1n, -1],
    [scaled, 'ffffffffffffffff', 18446744073709551615n, '18446744073709551.115'],
    [scaled, '0000000000000000', 0n, -0.5],
  ])('%# is exact both ways', (signal, hex, raw, value) => {
    const found = decode(messageOf(signal), hex)[signal.name];
    // -2^63 is a power of two, so its double is exact; its shortest decimal is not, and then the text stands for it.
    expect([found?.[0], typeof value === 'number' ? Number(found?.[1]) : found?.[1]]).toEqual([raw, value]);
    expect(encode(messageOf(signal), { [signal.name]: found?.[1] as DbcValue })).toEqual([hex, []]);
    expect(encode(messageOf(signal), { [signal.name]: { raw } })).toEqual([hex, []]);
  });
});

describe('exactness', () => {
  it.each([
    ['0.1', '0', 3n, 0.3], // in doubles: 0.30000000000000004
    ['0.1', '0.2', 1n, 0.3],
    ['0.01', '250', -2048n, 229.52],
    ['1E-05', '0', 7n, 0.00007],
    ['-0.1', '-273.15', 1n, -273.25],
    ['1e22', '1', 1n, '10000000000000000000001'],
    ['0.30000000000000000000001', '0', 1n, '0.30000000000000000000001'],
  ])('raw · %s + %s for raw %s', (factor, offset, raw, value) => {
    const signal = createSignal(
      'S',
      { startBit: 0, lengthBits: 16 },
      { signed: true, factor: dbcNumber(factor), offset: dbcNumber(offset) },
    );
    expect(physicalOf(signal, raw)).toBe(value);
    expect(nearestRaw(signal, value)).toBe(raw);
  });

  it('rounds to the nearest raw value, half away from zero', () => {
    const signal = createSignal('S', { startBit: 0, lengthBits: 16 }, { signed: true, factor: dbcNumber('0.1') });
    expect([0.04, 0.05, 0.14, 0.15, 0.25, -0.05, -0.15, -0.149].map((value) => nearestRaw(signal, value))).toEqual([
      0n,
      1n,
      1n,
      2n,
      3n,
      -1n,
      -2n,
      -1n,
    ]);
  });

  it('does not fall for hostile numbers', () => {
    const signal = (factor: string): DbcSignal =>
      createSignal('S', { startBit: 0, lengthBits: 8 }, { factor: dbcNumber(factor) });
    expect(physicalOf(signal('1e999999999'), 1n)).toBe(Infinity);
    expect(nearestRaw(signal('1e-999999999'), 1)).toBe('factor-zero');
    expect(nearestRaw(signal('0'), 1)).toBe('factor-zero');
    expect(nearestRaw(signal('1'), '1e999999999')).toBe('not-a-number');
    expect(nearestRaw(signal('1'), 'twelve')).toBe('not-a-number');
  });
});

describe('encoding', () => {
  const message = messageOf(
    createSignal('A', { startBit: 0, lengthBits: 4 }, { states: [{ raw: 2n, text: 'Two' }] }),
    createSignal('B', { startBit: 4, lengthBits: 4 }, { signed: true }),
  );

  it.each([
    [{ A: 1, B: -1 }, 'f1', []],
    [{ A: { state: 'Two' } }, '02', []],
    [{ A: { state: 'Three' } }, '00', ['state-unknown']],
    [{ A: 16, B: -9 }, '8f', ['value-clipped', 'value-clipped']],
    [{ A: 'x' }, '00', ['value-unreadable']],
    [{ A: NaN }, '00', ['value-unreadable']],
    [{ A: { raw: 1.5 } }, '00', ['value-unreadable']],
    [{ A: { bits: 31n } }, '0f', ['value-clipped']],
    [{ C: 1 }, '00', ['signal-unknown']],
    [{ A: ' 3 ' }, '03', []],
  ] as const)('%o', (values, firstByte, faults) => {
    expect(encode(message, values)).toEqual([`${firstByte}00000000000000`, faults]);
  });

  it('keeps the bits of signals that are given no value, and names them', () => {
    const { bytes, missing } = encodeMessage(message, new Map([['A', 5]]), bytesOf('f0ffffffffffffff'));
    expect(hexOf(bytes)).toBe('f5ffffffffffffff');
    expect(missing.map(({ name }) => name)).toEqual(['B']);
  });

  it('reports signals beyond a payload instead of failing', () => {
    const far = messageOf(
      createSignal('Far', { startBit: 60, lengthBits: 8 }),
      createSignal('Wide', { startBit: 0, lengthBits: 65 }),
    );
    expect(encode(far, { Far: 1, Wide: 1 })).toEqual([
      '0000000000000000',
      ['signal-outside-frame', 'signal-outside-frame'],
    ]);
    expect(decodeMessage(far, bytesOf('ffffffffffffffff')).unreadable.map(({ name }) => name)).toEqual(['Far', 'Wide']);
    expect(decodeMessage(far, bytesOf('')).unreadable.length).toBe(2);
  });

  it('carries 64-byte payloads', () => {
    const long = createMessage(
      'L',
      { frameId: 2, extended: true, lengthBytes: 64 },
      {
        signals: [
          createSignal('Last', { startBit: 504, lengthBits: 8 }),
          createSignal('Across', { startBit: 250, lengthBits: 40 }),
        ],
      },
    );
    const { bytes, faults } = encodeMessage(long, { Last: 0xab, Across: 2 ** 40 - 1 });
    expect(faults).toEqual([]);
    expect([bytes.length, bytes[63], hexOf(bytes.slice(31, 37))]).toEqual([64, 0xab, 'fcffffffff03']);
  });
});

describe('multiplexing', () => {
  const byte = (name: string, at: number, parts: Partial<DbcSignal> = {}): DbcSignal =>
    createSignal(name, { startBit: 8 * at, lengthBits: 8 }, parts);
  const range = (from: bigint, to: bigint): { from: bigint; to: bigint } => ({ from, to });
  const message = messageOf(
    byte('Page', 0, { isMultiplexer: true }),
    byte('Sub', 1, {
      isMultiplexer: true,
      multiplexValue: 1n,
      extendedMultiplexing: { selector: 'Page', ranges: [range(1n, 1n)] },
    }),
    byte('Deep', 2, {
      multiplexValue: 5n,
      extendedMultiplexing: { selector: 'Sub', ranges: [range(5n, 7n), range(200n, 255n)] },
    }),
    byte('Flat', 1, { multiplexValue: 2n, extendedMultiplexing: { selector: 'Page', ranges: [range(2n, 4n)] } }),
    byte('Always', 7),
  );
  const names = (hex: string): string[] =>
    decodeMessage(message, bytesOf(hex)).signals.map(({ signal }) => signal.name);

  it.each([
    ['0000000000000000', ['Page', 'Always']],
    ['0100000000000000', ['Page', 'Sub', 'Always']],
    ['0106000000000000', ['Page', 'Sub', 'Deep', 'Always']],
    ['01c8000000000000', ['Page', 'Sub', 'Deep', 'Always']],
    ['0108000000000000', ['Page', 'Sub', 'Always']],
    ['0306000000000000', ['Page', 'Flat', 'Always']],
    ['0506000000000000', ['Page', 'Always']],
  ])('%s holds %o', (hex, expected) => {
    expect(names(hex)).toEqual(expected);
  });

  it('writes what is selected and reports what is not', () => {
    expect(encode(message, { Page: 1, Sub: 6, Deep: 9, Always: 3 })).toEqual(['0106090000000003', []]);
    expect(encode(message, { Page: 3, Sub: 6, Deep: 9, Flat: 8 })).toEqual([
      '0308000000000000',
      ['signal-not-selected', 'signal-not-selected'],
    ]);
  });

  it('takes the selector as an unsigned pattern', () => {
    const signed = messageOf(
      byte('P', 0, { isMultiplexer: true, signed: true }),
      byte('Q', 1, { multiplexValue: 255n }),
    );
    expect(decodeMessage(signed, bytesOf('ff01000000000000')).signals.length).toBe(2);
    expect(encode(signed, { P: -1, Q: 7 })).toEqual(['ff07000000000000', []]);
  });

  it('does not expand a range of 2^64 values', () => {
    const wide = messageOf(
      createSignal('P', { startBit: 0, lengthBits: 56 }, { isMultiplexer: true }),
      byte('Q', 7, { extendedMultiplexing: { selector: 'P', ranges: [range(1n, 0xffffffffffffffffn)] } }),
    );
    expect(decodeMessage(wide, bytesOf('0000000000000005')).signals.length).toBe(1);
    expect(decodeMessage(wide, bytesOf('ffffffffffffff05')).signals.length).toBe(2);
  });

  it('survives a chain of 100,000 selectors and a cycle', () => {
    const chain = Array.from({ length: 100_000 }, (_, i) =>
      byte(
        `S${i}`,
        0,
        i === 0
          ? { isMultiplexer: true }
          : { isMultiplexer: true, extendedMultiplexing: { selector: `S${i - 1}`, ranges: [range(0n, 0n)] } },
      ),
    );
    expect(decodeMessage(messageOf(...chain), bytesOf('0000000000000000')).signals.length).toBe(100_000);
    expect(decodeMessage(messageOf(...chain), bytesOf('0100000000000000')).signals.length).toBe(1);
    const cycle = [1, 2, 0].map((next, i) =>
      byte(`S${i}`, i, { extendedMultiplexing: { selector: `S${next}`, ranges: [range(0n, 255n)] } }),
    );
    expect(decodeMessage(messageOf(...cycle), bytesOf('0000000000000000')).signals).toEqual([]);
  });
});
