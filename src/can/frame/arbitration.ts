import type { IdFormat } from './dlc.ts';

/** What decides which of two frames wins the bus. */
export interface ArbitrationField {
  readonly frameId: number;
  readonly idFormat: IdFormat;
}

/**
 * Order of priority on the bus: negative when `a` wins against `b`. The first 11 bits decide; of two frames which share them the
 * 11-bit one wins, since its RTR and IDE bits are dominant where the other's SRR and IDE are recessive; then the other 18 bits.
 * 0 only for equal ids, which two senders must never use. Source: ISO 11898-1, bitwise arbitration.
 */
export function compareArbitration(a: ArbitrationField, b: ArbitrationField): number {
  return arbitrationRank(a) - arbitrationRank(b);
}

/** A number that orders frames as the bus does: less wins. An integer below 2^30. */
export function arbitrationRank({ frameId, idFormat }: ArbitrationField): number {
  if (idFormat === 'standard') return frameId * 2 ** 19;
  const base = Math.floor(frameId / 2 ** 18);
  return base * 2 ** 19 + 2 ** 18 + (frameId % 2 ** 18);
}
