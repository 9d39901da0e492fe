/** Codec of the DBC library against a bit-by-bit reference written here, for every length, both orders, signed and not. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  createMessage,
  createSignal,
  dbcNumber,
  decodeMessage,
  encodeMessage,
  nearestRaw,
  physicalOf,
  rawLimits,
} from '../../src/can/formats/dbc/index.ts';
import type { DbcSignal } from '../../src/can/formats/dbc/index.ts';

const PAYLOAD_BYTES = 64;

/** The payload as a text of bits, most significant bit of byte 0 first. */
function bitText(bytes: Uint8Array): string {
  return [...bytes].map((byte) => byte.toString(2).padStart(8, '0')).join('');
}

/** Raw value by the definition: the bits picked one by one by their DBC number, most significant first, read as binary. */
function referenceRaw(bytes: Uint8Array, signal: DbcSignal): bigint {
  const bits = bitText(bytes);
  const at = (number: number): string => bits[Math.floor(number / 8) * 8 + (7 - (number % 8))] as string;
  let text = '';
  let number = signal.startBit;
  if (signal.order === 'little') {
    for (let i = 0; i < signal.lengthBits; i++) text = at(number + i) + text;
  } else {
    for (let i = 0; i < signal.lengthBits; i++) {
      text += at(number);
      number = number % 8 === 0 ? number + 15 : number - 1; // down the byte, then to bit 7 of the next
    }
  }
  const unsigned = BigInt(`0b${text}`);
  return signal.signed && text[0] === '1' ? unsigned - 2n ** BigInt(signal.lengthBits) : unsigned;
}

/** An integer signal of any length that lies within 64 bytes. */
const integerSignal = fc
  .record({
    lengthBits: fc.integer({ min: 1, max: 64 }),
    place: fc.double({ min: 0, max: 1, noNaN: true }),
    order: fc.constantFrom('little' as const, 'big' as const),
    signed: fc.boolean(),
  })
  .map(({ lengthBits, place, order, signed }) => {
    const first = Math.floor(place * (8 * PAYLOAD_BYTES - lengthBits));
    const startBit = order === 'little' ? first : first - (first % 8) + 7 - (first % 8);
    return createSignal('S', { startBit, lengthBits }, { order, signed });
  });

const payload = fc.uint8Array({ minLength: PAYLOAD_BYTES, maxLength: PAYLOAD_BYTES });

const decimal = fc
  .tuple(fc.bigInt({ min: -(10n ** 20n), max: 10n ** 20n }), fc.integer({ min: -20, max: 5 }))
  .map(([mantissa, exponent]) => `${mantissa}e${exponent}`);

function messageOf(signal: DbcSignal): ReturnType<typeof createMessage> {
  return createMessage('M', { frameId: 1, extended: false, lengthBytes: PAYLOAD_BYTES }, { signals: [signal] });
}

/** The bits of `bytes` that do not belong to the signal, as a text with `.` in its place. */
function bitsBeside(bytes: Uint8Array, signal: DbcSignal): string {
  const bits = [...bitText(bytes)];
  const all = signal.order === 'little' ? Array.from({ length: signal.lengthBits }, (_, i) => signal.startBit + i) : [];
  for (let i = 0, number = signal.startBit; signal.order === 'big' && i < signal.lengthBits; i++) {
    all.push(number);
    number = number % 8 === 0 ? number + 15 : number - 1;
  }
  for (const number of all) bits[Math.floor(number / 8) * 8 + (7 - (number % 8))] = '.';
  return bits.join('');
}

describe('DBC codec', () => {
  it('decodes as the reference does', () => {
    fc.assert(
      fc.property(integerSignal, payload, (signal, bytes) => {
        expect(decodeMessage(messageOf(signal), bytes).signals[0]?.raw).toBe(referenceRaw(bytes, signal));
      }),
      { numRuns: 3000 },
    );
  });

  it('decodes every length in both orders, signed and not', () => {
    const bytes = Uint8Array.from({ length: PAYLOAD_BYTES }, (_, i) => (i * 151 + 89) % 256);
    let checked = 0;
    for (let lengthBits = 1; lengthBits <= 64; lengthBits++) {
      for (let startBit = 0; startBit < 64; startBit++) {
        for (const order of ['little', 'big'] as const) {
          for (const signed of [false, true]) {
            const signal = createSignal('S', { startBit, lengthBits }, { order, signed });
            if (decodeMessage(messageOf(signal), bytes).signals[0]?.raw !== referenceRaw(bytes, signal)) {
              throw new Error(`start ${startBit}, length ${lengthBits}, ${order}, signed ${signed}`);
            }
            checked++;
          }
        }
      }
    }
    expect(checked).toBe(64 * 64 * 4);
  });

  it('writes the raw value it is given, and no other bit', () => {
    fc.assert(
      fc.property(integerSignal, payload, fc.bigInt({ min: 0n, max: 2n ** 64n - 1n }), (signal, base, random) => {
        const { least, greatest } = rawLimits(signal);
        const raw = least + (random % (greatest - least + 1n));
        const { bytes, faults } = encodeMessage(messageOf(signal), { S: { raw } }, base);
        expect(faults).toEqual([]);
        expect(referenceRaw(bytes, signal)).toBe(raw);
        expect(bitsBeside(bytes, signal)).toBe(bitsBeside(base, signal));
      }),
      { numRuns: 3000 },
    );
  });

  it('encodes what it decodes, through the physical value, for any factor and offset', () => {
    fc.assert(
      fc.property(integerSignal, payload, decimal, decimal, (plain, bytes, factor, offset) => {
        fc.pre(!/^0e/.test(factor));
        const signal = { ...plain, factor: dbcNumber(factor), offset: dbcNumber(offset) };
        const message = messageOf(signal);
        const value = decodeMessage(message, bytes).signals[0]?.value;
        expect(encodeMessage(message, { S: value as number | string }, bytes)).toEqual({
          bytes,
          faults: [],
          missing: [],
        });
      }),
      { numRuns: 2000 },
    );
  });

  it('gives the physical value exactly', () => {
    const scaled = (text: string): [bigint, number] => {
      const [mantissa, exponent] = text.split('e') as [string, string];
      return [BigInt(mantissa), Number(exponent)];
    };
    fc.assert(
      fc.property(fc.bigInt({ min: -(2n ** 63n), max: 2n ** 64n - 1n }), decimal, decimal, (raw, factor, offset) => {
        const signal = createSignal(
          'S',
          { startBit: 0, lengthBits: 64 },
          { factor: dbcNumber(factor), offset: dbcNumber(offset) },
        );
        // Everything as whole numbers of 10^-60: no decimal here needs more places.
        const [factorMantissa, factorExponent] = scaled(factor);
        const [offsetMantissa, offsetExponent] = scaled(offset);
        const exact =
          raw * factorMantissa * 10n ** BigInt(60 + factorExponent) +
          offsetMantissa * 10n ** BigInt(60 + offsetExponent);
        expect(wholeOf(physicalOf(signal, raw))).toBe(exact);
      }),
      { numRuns: 3000 },
    );
  });

  it('takes the raw value nearest to a physical one', () => {
    fc.assert(
      fc.property(
        decimal,
        fc.bigInt({ min: -(2n ** 40n), max: 2n ** 40n }),
        fc.integer({ min: -49, max: 49 }),
        (factor, raw, hundredths) => {
          fc.pre(!/^-?0e/.test(factor));
          const signal = createSignal(
            'S',
            { startBit: 0, lengthBits: 64 },
            { signed: true, factor: dbcNumber(factor) },
          );
          const [mantissa, exponent] = factor.split('e') as [string, string];
          // raw + hundredths/100 steps, as a decimal text
          const value = `${BigInt(mantissa) * (raw * 100n + BigInt(hundredths))}e${Number(exponent) - 2}`;
          expect(nearestRaw(signal, value)).toBe(raw);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

/** A physical value as a whole number of 10^-60. */
function wholeOf(value: number | string): bigint {
  const [digits, exponentText = '0'] = String(value).split('e') as [string, string?];
  const [whole, fraction = ''] = digits.split('.') as [string, string?];
  return BigInt(whole + fraction) * 10n ** BigInt(60 - fraction.length + Number(exponentText));
}
