import type { Circuit } from '../../model/index.ts';
import { dropLimitV } from '../conductor/drop.ts';
import type { SizeDemand } from '../conductor/minimum-size.ts';
import { dutyOf, fuseToBear, mechanicalMm2 } from './demand.ts';

/** What a conductor's size is asked for, beside what its circuit says. */
export interface SizeTerms {
  readonly currentA: number;
  /** Lengths of all conductors of its loop, itself included, in metres. */
  readonly loopLengthsM: readonly number[];
  readonly ambientC: number;
  readonly insulationC: number;
  readonly carrying: number;
  /** Sizes that the terminals at its ends accept; empty when none states one. */
  readonly ranges: readonly { readonly minMm2: number; readonly maxMm2: number }[];
  readonly supplyV: number;
}

/** Volts that a circuit may lose at a supply; null where its drop is not judged. */
export function limitOf(circuit: Circuit, supplyV: number): number | null {
  const duty = dutyOf(circuit);
  return duty === null ? null : dropLimitV(duty, supplyV);
}

/** What the size of a circuit's conductor must meet. */
export function sizeDemand(circuit: Circuit, terms: SizeTerms): SizeDemand {
  return {
    currentA: terms.currentA,
    fuseA: fuseToBear(circuit),
    // Every conductor of the loop is taken at this one's current: the others are no thinner where they carry more.
    loopM: terms.loopLengthsM.reduce((sum, lengthM) => sum + lengthM, 0),
    limitV: limitOf(circuit, terms.supplyV) ?? Infinity,
    around: { ambientC: terms.ambientC, insulationC: terms.insulationC, carrying: terms.carrying },
    temperatureC: terms.ambientC,
    mechanicalMm2: mechanicalMm2(circuit),
    terminalMm2: terms.ranges.length === 0 ? null : Math.max(...terms.ranges.map(({ minMm2 }) => minMm2)),
  };
}
