import type { FrameBits } from './length.ts';

/** Bit rates of a bus in bit/s; `dataBitRate` is that of the CAN FD data phase. */
export interface BitRates {
  readonly bitRate: number;
  readonly dataBitRate?: number;
}

/**
 * How long the frame keeps the bus, in whole nanoseconds, rounded up (a bound must not shrink).
 * Without a `dataBitRate` the data phase runs at the nominal rate. The bits in which the rate changes (BRS, CRC delimiter) count
 * at the nominal rate: an upper bound.
 * @throws RangeError when a bit rate is not positive.
 */
export function frameTimeNs(bits: FrameBits, rates: BitRates): number {
  const dataBitRate = rates.dataBitRate ?? rates.bitRate;
  return partNs(bits.nominalBits, rates.bitRate) + partNs(bits.dataBits, dataBitRate);
}

/** One bit at the nominal rate, in whole nanoseconds, rounded up. */
export function bitTimeNs(rates: BitRates): number {
  return partNs(1, rates.bitRate);
}

function partNs(bits: number, bitRate: number): number {
  if (!(bitRate > 0)) throw new RangeError(`a bit rate of ${bitRate} bit/s is not positive`);
  return Math.ceil((bits * 1e9) / bitRate);
}
