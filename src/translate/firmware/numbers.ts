import type { SlotType } from './slots.ts';

/** An integer constant of a type. */
export function integer(type: Exclude<SlotType, 'double'>, n: bigint): string {
  switch (type) {
    case 'int32':
      return n < 0n ? `(-INT32_C(${-n}))` : `INT32_C(${n})`;
    case 'int64':
      return n < 0n ? `(-INT64_C(${-n}))` : `INT64_C(${n})`;
    case 'wide': {
      const bits = BigInt.asUintN(128, n);
      return `xlc_wide_of(${unsigned64(bits >> 64n)}, ${unsigned64(BigInt.asUintN(64, bits))})`;
    }
  }
}

/** A constant of 64 bits without a sign; smaller and negative numbers as their two's complement. */
export function unsigned64(n: bigint): string {
  const bits = BigInt.asUintN(64, n);
  if (bits < 10n) return `${bits}u`;
  return `UINT64_C(${bits < 2n ** 32n ? String(bits) : `0x${bits.toString(16).toUpperCase()}`})`;
}

/** A double constant that reads back as the same double. */
export function double(x: number): string {
  const text = Object.is(x, -0) ? '-0.0' : String(x);
  const full = /[.e]/.test(text) ? text : `${text}.0`;
  return x < 0 || Object.is(x, -0) ? `(${full})` : full;
}

/** The bits of a float, as they are written. */
export function floatBits(x: number, number: 'float32' | 'float64'): bigint {
  const view = new DataView(new ArrayBuffer(8));
  if (number === 'float32') {
    view.setFloat32(0, x);
    return BigInt(view.getUint32(0));
  }
  view.setFloat64(0, x);
  return view.getBigUint64(0);
}

export const C_TYPE: Readonly<Record<SlotType, string>> = {
  int32: 'int32_t',
  int64: 'int64_t',
  wide: 'xlc_wide',
  double: 'double',
};
