/**
 * A cyclic redundancy code in the parameters of Williams' "Rocksoft" model, as the public CRC catalogues list them: register width in
 * bits (8–32), polynomial without its top term, start value, whether input bytes and the result are taken least significant bit
 * first, and what the result is combined with by exclusive or. `check` is the result over the nine ASCII bytes "123456789".
 */
export interface CrcCode {
  readonly width: 8 | 16 | 32;
  readonly polynomial: number;
  readonly start: number;
  readonly reflected: boolean;
  readonly finalXor: number;
  readonly check: number;
}

/** CRC of the bytes, as an unsigned integer of the code's width. Table-driven, one look-up a byte. */
export function crcOf(bytes: Iterable<number>, code: CrcCode): number {
  const table = tableOf(code);
  const { width } = code;
  if (code.reflected) {
    let register = reflect(code.start, width);
    for (const byte of bytes) register = (register >>> 8) ^ table[(register ^ byte) & 0xff]!;
    return unsigned(register ^ code.finalXor, width);
  }
  let register = code.start;
  const top = width - 8;
  for (const byte of bytes) register = unsigned((register << 8) ^ table[((register >>> top) ^ byte) & 0xff]!, width);
  return unsigned(register ^ code.finalXor, width);
}

const tables = new WeakMap<CrcCode, Uint32Array>();

function tableOf(code: CrcCode): Uint32Array {
  let table = tables.get(code);
  if (table === undefined) {
    table = code.reflected ? reflectedTable(code) : plainTable(code);
    tables.set(code, table);
  }
  return table;
}

function plainTable({ width, polynomial }: CrcCode): Uint32Array {
  const top = 2 ** (width - 1);
  return Uint32Array.from({ length: 256 }, (_, byte) => {
    let register = unsigned(byte << (width - 8), width);
    for (let bit = 0; bit < 8; bit += 1) {
      register = unsigned(register >= top ? (register << 1) ^ polynomial : register << 1, width);
    }
    return register;
  });
}

function reflectedTable({ width, polynomial }: CrcCode): Uint32Array {
  const mirrored = reflect(polynomial, width);
  return Uint32Array.from({ length: 256 }, (_, byte) => {
    let register = byte;
    for (let bit = 0; bit < 8; bit += 1) register = (register & 1) === 1 ? (register >>> 1) ^ mirrored : register >>> 1;
    return register >>> 0;
  });
}

function reflect(value: number, width: number): number {
  let mirrored = 0;
  for (let bit = 0; bit < width; bit += 1) if ((value >>> bit) & 1) mirrored |= 1 << (width - 1 - bit);
  return mirrored >>> 0;
}

function unsigned(value: number, width: number): number {
  return width === 32 ? value >>> 0 : value & ((1 << width) - 1);
}
