/**
 * Expectation: the platform's own decoders (WHATWG Encoding Standard), which the library itself does not use. Node 20 decodes
 * `windows-1252` itself as Latin-1 (a fault of its fast path), so the neighbours of that code page stand for it: 1254 is the same in
 * 0x80–0x9F but for 0x8E and 0x9E, which 1250 has in the same places; from 0xA0 on 1252 is Latin-1.
 */
import { describe, expect, it } from 'vitest';
import { decodeDbcBytes, encodeDbcText, readDbc } from '../../../../src/can/formats/dbc/index.ts';

/** The text of bytes in code page 1252, by its neighbours. */
function expectedText(bytes: Uint8Array): string {
  const one = (label: string, byte: number): string => new TextDecoder(label).decode(Uint8Array.of(byte));
  return [...bytes]
    .map((byte) => {
      if (byte < 0x80 || byte >= 0xa0) return String.fromCharCode(byte);
      return one(byte === 0x8e || byte === 0x9e ? 'windows-1250' : 'windows-1254', byte);
    })
    .join('');
}

const ALL_BYTES = Uint8Array.from({ length: 256 }, (_, byte) => byte);

describe('code page 1252', () => {
  it('decodes every byte as the standard does, and writes each back', () => {
    const { text, encoding } = decodeDbcBytes(ALL_BYTES);
    expect(encoding).toBe('windows-1252');
    expect(text).toBe(expectedText(ALL_BYTES));
    expect(encodeDbcText(text, encoding)).toEqual({ bytes: ALL_BYTES, lost: [] });
  });

  it('names what it cannot spell', () => {
    const { bytes, lost } = encodeDbcText('Ω 5 € 😀 Ω', 'windows-1252');
    expect(expectedText(bytes)).toBe('? 5 € ? ?');
    expect(lost).toEqual(['Ω', '😀']);
  });
});

describe('UTF-8', () => {
  const text = 'a µ € 😀 \u{10ffff} \u07ff\u0800\uffff';

  it.each(['utf-8', 'utf-8-bom', 'utf-16le', 'utf-16be'] as const)('%s: there and back', (encoding) => {
    const { bytes, lost } = encodeDbcText(text, encoding);
    expect(lost).toEqual([]);
    expect(new TextDecoder(encoding === 'utf-8-bom' ? 'utf-8' : encoding).decode(bytes)).toBe(text);
    expect(decodeDbcBytes(bytes)).toEqual({ text, encoding, broken: false });
  });

  it('is told from code page 1252 by its validity', () => {
    expect(decodeDbcBytes(new TextEncoder().encode('°C')).encoding).toBe('utf-8');
    expect(decodeDbcBytes(Uint8Array.of(0xb0, 0x43)).encoding).toBe('windows-1252');
    expect(decodeDbcBytes(Uint8Array.of(0x43)).encoding).toBe('ascii');
    // Overlong, surrogate, beyond U+10FFFF, cut off: none is UTF-8 (Unicode Standard, table 3-7).
    for (const bytes of [
      [0xc0, 0x80],
      [0xe0, 0x9f, 0x80],
      [0xed, 0xa0, 0x80],
      [0xf4, 0x90, 0x80, 0x80],
      [0xe2, 0x82],
    ]) {
      expect(decodeDbcBytes(Uint8Array.from(bytes)).encoding).toBe('windows-1252');
    }
  });

  it('reads every character that the standard decoder reads, over the ends of chunks', () => {
    const long = Array.from({ length: 20_000 }, (_, i) =>
      String.fromCodePoint(i % 7 === 0 ? 0x1f600 + (i % 60) : 0x20 + (i % 3000)),
    ).join('');
    const bytes = new TextEncoder().encode(long);
    expect(decodeDbcBytes(bytes).text).toBe(long);
    expect(encodeDbcText(long, 'utf-8').bytes).toEqual(bytes);
  });

  it('says so when a marked file is not what its mark says', () => {
    expect(decodeDbcBytes(Uint8Array.of(0xef, 0xbb, 0xbf, 0x41, 0xff, 0x42))).toEqual({
      text: 'A\ufffdB',
      encoding: 'utf-8-bom',
      broken: true,
    });
    expect(decodeDbcBytes(Uint8Array.of(0xff, 0xfe, 0x41)).broken).toBe(true);
  });
});

describe('a file in each encoding', () => {
  it.each(['windows-1252', 'utf-8', 'utf-8-bom', 'utf-16le', 'utf-16be'] as const)('%s', (encoding) => {
    const text = 'BU_: A\r\nBO_ 1 M: 8 A\r\n SG_ T : 0|8@1+ (1,0) [0|0] "°C" A\r\n';
    const result = readDbc(encodeDbcText(text, encoding).bytes);
    expect(result.encoding).toBe(encoding);
    expect(result.lineEnd).toBe('\r\n');
    expect(result.faults).toEqual([]);
    expect(result.database.messages[0]?.signals[0]?.unit).toBe('°C');
  });

  it('can be forced', () => {
    const bytes = encodeDbcText('BU_: A\nCM_ BU_ A "°";\n', 'utf-8').bytes;
    expect(readDbc(bytes, { encoding: 'windows-1252' }).database.nodes[0]?.comment).toBe('Â°');
  });
});
