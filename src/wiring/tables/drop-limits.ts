import type { RowProvenance } from './sourced.ts';

export type DropDuty = 'critical-feed' | 'load' | 'ground' | 'ratiometric' | 'signal' | 'starter-coil';

/** How much voltage a circuit may lose, feed and return together: a share of the supply, volts, or the stricter of both. */
export interface DropLimitRow {
  readonly duty: DropDuty;
  readonly percent: number | null;
  readonly volt: number | null;
  readonly applies: string;
  readonly source: string;
  readonly provenance: RowProvenance;
}

export const DROP_LIMITS: Readonly<Record<DropDuty, DropLimitRow>> = {
  'critical-feed': {
    duty: 'critical-feed',
    percent: 3,
    volt: null,
    applies: 'feeds of electronics, loads of an interlock, motion or required-lamp function',
    source: 'ABYC E-11 wording quoted in a marine wiring guide',
    provenance: 'read',
  },
  load: {
    duty: 'load',
    percent: 10,
    volt: null,
    applies: 'loads of comfort functions',
    source: 'ABYC E-11 wording quoted in a marine wiring guide',
    provenance: 'read',
  },
  ground: {
    duty: 'ground',
    percent: null,
    volt: 0.1,
    applies: 'module grounds',
    source: 'scan-tool manual: 0.1 V or less between ground and battery negative',
    provenance: 'read',
  },
  ratiometric: {
    duty: 'ratiometric',
    percent: null,
    volt: 0.025,
    applies: 'supply and return of a 5 V ratiometric sensor together: half a percent of 5 V',
    source: 'sensor practice',
    provenance: 'common practice',
  },
  signal: {
    duty: 'signal',
    percent: null,
    volt: 0.2,
    applies: 'inputs with a threshold',
    source: 'a fifth of a volt is small against thresholds volts apart',
    provenance: 'common practice',
  },
  'starter-coil': {
    duty: 'starter-coil',
    percent: null,
    volt: 0.5,
    applies: 'coils that must pull in while cranking',
    source: 'workshop limit for the starter circuit',
    provenance: 'common practice',
  },
};

/** Voltage that percentages are of: the nominal of the system. */
export const NOMINAL_SUPPLY_V = 12;
