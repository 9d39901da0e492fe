import type { PairingRule } from '../tables/pairing-rules.ts';
import type { Character } from './character.ts';
import type { Conditioning, ElectricalFit, Measure } from './fit-types.ts';

/** What a method finds out about a pair; `pairElectrical` adds what is common to all. */
export interface FitDraft {
  readonly direct: ElectricalFit['direct'];
  readonly measures: readonly Measure[];
  /** Empty and `direct` works: it fits. Empty and it does not work: nothing here mends it. */
  readonly conditioning: readonly Conditioning[];
  readonly because: string;
  /** Level at the receiver while the driver is on (conducting, or driving high), with the conditioning in place. */
  readonly onLevel: 'high' | 'low' | null;
}

/** What a method is given. */
export interface Pair {
  readonly driver: Character;
  readonly receiver: Character;
  readonly rule: PairingRule;
  /** Supply and return of a sensor come from the receiver too. */
  readonly sharedReference: boolean;
}

export type Method = (pair: Pair) => FitDraft;
