import { CAN_LENGTHS, CAN_TERMINATION } from '../tables/can-physical.ts';
import { parallelOhm } from '../electrical/divider.ts';

/** Longest bus and stub at a bit rate, in metres; between rows the lengths fall with the bit rate. */
export interface CanLengthLimits {
  readonly busM: number;
  readonly stubM: number;
  readonly source: string;
  readonly stubSource: string;
}

/**
 * Limits by bit rate in bit/s. Below the slowest row its own limits hold; above the fastest the bus limit falls in
 * proportion. Between two rows the bus length is interpolated in the bit time and the stricter stub holds.
 */
export function canLengthLimits(bitRate: number): CanLengthLimits {
  const exact = CAN_LENGTHS.find((row) => row.bitRate === bitRate);
  if (exact) return exact;
  const fastest = CAN_LENGTHS[0]!;
  const slowest = CAN_LENGTHS.at(-1)!;
  if (bitRate > fastest.bitRate) {
    const share = fastest.bitRate / bitRate;
    return { ...fastest, busM: fastest.busM * share, stubM: fastest.stubM * share };
  }
  if (bitRate < slowest.bitRate) return slowest;
  const below = CAN_LENGTHS.findIndex((row) => row.bitRate < bitRate);
  const [fast, slow] = [CAN_LENGTHS[below - 1]!, CAN_LENGTHS[below]!];
  const share = (1 / bitRate - 1 / fast.bitRate) / (1 / slow.bitRate - 1 / fast.bitRate);
  return {
    busM: fast.busM + share * (slow.busM - fast.busM),
    stubM: Math.min(fast.stubM, slow.stubM),
    source: fast.source,
    stubSource: fast.stubSource,
  };
}

/** What a meter reads across the pair, and whether the bus is terminated at two ends. */
export interface Termination {
  readonly count: number;
  /** Resistance across the pair with power off, in ohms; Infinity when nothing terminates it. */
  readonly pairOhm: number;
  readonly verdict: 'two' | 'too-few' | 'too-many' | 'wrong-value';
}

/** Judges the terminators that remain on a bus, each in ohms. ISO 11898-2: 120 Ω at exactly two ends, 60 Ω across the pair. */
export function termination(terminatorsOhm: readonly number[]): Termination {
  const count = terminatorsOhm.length;
  const pairOhm = count === 0 ? Infinity : parallelOhm(...terminatorsOhm);
  if (count < CAN_TERMINATION.count) return { count, pairOhm, verdict: 'too-few' };
  if (count > CAN_TERMINATION.count) return { count, pairOhm, verdict: 'too-many' };
  const within = pairOhm >= CAN_TERMINATION.pairMinOhm && pairOhm <= CAN_TERMINATION.pairMaxOhm;
  return { count, pairOhm, verdict: within ? 'two' : 'wrong-value' };
}
